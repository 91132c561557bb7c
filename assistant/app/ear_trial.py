"""Which ear hears this operator best, and at what cost: each tried in a process of its own."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context

from assistant.app.prompts import Take, Verdict, grammar_of, judge
from assistant.devices.ear import hear
from assistant.errors import DeviceMissing, WheelcallError
from assistant.phrases.book import load_book
from assistant.ports import RATE, Recogniser
from assistant.spoken import Heard


@dataclass(frozen=True)
class Trial:
    """What became of the phrases in one ear."""

    ear: str
    """What it is called in the settings: `moonshine`, or `vosk`."""
    model: str
    """For Vosk: the folder."""
    verdicts: tuple[Verdict, ...]
    heard: tuple[Heard, ...]
    real_time_factor: float
    """Seconds of work a second of sound."""
    megabytes: float | None
    """Memory of its process, at the most; None where the system doesn't tell."""
    trouble: str = ""
    """Why it could not be tried; '' where it was."""

    def count(self, verdict: Verdict) -> int:
        """How many phrases came to that."""
        return self.verdicts.count(verdict)

    @property
    def rank(self) -> tuple[float, ...]:
        """Smaller is better: no wrong ones, then many right ones, then little work."""
        wrong, right = self.count(Verdict.WRONG), self.count(Verdict.RIGHT)
        return (bool(self.trouble), wrong, -right, self.real_time_factor)


def try_ears(
    ears: Sequence[tuple[str, str, Callable[[], Recogniser]]], takes: Sequence[Take]
) -> list[Trial]:
    """Each of `ears` (name, model folder, and what makes it) on all of `takes`; the best first."""
    return sorted((_in_its_own_process(*ear, takes) for ear in ears), key=lambda one: one.rank)


def _in_its_own_process(
    name: str, model: str, make: Callable[[], Recogniser], takes: Sequence[Take]
) -> Trial:
    # A process each, so that its memory is its own, and a crash no more than that.
    with ProcessPoolExecutor(1, get_context("spawn")) as pool:
        try:
            return pool.submit(_try, name, model, make, takes).result()
        except BrokenProcessPool:
            return _failed(name, model, "it crashed")
        except WheelcallError as error:
            return _failed(name, model, str(error))


def _try(name: str, model: str, make: Callable[[], Recogniser], takes: Sequence[Take]) -> Trial:
    try:
        ear = make()
    except DeviceMissing as missing:  # can't be sent between processes
        return _failed(name, model, missing.why)
    book = load_book()
    grammar = grammar_of(book)
    ear.prepare([grammar])
    hear(ear, takes[0].sound, grammar)  # the first one pays for loading
    began = time.process_time()
    heard = tuple(hear(ear, take.sound, grammar) for take in takes)
    worked = time.process_time() - began
    ear.close()
    seconds = sum(take.sound.size for take in takes) / RATE
    verdicts = tuple(judge(book, take.phrase, one) for take, one in zip(takes, heard, strict=True))
    return Trial(name, model, verdicts, heard, worked / max(seconds, 0.01), most_memory())


def most_memory() -> float | None:
    """Megabytes that this process had at the most; None on Windows, which has no such call."""
    if sys.platform == "win32":
        return None
    import resource

    unit = 1024**2 if sys.platform == "darwin" else 1024  # bytes there, elsewhere thousands of them
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit


def _failed(name: str, model: str, why: str) -> Trial:
    return Trial(name, model, (), (), 0.0, 0.0, why)

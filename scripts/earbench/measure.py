"""Runs an ear over conditions and keeps the time."""

from __future__ import annotations

import re
import statistics
import time
from collections.abc import Iterable
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

import numpy as np

from assistant.devices.ear import EarEvent, HeardEvent, Hearing, hear
from assistant.devices.moonshine.confidence import Evidence
from assistant.devices.moonshine.recogniser import Look
from assistant.ports import RATE, Recogniser
from assistant.spoken import Heard, WordAutomaton
from earbench import corpora
from earbench.mixing import Surroundings
from earbench.score import Count

QUIET = Surroundings()


@dataclass(frozen=True)
class Hit:
    """One hearing, kept so that the ear's sureness can be worked out anew from it."""

    said: str
    """'' for what is no command."""
    speaker: str
    words: str
    confidence: float
    free: str
    look: dict[str, Any] | None = None
    """What the built-in ear's confidence was worked out from."""
    cut: bool = False
    """Whether it was doubted for having been cut short, whatever the evidence."""

    @classmethod
    def of(cls, ear: Recogniser, heard: Heard, said: str, speaker: str = "") -> Hit:
        """What `ear` has just heard."""
        look = getattr(ear, "look", None) if heard.words else None
        kept = asdict(look) if look else None
        hit = cls(said, speaker, heard.words, heard.confidence, heard.free, kept)
        return replace(hit, cut=heard.confidence < hit.weighed().confidence - 1e-6)

    def weighed(self) -> Hit:
        """The same, as sure as the ear would be of it today."""
        if self.look is None:
            return self
        (_, sure), *_ = Look(Evidence(**self.look["evidence"])).chances()
        return replace(self, confidence=min(sure, self.confidence) if self.cut else sure)

    @property
    def heard(self) -> Heard:
        """As the ear reported it."""
        return Heard(self.words, self.confidence, free=self.free, engine="bench")


def counted(hits: Iterable[Hit]) -> tuple[Count, list[str]]:
    """The count, and a line for each that wasn't taken right, or taken though no command."""
    count, lines = Count(), []
    for hit in hits:
        fate = count.add(hit.heard, hit.said)
        if fate != ("taken" if hit.said else "refused"):
            lines.append(
                f"{fate}: {hit.speaker}: {hit.said} | {hit.words} | {hit.confidence:.2f}"
                f" | {hit.free}"
            )
    return count, lines


@dataclass
class Condition:
    """One row of the table."""

    name: str
    utterances: list[corpora.Utterance]
    grammar: WordAutomaton
    where: Surroundings = QUIET
    inside: bool = True
    """Whether the grammar holds what is said; where not, nothing should be taken."""


@dataclass
class Timing:
    """Seconds of work and of sound, and from each decision to its text."""

    work: float = 0.0
    sound: float = 0.0
    decisions: list[float] = field(default_factory=list)

    @property
    def real_time_factor(self) -> float:
        """CPU seconds a second of sound: not disturbed by others on the machine."""
        return self.work / self.sound if self.sound else 0.0

    def decision(self) -> dict[str, float]:
        """Median and 95th percentile."""
        if not self.decisions:
            return {}
        ordered = sorted(self.decisions)
        return {
            "median": statistics.median(ordered),
            "p95": ordered[int(0.95 * (len(ordered) - 1))],
        }


def measure(ear: Recogniser, condition: Condition, timing: Timing) -> list[Hit]:
    """Hear every utterance once."""
    hits = []
    for number, each in enumerate(condition.utterances):
        sound = condition.where.around(each.sound(), corpora.DATA / "noise", number)
        began = time.process_time()
        heard = hear(ear, sound, condition.grammar)
        timing.work += time.process_time() - began
        timing.sound += sound.size / RATE
        hits.append(Hit.of(ear, heard, each.text if condition.inside else "", each.speaker))
    return hits


def live_decisions(ear: Recogniser, sound: np.ndarray, grammar: WordAutomaton) -> list[float]:
    """Seconds from each end-of-speech decision to its text, were the sound live.

    The sound is fed as fast as it is worked on, and the clock that a listener on a free core would
    have is kept beside it: work in the pause delays what follows only where it takes longer than
    the sound. Work is CPU time, so that others on the machine don't count.
    """
    hearing = Hearing(ear)
    hearing.listen_for(grammar)
    sound = np.concatenate([sound, np.zeros(RATE, np.float32)])
    position = free_at = 0.0
    found = []
    for start in range(0, sound.size, 320):
        chunk = sound[start : start + 320]
        position += chunk.size / RATE
        began = time.process_time()
        events: list[EarEvent] = list(hearing.feed(chunk))
        free_at = max(free_at, position) + time.process_time() - began
        found += [free_at - position for event in events if isinstance(event, HeardEvent)]
    return found


def resident_megabytes() -> float:
    """Memory of this process that is in use now."""
    status = Path("/proc/self/status").read_text()
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    return int(found[1]) / 1024 if found else 0.0

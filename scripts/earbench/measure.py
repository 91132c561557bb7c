"""Runs an ear over conditions and keeps the time."""

from __future__ import annotations

import re
import statistics
import time
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from assistant.devices.ear import EarEvent, HeardEvent, Hearing, hear
from assistant.ports import RATE, Recogniser
from assistant.spoken import WordAutomaton
from earbench import corpora
from earbench.mixing import SHOP, mixed, noise
from earbench.score import FLOOR, Count, right


@dataclass
class Condition:
    """One row of the table."""

    name: str
    utterances: list[corpora.Utterance]
    grammar: WordAutomaton
    snr: float | None
    """dB by active speech level, or None for quiet."""
    inside: bool = True
    """Whether the grammar holds what is said; where not, nothing should be accepted."""


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


def measure(ear: Recogniser, condition: Condition, timing: Timing) -> tuple[Count, list[str]]:
    """Hear every utterance once; the count, and what was misheard."""
    count, wrong = Count(), []
    for number, each in enumerate(condition.utterances):
        sound = each.sound()
        if condition.snr is not None:
            kind = noise(corpora.DATA / "noise", SHOP[number % len(SHOP)])
            sound = mixed(sound, kind, condition.snr, number)
        began = time.process_time()
        heard = hear(ear, sound, condition.grammar)
        timing.work += time.process_time() - began
        timing.sound += sound.size / RATE
        count.add(heard, each.text if condition.inside else "")
        is_right = condition.inside and right(heard.words, each.text)
        if not is_right and (condition.inside or heard.confidence >= FLOOR):
            wrong.append(
                f"{each.speaker}: {each.text} | {heard.words} | {heard.confidence:.2f}"
                f" | {heard.free}"
            )
        if number % 10 == 0:
            timing.decisions += live_decisions(ear, sound, condition.grammar)
    return count, wrong


def live_decisions(ear: Recogniser, sound: np.ndarray, grammar: WordAutomaton) -> list[float]:
    """Seconds from each end-of-speech decision to its text, were the sound live.

    The sound is fed as fast as it is worked on, and the clock that a listener would have is kept
    beside it: work in the pause delays what follows only where it takes longer than the sound.
    """
    hearing = Hearing(ear)
    hearing.listen_for(grammar)
    sound = np.concatenate([sound, np.zeros(RATE, np.float32)])
    position = free_at = 0.0
    found = []
    for start in range(0, sound.size, 320):
        chunk = sound[start : start + 320]
        position += chunk.size / RATE
        began = time.perf_counter()
        events: list[EarEvent] = list(hearing.feed(chunk))
        free_at = max(free_at, position) + time.perf_counter() - began
        found += [free_at - position for event in events if isinstance(event, HeardEvent)]
    return found


def listen_to_noise(ear: Recogniser, seconds: float = 20.0) -> dict[str, float]:
    """CPU share and false hearings while every shop noise plays, nobody speaking."""
    grammar = corpora.whole_book()
    work = heard = accepted = 0.0
    for name in SHOP:
        path = corpora.DATA / "noise"
        if not (path / f"{name}.flac").is_file():
            continue
        sound = noise(path, name)[: round(seconds * RATE)]
        hearing = Hearing(ear)
        hearing.listen_for(grammar)
        began = time.process_time()
        events = [event for start in range(0, sound.size, 320)
                  for event in hearing.feed(sound[start : start + 320])]  # fmt: skip
        work += time.process_time() - began
        said = [event.heard for event in events if isinstance(event, HeardEvent)]
        heard += len(said)
        accepted += sum(bool(each.words) and each.confidence >= FLOOR for each in said)
    return {
        "seconds": seconds * len(SHOP),
        "cpu_share": work / (seconds * len(SHOP)),
        "heard": heard,
        "accepted": accepted,
    }


def resident_megabytes() -> float:
    """Memory of this process that is in use now."""
    status = Path("/proc/self/status").read_text()
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    return int(found[1]) / 1024 if found else 0.0

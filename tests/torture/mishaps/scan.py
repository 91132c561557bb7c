"""The scan: every operation, steps and troubles, whole or a sample."""

from __future__ import annotations

import random
import re
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from assistant.jobs.operations import OPERATIONS
from tests.torture.mishaps.bench import Bench
from tests.torture.mishaps.plain import Plain, demo_jobs, operation_of, walk
from tests.torture.mishaps.trial import TROUBLES, Finding, Trial

EACH = 3
"""Trials of an operation in the sample."""
ALIKE = 3
"""Of steps that are shown alike so many are tried: the first, the last and those between."""


@dataclass
class Scanned:
    """What a scan came to."""

    jobs: int = 0
    trials: int = 0
    """Troubles at steps."""
    tried: int = 0
    """Ways on, each with another size told."""
    operations: set[str] = field(default_factory=set)
    """Of which something was tried."""
    findings: list[Finding] = field(default_factory=list)
    whole: bool = True
    """Whether there was time for all."""

    @property
    def by_kind(self) -> Counter[str]:
        """How many were flagged for what."""
        return Counter(finding.kind for finding in self.findings)

    @property
    def by_operation(self) -> Counter[str]:
        """How many were flagged of each operation that was tried."""
        found = Counter(finding.operation for finding in self.findings)
        return Counter({operation: found[operation] for operation in self.operations})

    def add(self, trial: Trial) -> None:
        """One trial more."""
        self.findings += trial.run()
        self.trials += 1
        self.operations.add(trial.plain.operation)
        self.tried += trial.tried


def sample(seed: int = 1, each: int = EACH) -> Scanned:
    """So many trials of every operation, at steps spread over one of its demo jobs."""
    scanned = Scanned()
    jobs = defaultdict(list)
    for name, path in demo_jobs().items():
        jobs[operation_of(path)].append((name, path))
    for operation in OPERATIONS:
        rng = random.Random(f"{seed} {operation}")
        plain = walk(*rng.choice(jobs[operation]))
        scanned.jobs += 1
        steps = len(plain.benches) - plain.first_touch
        for number in range(each):
            place = plain.first_touch + int((number + rng.random()) * steps / each)
            scanned.add(Trial(plain, place, rng.choice(TROUBLES)))
    return scanned


def together(
    jobs: Iterable[Plain],
    count: int,
    seconds: float,
    until: Callable[[], bool] = lambda: False,
    seed: int = 1,
) -> Scanned:
    """Every step of about `count` jobs with every trouble, in an order by chance; each has an equal
    share of the seconds, and what one doesn't need is the others'."""
    begun, scanned = time.monotonic(), Scanned()
    for number, plain in enumerate(jobs, start=1):
        end = begun + seconds * min(1.0, number / count)
        scanned.jobs += 1
        trials = [
            Trial(plain, at, trouble)
            for at in places(plain)
            for trouble in (TROUBLES if at >= plain.first_touch else TROUBLES[:1])
        ]
        random.Random(f"{seed} {plain.name}").shuffle(trials)
        for trial in trials:
            if until() or time.monotonic() > end:
                scanned.whole = False
                break
            scanned.add(trial)
        if until():
            scanned.whole = False
            break
    return scanned


def places(plain: Plain) -> list[int]:
    """The steps that are tried: all, but of many that are shown alike only some."""
    alike: dict[tuple[str, ...], list[int]] = defaultdict(list)
    for at, bench in enumerate(plain.benches):
        alike[_looks(bench)].append(at)
    chosen = set()
    for group in alike.values():
        last = len(group) - 1
        chosen |= {group[round(number * last / (ALIKE - 1))] for number in range(ALIKE)}
    return sorted(chosen)


def _looks(bench: Bench) -> tuple[str, ...]:
    """A page without its numbers."""
    page = bench.page
    words = re.sub(r"[\d.½¼¾/]+", "#", page.instruction)
    return (page.moment, page.phase, words, page.what, page.pass_place)

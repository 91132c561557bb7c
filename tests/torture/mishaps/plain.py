"""A job walked on its plain way: a bench at every step, and the line of every size."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from assistant.app.paths import configs_folder
from tests.factories import expected_words
from tests.torture.mishaps import meant
from tests.torture.mishaps.bench import Bench, Forked
from tests.torture.mishaps.lines import Line, find_line, told

MOST_TURNS = 600
FINISHING = "efore the finishing cut"


@dataclass
class Plain:
    """One job."""

    name: str
    """The demo job, with what was changed in it."""
    operation: str
    path: Path
    benches: list[Bench] = field(default_factory=list)
    """The job before each turn."""
    words: list[str] = field(default_factory=list)
    """What is said then."""
    lines: dict[str, Line] = field(default_factory=dict)
    first_touch: int = 0
    """The first turn by which something is touched: before it there is nothing to lose. 0 where
    nothing ever is, and something else may be lost."""

    def size(self, bench: Bench) -> str:
        """The words that tell the size which is asked for, as it is by the line or foreseen."""
        asked = meant.asked(bench.job)
        if asked is None:
            return "bang on"
        line = self.lines.get(asked.key)
        place = None if line is None else bench.in_the_metal(line.axis)
        if line is None or place is None:
            return told(asked.now, bench.job.state.unit)
        return told(line.size_at(place), bench.job.state.unit)


def operation_of(path: Path) -> str:
    """The operation that a job file names."""
    lines = path.read_text(encoding="utf-8").splitlines()
    return next(line for line in lines if line.startswith("operation")).split('"')[1]


def demo_jobs() -> dict[str, Path]:
    """Every demo job by its name."""
    return {path.stem: path for path in sorted((configs_folder() / "jobs").glob("*.toml"))}


def walk(name: str, path: Path) -> Plain:
    """The job to its end, when all goes as planned."""
    plain = Plain(name, operation_of(path), path)
    bench = Bench(Forked(path.stem, path))
    for _ in range(MOST_TURNS):
        if bench.done:
            plain.first_touch = _first_touch(plain)
            return plain
        asked = meant.asked(bench.job)
        if asked is not None and asked.limited and asked.key not in plain.lines:
            line = find_line(bench, asked, lambda _bench: "bang on")
            if line is not None:
                plain.lines[asked.key] = line
        words = expected_words(bench.job.state)
        if words in ("bang on", "ten over"):
            words = plain.size(bench) if FINISHING in bench.page.instruction else "bang on"
        plain.benches.append(bench.fork())
        plain.words.append(words)
        bench.say(words)
    raise AssertionError(f"{name} never ends: {bench.page.instruction}")


def _first_touch(plain: Plain) -> int:
    touched = (at for at, bench in enumerate(plain.benches) if bench.travel)
    return next(touched, 0)

"""How a size goes with the handwheel, found by telling two sizes and looking what is commanded."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from tests.torture.mishaps import meant
from tests.torture.mishaps.answers import Size, go_on
from tests.torture.mishaps.bench import Bench

SHORT_BY = {"inch": (Decimal("0.006"), Decimal("0.018")), "mm": (Decimal("0.2"), Decimal("0.6"))}
SYMBOL = {"inch": "in", "mm": "mm"}
PLACES = {"inch": Decimal("0.0001"), "mm": Decimal("0.01")}
MOST_TURNS = 200
"""A gear is cut all round before it goes deeper."""


@dataclass(frozen=True)
class Line:
    """size = `size` + `slope` x (travel - `at`); sizes in the job's unit, travel in the dial's."""

    axis: str
    slope: Decimal
    size: Decimal
    at: Decimal
    grows: bool
    steepest: Decimal
    """`slope` where that is known; else the most that the size can go by: both sides of the work
    come off, each by the whole travel."""

    def before(self, travel: Decimal) -> Decimal:
        """The size that there can have been at most, where a dimension shrinks, or at least, where
        it grows, when the axis stood so far out."""
        return self.size + self.steepest * (travel - self.at)

    def size_at(self, travel: Decimal) -> Decimal:
        """What it measures where the axis stands so."""
        return self.size + self.slope * (travel - self.at)

    @property
    def deeper(self) -> int:
        """+1 or -1: the way of the axis that cuts."""
        return (1 if self.slope > 0 else -1) * (1 if self.grows else -1)


def told(size: Decimal, unit: str) -> str:
    """A size as it is typed."""
    rounded = size.quantize(PLACES[unit])
    return f"measured {rounded.normalize():f} {SYMBOL[unit]}"


def short_of(asked: meant.Asked, by: Decimal) -> Decimal:
    """A size that lacks so much to be in."""
    assert asked.low is not None
    assert asked.high is not None
    return asked.low - by if asked.grows else asked.high + by


def find_line(bench: Bench, asked: meant.Asked, size: Size) -> Line | None:
    """The line of the size that is asked for now; None where nothing is cut after it.

    Where the next setting tells how far inside the limits it leaves the size, that is the line.
    Else two sizes are told, and the axis is the one whose setting differs; the size is taken to
    go by half the travel then, which is never more than it does.
    """
    unit = bench.job.state.unit
    ends = []
    for by in SHORT_BY[unit]:
        short = short_of(asked, by)
        trial = bench.fork()
        reached = _to_the_cut(trial, told(short, unit), asked, size)
        if isinstance(reached, Line):
            return reached
        ends.append(reached)
    if ends[0] is None or ends[1] is None:
        return None
    differ = [axis for axis in bench.travel if ends[0].get(axis) != ends[1].get(axis)]
    if len(differ) != 1:
        return None
    at = bench.in_the_metal(differ[0])
    if at is None:
        return None
    deeper = 1 if ends[1][differ[0]] > at else -1
    counted = meant.dial(bench.job, differ[0]).per_job_unit(unit)
    slope = Decimal(deeper if asked.grows else -deeper) / 2 / counted
    size = short_of(asked, SHORT_BY[unit][0])
    return Line(differ[0], slope, size, at, asked.grows, slope * 4)


def _to_the_cut(
    bench: Bench, words: str, asked: meant.Asked, size: Size
) -> Line | dict[str, Decimal] | None:
    """Tell a size and go on to the next cut of that surface: its line, or where the axes stand."""
    before = {axis: bench.in_the_metal(axis) for axis in bench.travel}
    said = bench.say(words)
    if bench.asking:
        said = bench.say("yes")
    for _ in range(MOST_TURNS):
        if not said.taken or bench.done:
            return None
        inside, move = meant.left_inside(bench.job), bench.page.move
        if inside is not None and move is not None and move.distance.magnitude:
            return _line(bench, asked, words, before, inside)
        if bench.cut_at_hand and meant.cutting(bench.job) != asked.key:
            return None
        if bench.cut_at_hand and any(
            place is not None and bench.reached[axis] != place for axis, place in before.items()
        ):
            return bench.reached
        following = go_on(bench, size)
        if following is None:
            return None
        said = following
    return None


def _line(
    bench: Bench, asked: meant.Asked, words: str, before: dict[str, Decimal | None], inside: Decimal
) -> Line | None:
    assert bench.page.move is not None
    assert asked.low is not None
    assert asked.high is not None
    axis, told_size = bench.page.move.wheel.axis, Decimal(words.split()[1])
    after = asked.low + inside if asked.grows else asked.high - inside
    at = before.get(axis)
    if at is None:
        return None
    slope = (after - told_size) / (bench.reached[axis] - at)
    return Line(axis, slope, told_size, at, asked.grows, slope)

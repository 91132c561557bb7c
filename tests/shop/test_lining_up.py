"""Machine and work lined up in the shop of numbers: out by what nobody was told, corrected as the
screen says, with hands and needles that are not exact."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Measure, Move, Note, Step, Touch
from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import SYMBOL, Machinist

NEEDLE = {"inch": 0.0001, "mm": 0.002}
"""What is read off an indicator."""


class Nothing:
    """No work is cut."""

    def contact(self, touch: Touch) -> float:
        raise AssertionError(touch.surface)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        raise AssertionError("nothing is cut here")

    def size(self, fact: str) -> float:
        raise AssertionError(fact)


# -- head and vice --------------------------------------------------------------------------------


class Swept(Nothing):
    """Something that is out by an angle and turns about a place of its own. A reading is higher
    where it comes nearer to the indicator."""

    def __init__(self, sweep: float, pivots: Mapping[str, float], chance: random.Random) -> None:
        self.sweep, self.pivots = sweep, pivots
        self.slope = {name: chance.choice((-1, 1)) * chance.uniform(0.001, 0.01) for name in pivots}
        """What one end reads more than the other, over the sweep, as a share of it."""
        self.level = dict.fromkeys(pivots, 0.0)
        self.steps: list[float] = []

    def reading(self, name: str, end: int) -> float:
        """At the first end or the second."""
        return self.level[name] + (end - 0.5) * self.sweep * self.slope[name]

    def turn(self, name: str, by: float) -> None:
        """Change the slope, about its pivot: its place along the sweep, from the middle."""
        self.slope[name] += by
        self.level[name] -= by * self.pivots[name]


ENDS = {
    "at the left": ("x", 0), "at the right": ("x", 1),
    "in front": ("y", 0), "at the back": ("y", 1),
}  # fmt: skip


class Trammer(Machinist[Swept]):
    """Reads both ends, taps till the needle has moved as told, tightens."""

    rounds = 0

    def measure(self, step: Measure) -> None:
        assert step.kind == "walls"
        for lead, side in zip(("front", "back"), step.sides, strict=True):
            name, end = ENDS[side.removeprefix("reading ")]
            read = self.work.reading(name, end) - self.work.reading(name, 0)
            ticks = round((read + self.chance.uniform(-0.3, 0.3) * NEEDLE[self.unit] * end)
                          / NEEDLE[self.unit])  # fmt: skip
            # a needle that went below zero reads from there: what counts is the difference
            told = Decimal(str(NEEDLE[self.unit])) * (ticks + 1000)
            self.say(f"{lead} is {told:f} {SYMBOL[self.unit]}")

    def do(self, step: Step) -> None:
        if isinstance(step, Note) and step.title == "Take it out":
            self.correct()
            self.rounds += 1
        super().do(step)

    def correct(self) -> None:
        """Tap it till the needle at that end has moved by so much, as near as it goes."""
        shown, work = self.job.glance, self.work
        way, _, where = shown.what.partition(" ")
        name, end = ENDS[where]
        wanted = float(shown.number) * {"up": 1, "down": -1}[way]
        wanted *= self.chance.uniform(0.92, 1.08)
        lever = (end - 0.5) * work.sweep - work.pivots[name]
        work.turn(name, wanted / lever)
        # common practice, no source: it moves a little as it is tightened
        work.slope[name] *= 1 + self.chance.uniform(-0.05, 0.05)


def tram(name: str, sweep: float, pivots: Mapping[str, float], seed: int) -> Trammer:
    made = Trammer(Job(name), lambda chance, _wheels: Swept(sweep, pivots, chance), seed)
    made.work_it()
    return made


@pytest.mark.parametrize("knuckle", [0, 2.5, 5, 8, 12])
@pytest.mark.parametrize("seed", range(5))
def test_a_head_comes_square_wherever_its_knuckle_is(seed: int, knuckle: float) -> None:
    made = tram("tram-head", 10, {"x": 0, "y": knuckle}, seed)
    for slope in made.work.slope.values():
        assert abs(slope) * 10 < 0.0005 + 0.0002, "half a thou over ten inches, and a needle"
    assert made.rounds <= 10


@pytest.mark.parametrize("bolt", [-70, -50, -90])
@pytest.mark.parametrize("seed", range(5))
def test_a_vice_comes_true_about_its_snug_bolt(seed: int, bolt: float) -> None:
    made = tram("tram-vice", 140, {"x": bolt}, seed)
    assert abs(made.work.slope["x"]) * 140 < 0.01 + 0.004
    assert made.rounds <= 5


# -- four jaws ------------------------------------------------------------------------------------

JAWS = {"one": (1, 0), "two": (0, 1), "three": (-1, 0), "four": (0, -1)}
Vector = tuple[float, float]


class Chucked(Nothing):
    """Round work in four jaws, its middle beside the spindle's axis."""

    def __init__(self, inner: bool, chance: random.Random) -> None:
        self.inner = inner
        far, way = chance.uniform(0.01, 0.08), chance.uniform(0, math.tau)
        self.off = far * math.cos(way), far * math.sin(way)

    def reading(self, toward: Vector) -> float:
        """Of the indicator with that side of the chuck to it: higher where the surface stands
        nearer to the indicator, which in a bore is nearer to the axis."""
        out = self.off[0] * toward[0] + self.off[1] * toward[1]
        return -out if self.inner else out

    @property
    def swing(self) -> float:
        return 2 * math.hypot(*self.off)


class Dialler(Machinist[Chucked]):
    """Turns jaw to jaw, reads, slackens and tightens."""

    pair: tuple[Vector, Vector] | None = None
    rounds = 0

    def measure(self, step: Measure) -> None:
        said = self.job.glance.instruction
        self.rounds += 1
        if "one whole turn" in said:
            self.pair, read = None, self.work.swing
        else:
            names = said.split(":")[0].removeprefix("Jaws ").split(" and ")
            self.pair = JAWS[names[0]], JAWS[names[1]]
            read = abs(self.work.reading(self.pair[0]) - self.work.reading(self.pair[1]))
        self.tell("measured", self.read(step, read))

    def do(self, step: Step) -> None:
        if isinstance(step, Note) and step.title == "Halve it":
            self.halve()
        super().do(step)

    def halve(self) -> None:
        """The higher side to the indicator, and so much off the needle."""
        shown, work = self.job.glance, self.work
        if self.pair is not None:
            assert "Turn the higher jaw to the indicator." in shown.instruction
            high = max(self.pair, key=work.reading)
        else:
            assert "high spot" in shown.instruction
            far = math.hypot(*work.off) * (-1 if work.inner else 1)
            high = work.off[0] / far, work.off[1] / far
        away = {
            "Slack the jaw opposite, then tighten this one.": -1,
            "Slack this jaw, then tighten the one opposite.": 1,
        }
        sense = next(sense for words, sense in away.items() if words in shown.instruction)
        before = work.reading(high)
        moved = float(shown.number) * self.chance.uniform(0.9, 1.1)
        aside = moved * self.chance.uniform(-0.06, 0.06)
        work.off = (
            work.off[0] + sense * moved * high[0] - aside * high[1],
            work.off[1] + sense * moved * high[1] + aside * high[0],
        )
        assert work.reading(high) < before, "told to go on till the needle falls, and it rises"


@pytest.mark.parametrize("on", ["bore", "outside"])
@pytest.mark.parametrize("seed", range(10))
def test_work_in_four_jaws_comes_to_run_true(seed: int, on: str, tmp_path: Path) -> None:
    path = changed(tmp_path, "dial-in-bore", {"work.on": f'"{on}"'})
    made = Dialler(
        Job("dial-in-bore", path), lambda chance, _wheels: Chucked(on == "bore", chance), seed
    )
    made.work_it()
    assert made.work.swing <= 0.001 + 0.00005, "the drawing's, and half of what a needle shows"
    assert made.rounds <= 11


# -- tailstock ------------------------------------------------------------------------------------


class TestBar:
    """A bar between centres, the tailstock's beside the line; both collars turned at one setting.
    All in millimetres, toward the operator and his tool positive."""

    __test__ = False

    def __init__(
        self, chance: random.Random, wheels: Mapping[str, Handwheel], dial: float = 1.0
    ) -> None:
        self.wheels, self.dial = wheels, dial
        self.length, self.spacing = 260.0, 200.0
        self.off = chance.choice((-1, 1)) * chance.uniform(0.02, 0.25)
        """How far the tailstock's centre stands to the operator's side."""
        self.places = {"head": 30.0, "tail": 230.0}
        """Of the collars, from the headstock's centre."""
        self.collars = dict.fromkeys(self.places, 32.0)
        self.line_at = chance.uniform(-20, 20)
        """Where the tool would stand on the line of centres, as its dial counts."""

    def tool(self, at: float) -> float:
        """From the line to the tool's point."""
        return (self.line_at - at) / self.dial

    def contact(self, touch: Touch) -> float:
        assert touch.surface == "the headstock collar"
        stands = self.collars["head"] / 2 + self.off * self.places["head"] / self.length
        return self.line_at - stands * self.dial

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        for name, place in self.places.items():
            left = 2 * (self.tool(at["cross slide"]) - self.off * place / self.length)
            self.collars[name] = min(self.collars[name], left)

    def size(self, fact: str) -> float:
        return self.collars[fact.rpartition(".")[2]]


class Aligner(Machinist[TestBar]):
    """Shifts the tailstock as told, by an indicator on its barrel."""

    def do(self, step: Step) -> None:
        if isinstance(step, Note) and step.id.startswith("shift-"):
            shown = self.job.glance
            way = {"toward you": 1, "away from you": -1}[shown.what]
            self.work.off += way * float(shown.number) + self.chance.uniform(-0.003, 0.003)
        super().do(step)

    def free(self, step: Move) -> None:
        assert step.axis == "carriage"
        super().free(step)


@pytest.mark.parametrize("reads", ["travel", "diameter"])
@pytest.mark.parametrize("seed", range(10))
def test_the_tailstock_comes_into_line(seed: int, reads: str, tmp_path: Path) -> None:
    path = changed(tmp_path, "tailstock-line", {"machine:axes.cross_slide.reads": f'"{reads}"'})
    dial = {"travel": 1.0, "diameter": 2.0}[reads]
    made = Aligner(
        Job("tailstock-line", path), lambda chance, wheels: TestBar(chance, wheels, dial), seed
    )
    made.work_it()
    # a hundredth between the collars by the job, told by a micrometer to another
    assert abs(made.work.off) * 2 * 200 / 260 <= 0.01 + 0.01

"""Flats on a bar in the shop of numbers: across, how long, and how many of them."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Index, Move, Note, Step, Touch
from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.dividing_head import Divider
from tests.shop.handwheels import Handwheel


@dataclass(frozen=True)
class Drawn:
    """The bar's drawing, the cutter, and a thousandth or its like, all in the job's unit."""

    sides: int
    stock: float
    low: float
    high: float
    length: float
    cutter: float
    max_pass: float
    fine: float


@dataclass
class Flat:
    """One flat: how far from the axis, and how far from the end."""

    height: float
    length: float = 0.0


class Bar:
    """A bar along the table, its free end to the right, under an end mill."""

    def __init__(
        self, drawn: Drawn, chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        self.drawn, self.wheels = drawn, wheels
        self.radius = (drawn.stock - chance.uniform(0, 2) * drawn.fine) / 2
        self.cutter = drawn.cutter - chance.uniform(0, 5) * drawn.fine
        self.spring = chance.uniform(0, 0.05)
        """Share of a pass that the cutter gives way."""
        self.top_at = chance.uniform(-1, 1) * drawn.stock
        """Where the knee stands with the cutter's end on top of the round bar."""
        self.end_at = chance.uniform(-5, 5) * drawn.stock
        """Where the table stands with the end face below the spindle's axis."""
        self.turned = Fraction(0)
        """Turns of the bar."""
        self.flats: dict[Fraction, Flat] = {}
        self.passes: list[float] = []
        self.last = Fraction(0)

    def next_one(self, chance: random.Random) -> None:
        """Another bar in the same chuck or block: of its own size, and further out or in."""
        radius = (self.drawn.stock - chance.uniform(0, 2) * self.drawn.fine) / 2
        self.top_at += self.radius - radius
        self.radius = radius
        self.end_at += chance.uniform(-1, 1) * self.drawn.cutter
        self.flats.clear()

    def contact(self, touch: Touch) -> float:
        if touch.axis == "table":
            assert touch.surface == "the right-hand end face"
            return self.end_at - self.cutter / 2
        return self.top_at

    @property
    def over(self) -> bool:
        """Whether the cutter stands over the bar."""
        return self.wheels["table"].nut - self.end_at > -self.cutter / 2

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        if math.isclose(begun["table"], at["table"], abs_tol=self.drawn.fine):
            return  # fed already: the word was taken back
        assert begun["table"] - self.end_at <= -self.cutter / 2, "begun over the bar"
        self.last = self.turned % 1
        flat = self.flats.setdefault(self.last, Flat(self.radius))
        taken = flat.height - (self.radius - (at["knee"] - self.top_at))
        self.passes.append(taken)
        flat.height -= max(0, taken * (1 - self.spring))
        # right carries the bar under the cutter: its rim gets so far from the end
        flat.length = max(flat.length, at["table"] - self.end_at + self.cutter / 2)

    def surface(self, axis: str) -> float:
        assert axis == "knee"
        return self.top_at + self.radius - self.flats[self.last].height

    def across(self, angle: Fraction) -> float:
        """To the flat opposite, or the round."""
        other = self.flats.get((angle + Fraction(1, 2)) % 1)
        return self.flats[angle].height + (self.radius if other is None else other.height)

    def size(self, fact: str) -> float:
        if fact.startswith("size."):
            return self.across(self.last)
        return {"cutter.width": self.cutter, "stock.diameter": 2 * self.radius}[fact]


class Flattener(Divider[Bar]):
    """Turns the bar by the head or in its block, with the cutter off it."""

    def do(self, step: Step) -> None:
        told = self.job.glance.instruction
        turns = Fraction(0)
        before = self.worm.work
        super().do(step)
        if isinstance(step, Index):
            turns = self.worm.work - before
        elif isinstance(step, Note) and step.title == "Turn the block":
            turns = Fraction(1, 2)
            if "Turn the block by one face." in told:
                turns = Fraction(1, self.work.drawn.sides)
            else:
                assert "right over, to the opposite face" in told, told
        if turns:
            assert not self.work.over, "turned with the cutter over the bar"
            self.work.turned += turns

    def move(self, step: Move) -> None:
        if step.pass_number or "-set" in step.id:
            assert not self.work.over, "the knee comes up under the cutter"
        super().move(step)


HEXAGON = Drawn(6, 1.0, 0.806, 0.812, 0.625, 0.625, 0.06, 0.001)
SQUARE = Drawn(4, 20, 13.9, 14, 18, 16, 1.5, 0.02)


def mill_flats(name: str, drawn: Drawn, seed: int, path: Path | None = None) -> Bar:
    made = Flattener(Job(name, path), lambda chance, wheels: Bar(drawn, chance, wheels), seed)
    made.work_it()
    return made.work


def check_flats(bar: Bar) -> None:
    """Every flat where it should be and nothing more, across and length on the drawing."""
    drawn = bar.drawn
    first = min(bar.flats)
    assert sorted((angle - first) % 1 for angle in bar.flats) == [
        Fraction(one, drawn.sides) for one in range(drawn.sides)
    ]
    for angle, flat in bar.flats.items():
        # a gauge read to half a thou or a hundredth, and a hand for each flat
        slack = drawn.fine * 0.6
        assert drawn.low - slack <= bar.across(angle) <= drawn.high + slack
        assert flat.length == pytest.approx(drawn.length, abs=drawn.fine)
    # the bar of one pass is deeper by what the passes before it left standing
    assert max(bar.passes) < drawn.max_pass * 1.06 + drawn.fine


@pytest.mark.parametrize("seed", range(12))
def test_a_hexagon_is_on_its_drawing(seed: int) -> None:
    check_flats(mill_flats("flats-hexagon", HEXAGON, seed))


@pytest.mark.parametrize("seed", range(12))
def test_a_square_in_its_block_is_on_its_drawing(seed: int) -> None:
    check_flats(mill_flats("flats-square", SQUARE, seed))


@pytest.mark.parametrize(("name", "drawn"), [("flats-hexagon", HEXAGON), ("flats-square", SQUARE)])
def test_the_next_bar_is_on_its_drawing(name: str, drawn: Drawn) -> None:
    for seed in range(4):
        made = Flattener(Job(name), lambda chance, wheels: Bar(drawn, chance, wheels), seed)
        made.work_it()
        for _ in range(2):
            made.work.next_one(made.chance)
            made.say("same again")
            made.work_it()
            check_flats(made.work)


@pytest.mark.parametrize("sides", [1, 2, 3, 4, 5, 8])
def test_other_numbers_of_flats(sides: int, tmp_path: Path) -> None:
    high = 0.95 if sides % 2 else 0.93
    drawn = Drawn(sides, 1.0, high - 0.006, high, 0.625, 0.75, 0.02, 0.001)
    path = changed(tmp_path, "flats-hexagon", {
        "flats.sides": str(sides), "flats.across": f'"{high} in"',
        "cutter.diameter": '"3/4 in"', "cutter.max_pass": '"0.020 in"',
    })  # fmt: skip
    for seed in range(4):
        check_flats(mill_flats("flats-hexagon", drawn, seed, path))


DIALS = {
    "falling": {"machine:axes.table.rises": '"left"', "machine:axes.knee.rises": '"down"'},
    "fixed": {"machine:axes.table.zero": '"fixed"', "machine:axes.knee.zero": '"fixed"'},
    "loose": {
        "machine:axes.table.backlash": '"0.120 in"', "machine:axes.knee.backlash": '"0.06 in"',
    },
}  # fmt: skip


@pytest.mark.parametrize("dials", DIALS)
def test_a_hexagon_on_other_dials(dials: str, tmp_path: Path) -> None:
    path = changed(tmp_path, "flats-hexagon", DIALS[dials])
    for seed in range(4):
        check_flats(mill_flats("flats-hexagon", HEXAGON, seed, path))

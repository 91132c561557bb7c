"""Corners and middles found in the shop of numbers: does the spindle stand over them at the end?"""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Move, Note, Step, Touch
from assistant.session.state import Phase
from tests.factories import Job
from tests.shop.changed import changed, dials_by_chance
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist

SIDES = {"left": (0, -1), "right": (0, 1), "front": (1, -1), "back": (1, 1)}
"""Direction, and on which side of the middle it lies."""
AXES = ("table", "saddle")


@dataclass(frozen=True)
class Feature:
    """What is to be found, as the drawing has it."""

    across: tuple[float, float]
    tip: float
    round: bool = False
    inside: bool = False
    corner: tuple[str, str] | None = None
    """The sides whose corner is the place; else it is the middle."""


class Found:
    """A piece on the table, a little off its size, and a tip in the spindle."""

    def __init__(
        self, drawn: Feature, chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        self.drawn, self.wheels = drawn, wheels
        off = chance.uniform(-0.0005, 0.0005)
        self.across = tuple(size * (1 + off) for size in drawn.across)
        self.middle = [chance.uniform(-5, 5) * size for size in drawn.across]
        """The middle from the spindle, right and back, with the slides at 0."""
        if drawn.inside or drawn.round:
            # by eye it stands within a tenth of its size over the middle: of a round one that is
            # a chord
            self.middle[1] = chance.uniform(-0.1, 0.1) * drawn.across[1]

    def spindle(self, direction: int) -> float:
        """Where the spindle stands from the middle, right or back."""
        # right and in carry the work right and back: the spindle goes the other way over it
        return -(self.middle[direction] + self.wheels[AXES[direction]].nut)

    def contact(self, touch: Touch) -> float:
        direction, side = SIDES[touch.surface.split()[1]]
        assert touch.axis == AXES[direction]
        assert ("wall" in touch.surface) == self.drawn.inside
        tip = self.drawn.tip / 2
        reach = self.across[direction] / 2 + (-tip if self.drawn.inside else tip)
        if self.drawn.round:
            reach = math.sqrt(reach**2 - self.spindle(1 - direction) ** 2)
        return -side * reach - self.middle[direction]

    def surface(self, axis: str) -> float:
        raise AssertionError(f"nothing was cut by the {axis}")

    def off(self) -> tuple[float, float]:
        """How far the spindle stands from the place, right and back."""
        at = [self.spindle(0), self.spindle(1)]
        for name in self.drawn.corner or ():
            direction, side = SIDES[name]
            at[direction] -= side * self.across[direction] / 2
        return at[0], at[1]

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        raise AssertionError("nothing is cut here")

    def size(self, fact: str) -> float:
        raise AssertionError(fact)


class Finder(Machinist[Found]):
    """Keeps the tip out of the work, and may lose count of a turn."""

    beside = ""
    """The axis along which the tip stands low beside the work."""
    miscounted = 0
    """Turns counted too many at every second touch."""
    noted: tuple[str, ...] = ()

    def do(self, step: Step) -> None:
        if isinstance(step, Note):
            self.noted = (*self.noted, step.title)
        super().do(step)

    def touch(self, step: Touch) -> None:
        if self.job.state.phase is Phase.ACT:
            self.keep_clear()
            self.beside = step.axis
        elif step.keeps and self.miscounted:
            wheel = self.wheels[step.axis]
            turns, _ = wheel.counted()
            self.job.say(f"dial reads {turns + self.miscounted} turns and {self.as_read(wheel)}")
            if self.job.state.question is not None:
                self.say("yes")  # more than it should ever be: asked back, and he is sure
            return
        super().touch(step)

    def move(self, step: Move) -> None:
        self.keep_clear()
        super().move(step)

    def keep_clear(self) -> None:
        """Before the tip goes over: it is not beside the work any more, if it was told so."""
        if self.beside and not self.work.drawn.inside:
            told = self.job.glance.instruction.lower()
            assert ", clear" in told, f"into the side of the work: {told}"
        self.beside = ""


def find(name: str, drawn: Feature, seed: int, path: Path | None = None, lost: int = 0) -> Finder:
    made = Finder(Job(name, path), lambda chance, wheels: Found(drawn, chance, wheels), seed)
    made.miscounted = lost
    made.work_it()
    return made


PLATE = Feature((3, 2), 0.5)
CORNER = Feature((90, 60), 10, corner=("left", "back"))
BORE = Feature((1.5, 1.5), 0.2, round=True, inside=True)
DEMOS = {"centre-plate": PLATE, "centre-corner": CORNER, "centre-bore": BORE}


def check_found(made: Finder, drawn: Feature) -> None:
    """Over it to half a division and a hand; the size that was found is the true one."""
    for direction, away in enumerate(made.work.off()):
        wheel = made.wheels[AXES[direction]]
        # the middle is set to half a division, from a reading to half a division, by a hand; a dial
        # that can't be set has its first reading to half a division besides
        within = (0.25 if drawn.corner else 0.375) + 0.2
        if not wheel.axis.settable:
            within += 0.375
        assert abs(away) < within * wheel.graduation
        if wheel.axis.settable:
            read = (wheel.reading + wheel.per_turn / 2) % wheel.per_turn - wheel.per_turn / 2
            assert abs(read) < 1e-6, "the datum reads nothing"
        if drawn.corner is None and not (drawn.round and direction == 0):
            figure = made.job.state.plan.result(f"across {'xy'[direction]}")
            assert figure is not None
            found = float(figure.value.to(wheel.axis.per_turn.units).magnitude)
            assert found == pytest.approx(made.work.across[direction], abs=0.8 * wheel.graduation)


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("name", DEMOS)
def test_the_spindle_stands_over_the_place(name: str, seed: int) -> None:
    made = find(name, DEMOS[name], seed)
    check_found(made, DEMOS[name])
    assert "Not the drawing's size" not in made.noted


OTHER_DIALS = {
    "falling": {
        "machine:axes.table.rises": '"left"', "machine:axes.saddle.rises": '"out"',
    },
    "fixed": {
        "machine:axes.table.zero": '"fixed"', "machine:axes.saddle.zero": '"fixed"',
    },
    "falling and fixed": {
        "machine:axes.table.rises": '"left"', "machine:axes.table.zero": '"fixed"',
        "machine:axes.saddle.rises": '"out"', "machine:axes.saddle.zero": '"fixed"',
    },
    "loose": {
        "machine:axes.table.backlash": '"0.131 in"', "machine:axes.saddle.backlash": '"0.094 in"',
    },
}  # fmt: skip
OTHER_FEATURES = {
    "a plate": (PLATE, {}),
    "a boss": (Feature((1.25, 1.25), 0.5, round=True), {
        "feature.kind": '"boss"', "feature.diameter": '"1.250 in"',
    }),
    "a bore": (Feature((2.5, 2.5), 0.5, round=True, inside=True), {
        "feature.kind": '"bore"', "feature.diameter": '"2.5 in"',
    }),
    "a slot": (Feature((3, 2), 0.5, inside=True), {"feature.kind": '"bore"'}),
}  # fmt: skip


def without_across(path: Path) -> None:
    """Something round has a diameter instead."""
    text = path.read_text(encoding="utf-8")
    kept = [line for line in text.splitlines() if not line.startswith("across_")]
    path.write_text("\n".join(kept), encoding="utf-8")


@pytest.mark.parametrize("sides", [("left", "front"), ("right", "back"), ("right", "front")])
@pytest.mark.parametrize("dials", OTHER_DIALS)
@pytest.mark.parametrize("feature", OTHER_FEATURES)
def test_the_middle_on_other_dials_from_other_sides(
    feature: str, dials: str, sides: tuple[str, str], tmp_path: Path
) -> None:
    drawn, values = OTHER_FEATURES[feature]
    values = values | OTHER_DIALS[dials] | {
        "feature.x_side": f'"{sides[0]}"', "feature.y_side": f'"{sides[1]}"',
    }  # fmt: skip
    path = changed(tmp_path, "centre-plate", values)
    if drawn.round:
        without_across(path)
    for seed in range(3):
        made = find("centre-plate", drawn, seed, path)
        check_found(made, drawn)
        assert "Not the drawing's size" not in made.noted


@pytest.mark.parametrize("sides", [("left", "front"), ("right", "back"), ("right", "front")])
def test_a_corner_from_other_sides(sides: tuple[str, str], tmp_path: Path) -> None:
    drawn = Feature((90, 60), 10, corner=sides)
    path = changed(tmp_path, "centre-corner", {
        "feature.x_side": f'"{sides[0]}"', "feature.y_side": f'"{sides[1]}"',
    })  # fmt: skip
    for seed in range(3):
        check_found(find("centre-corner", drawn, seed, path), drawn)


@pytest.mark.parametrize("name", ["centre-plate", "centre-bore"])
@pytest.mark.parametrize("lost", [-1, 1])
def test_a_turn_miscounted_is_noticed(name: str, lost: int) -> None:
    for seed in range(10):
        made = find(name, DEMOS[name], seed, lost=lost)
        assert made.noted.count("Not the drawing's size") == 2, "both ways"


@pytest.mark.parametrize("seed", range(25))
def test_a_place_on_any_machine(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    feature = chance.choice(list(OTHER_FEATURES))
    drawn, values = OTHER_FEATURES[feature]
    path = changed(tmp_path, "centre-plate", {
        **values, **dials_by_chance(chance, "table", "saddle", "knee"),
        "feature.x_side": f'"{chance.choice(("left", "right"))}"',
        "feature.y_side": f'"{chance.choice(("front", "back"))}"',
    })  # fmt: skip
    if drawn.round:
        without_across(path)
    made = find("centre-plate", drawn, seed, path)
    check_found(made, drawn)
    assert "Not the drawing's size" not in made.noted

"""Circles divided in the shop of numbers: the angle of the work at every cut."""

from __future__ import annotations

import random
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Touch
from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.dividing_head import SLACK, Divider
from tests.shop.handwheels import Handwheel

SECOND = Fraction(1, 360 * 3600)
"""Of arc, in turns."""


class Blank:
    """Something round on the head or table; nothing but its angle matters."""

    def __init__(self, chance: random.Random, wheels: Mapping[str, Handwheel]) -> None:
        self.cuts = 0

    def contact(self, touch: Touch) -> float:
        raise AssertionError(touch.surface)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        self.cuts += 1

    def size(self, fact: str) -> float:
        raise AssertionError(fact)


class Marker(Divider[Blank]):
    """Notes the angle of the work at every cut, in turns."""

    def __init__(self, name: str, path: Path | None, seed: int) -> None:
        super().__init__(Job(name, path), Blank, seed)
        self.worm.turn(Fraction(self.chance.randrange(-500, 500), 997))
        self.angles: list[Fraction] = []

    def cut(self, step: Cut) -> None:
        self.angles.append(self.worm.work)
        super().cut(step)

    def from_first(self) -> list[Fraction]:
        """Every cut's angle from the first one's."""
        return [angle - self.angles[0] for angle in self.angles]


def divide(name: str, path: Path | None = None, seed: int = 0) -> Marker:
    made = Marker(name, path, seed)
    made.work_it()
    return made


@pytest.mark.parametrize("seed", range(5))
def test_seven_teeth_are_sevenths_of_a_turn(seed: int) -> None:
    made = divide("divide-ratchet", seed=seed)
    assert made.from_first() == [Fraction(tooth, 7) for tooth in range(7)]
    assert made.worm.work - made.angles[0] == 1, "and back at the first"


@pytest.mark.parametrize(
    "divisions", [2, 3, 5, 6, 8, 9, 11, 12, 13, 16, 18, 24, 27, 33, 37, 40, 49, 60, 98, 120, 196]
)
def test_other_numbers_on_three_plates(divisions: int, tmp_path: Path) -> None:
    path = changed(tmp_path, "divide-ratchet", {"divide.divisions": str(divisions)})
    made = divide("divide-ratchet", path)
    assert made.from_first() == [Fraction(one, divisions) for one in range(divisions)]
    assert made.worm.work - made.angles[0] == 1


@pytest.mark.parametrize("angle", ["7.5", "15", "22.5", "36", "90", "120"])
def test_equal_angles_on_the_head(angle: str, tmp_path: Path) -> None:
    count = min(8, int(360 / float(angle)))
    path = changed(tmp_path, "divide-ratchet", {"divide.angle": angle, "divide.count": str(count)})
    text = path.read_text(encoding="utf-8").replace("divisions = 7\n", "")
    path.write_text(text, encoding="utf-8")
    made = divide("divide-ratchet", path)
    assert made.from_first() == [Fraction(angle) / 360 * one for one in range(count)]


@pytest.mark.parametrize("finest", [10, 30, 60])
@pytest.mark.parametrize("ratio", [40, 60, 72, 90, 120])
@pytest.mark.parametrize("divisions", [4, 7, 9, 11, 13, 90, 100])
def test_a_rotary_table_by_its_dial(
    divisions: int, ratio: int, finest: int, tmp_path: Path
) -> None:
    path = changed(tmp_path, "divide-table", {
        "divide.divisions": str(divisions),
        "machine:dividing_ratio": str(ratio), "machine:divider_finest": str(finest),
    })  # fmt: skip
    made = divide("divide-table", path)
    assert len(made.angles) == divisions
    for one, angle in enumerate(made.from_first()):
        # each to the nearest that the dial shows, counted from zero: none adds up
        assert abs(angle - Fraction(one, divisions)) <= SECOND * finest / 2
    assert made.worm.work - made.angles[0] == 1


def test_a_crank_turned_back_would_leave_the_work_behind() -> None:
    """That the model would show it."""
    made = divide("divide-ratchet")
    before = made.worm.work
    made.worm.turn(-Fraction(1, 7))
    assert before - made.worm.work == (Fraction(1, 7) - SLACK) / 40

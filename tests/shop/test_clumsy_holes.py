"""Holes and middles where the drawing has them, flats and gears on it, whatever happens."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.factories import Job
from tests.shop import test_centre, test_flats, test_gear, test_holes
from tests.shop.changed import changed
from tests.shop.drilling import Driller
from tests.shop.handwheels import Handwheel
from tests.shop.mishaps import Clumsy, whatever_happens

HAPPENS = ("short", "past", "lost", "home", "too_soon")


class Plate(test_holes.Plate):
    """A plate whose touches can be come back to."""

    def surface(self, axis: str) -> float:
        raise AssertionError(f"nothing was cut to a depth by the {axis}")


class ClumsyDriller(Driller[Plate], Clumsy[Plate]):
    """At the vertical mill."""


DIALS: Mapping[str, Mapping[str, str]] = {
    "as they are": {},
    "falling": {
        "machine:axes.table.rises": '"left"', "machine:axes.saddle.rises": '"out"',
    },
    "fixed": {
        "machine:axes.table.zero": '"fixed"', "machine:axes.saddle.zero": '"fixed"',
    },
}  # fmt: skip


@pytest.mark.parametrize("dials", DIALS)
def test_a_grid_lies_where_it_should_whatever_happens(dials: str, tmp_path: Path) -> None:
    path = changed(tmp_path, "holes-grid", {
        "grid.columns": "4", "grid.rows": "3", "grid.pitch_x": '"0.777 in"', **DIALS[dials],
    })  # fmt: skip
    drawn = [(x, y) for y in (0.5, 1.1, 1.7) for x in (0.55, 1.327, 2.104, 2.881)]
    happened: Counter[str] = Counter()
    for seed in range(12):

        def plate(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Plate:
            return Plate((6.5, 4), 0.2, test_holes.GRID_TOOLS, chance, wheels)

        made = ClumsyDriller(Job("holes-grid", path), plate, seed)
        made.work_it()
        happened += made.happened
        # a hole gone over once more is the same hole
        holes = {(round(one.x, 2), round(one.y, 2)): one for one in made.work.holes}
        made.work.cuttings = list(holes.values())
        away = test_holes.off(made.work, drawn)
        assert max(abs(part) for one in away for part in one) < 0.0008
    assert min(happened[what] for what in HAPPENS) > 3


class ClumsyFinder(test_centre.Finder, Clumsy[test_centre.Found]):
    """With edge finder or feeler."""


@pytest.mark.parametrize("demo", test_centre.DEMOS)
def test_the_place_is_found_whatever_happens(demo: str) -> None:
    drawn = test_centre.DEMOS[demo]

    def made(seed: int) -> ClumsyFinder:
        return ClumsyFinder(
            Job(demo), lambda chance, wheels: test_centre.Found(drawn, chance, wheels), seed
        )

    happened = whatever_happens(made, lambda one: test_centre.check_found(one, drawn), range(60))
    assert min(happened[what] for what in HAPPENS) > 3


class ClumsyFlattener(test_flats.Flattener, Clumsy[test_flats.Bar]):
    """At the dividing head."""


@pytest.mark.parametrize("demo", ["flats-hexagon", "flats-square"])
def test_flats_are_on_the_drawing_whatever_happens(demo: str) -> None:
    drawn = {"flats-hexagon": test_flats.HEXAGON, "flats-square": test_flats.SQUARE}[demo]

    def made(seed: int) -> ClumsyFlattener:
        return ClumsyFlattener(
            Job(demo), lambda chance, wheels: test_flats.Bar(drawn, chance, wheels), seed
        )

    happened = whatever_happens(made, lambda one: test_flats.check_flats(one.work), range(8))
    assert min(happened[what] for what in HAPPENS) > 3


class ClumsyGearCutter(test_gear.GearCutter, Clumsy[test_gear.Blank]):
    """At the dividing head of the horizontal mill."""


def test_a_gear_is_on_the_drawing_whatever_happens() -> None:
    def made(seed: int) -> ClumsyGearCutter:
        return ClumsyGearCutter(
            Job("gear-inch"), lambda chance, wheels: test_gear.Blank(24, 16, chance, wheels), seed
        )

    happened = whatever_happens(made, lambda one: test_gear.check_gear(one.work, 0.15), range(12))
    assert happened["unsaid"] > 30
    assert sum(happened[what] for what in HAPPENS) > 10

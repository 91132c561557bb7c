"""Holes by coordinates in the shop of numbers: where each lies on the work, and how deep."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from assistant.jobs.steps import Touch
from tests.factories import Job
from tests.shop.changed import changed, dials_by_chance
from tests.shop.drilling import Cutting, Drilled, Driller, Tool
from tests.shop.handwheels import Handwheel

F_DRILL = "letter F drill"
GRID_TOOLS = {F_DRILL: Tool(0.257)}
"""Inches. ASME B94.11M, letter drills, from memory."""
CIRCLE_TOOLS = {
    "centre drill": Tool(4.5, 60),
    "3 millimetre pilot drill": Tool(3),
    "9 millimetre drill": Tool(9),
}
Place = tuple[float, float]
INCH = 25.4


class Plate(Drilled):
    """A plate on the table. Its places are counted from its left front corner, in the job's unit;
    `dial` is how much of that one unit of the table's and saddle's dials is."""

    def __init__(
        self, size: Place, tip: float, tools: Mapping[str, Tool],
        chance: random.Random, wheels: Mapping[str, Handwheel], dial: float = 1.0,
    ) -> None:  # fmt: skip
        super().__init__(tools, chance, wheels)
        self.size_, self.tip, self.wheels, self.dial = size, tip, wheels, dial
        self.corner = chance.uniform(-9, 9) * size[0], chance.uniform(-9, 9) * size[1]
        """The corner from the spindle, right and back, with the slides at 0."""

    def over(self, at: Mapping[str, float]) -> Place:
        # right and in carry the work right and back: the spindle goes the other way over it
        x, y = self.corner
        return -(x + at["table"] * self.dial), -(y + at["saddle"] * self.dial)

    def contact(self, touch: Touch) -> float:
        if touch.axis == "quill":
            return self.touched_face(touch, {name: w.nut for name, w in self.wheels.items()})
        # where the spindle then is over the work: half the tip outside the edge
        spindle, axis = {
            "the left edge": (-self.tip / 2, 0),
            "the right edge": (self.size_[0] + self.tip / 2, 0),
            "the front edge": (-self.tip / 2, 1),
            "the back edge": (self.size_[1] + self.tip / 2, 1),
        }[touch.surface]
        assert touch.axis == ("table", "saddle")[axis]
        return (-spindle - self.corner[axis]) / self.dial

    def next_one(self, chance: random.Random, stays: tuple[bool, bool]) -> None:
        """Another plate in the same place, but for the sides that nothing holds."""
        x, y = (
            at if held else at + chance.uniform(-0.5, 0.5)
            for at, held in zip(self.corner, stays, strict=True)
        )
        self.corner = x, y
        self.cuttings.clear()

    def size(self, fact: str) -> float:
        assert fact == "between"
        first, *_, last = self.holes
        across = max(tool.across for tool in self.tools.values())
        return math.dist((first.x, first.y), (last.x, last.y)) - across

    @property
    def holes(self) -> list[Cutting]:
        """What the drill left, in the order in which it came."""
        last = max(self.tools, key=lambda name: self.tools[name].across)
        return [one for one in self.cuttings if one.tool == last]


def off(plate: Plate, drawn: list[Place]) -> list[Place]:
    """How far every hole lies from its place on the drawing; each place has one hole."""
    assert len(plate.holes) == len(drawn)
    left = list(drawn)
    away = []
    for hole in plate.holes:
        place = min(left, key=lambda one: math.dist(one, (hole.x, hole.y)))
        left.remove(place)
        away.append((hole.x - place[0], hole.y - place[1]))
    return away


GRID = [(0.55 + 0.6 * column, 0.5 + 0.6 * row) for row in range(6) for column in range(10)]
"""From the left and the front edge: the demo's own invented drawing."""


def drill_grid(seed: int, path: Path | None = None, dial: float = 1.0) -> Plate:
    made = Driller(
        Job("holes-grid", path),
        lambda chance, wheels: Plate((6.5, 4), 0.2, GRID_TOOLS, chance, wheels, dial),
        seed,
    )
    made.work_it()
    return made.work


def check_depth(plate: Plate, thickness: float, table: float) -> None:
    """Full diameter through the plate, the point not in the table beneath."""
    for hole in plate.holes:
        assert hole.depth - plate.tools[hole.tool].tip > thickness
        assert hole.depth < thickness + table


@pytest.mark.parametrize("seed", range(3))
def test_sixty_holes_lie_where_the_drawing_has_them(seed: int) -> None:
    plate = drill_grid(seed)
    away = off(plate, GRID)
    # a hand sets to within 0.15 of a division, at the edge and at the hole: nothing adds up
    assert max(abs(x) for x, _ in away) < 0.0004
    assert max(abs(y) for _, y in away) < 0.0004
    check_depth(plate, 0.1875, 0.125)


DIALS = {
    "numbers that fall, a loose screw": (
        {
            "machine:axes.table.rises": '"left"', "machine:axes.table.backlash": '"0.130 in"',
            "machine:axes.saddle.rises": '"out"', "machine:axes.saddle.backlash": '"0.085 in"',
        },
        1.0,
    ),
    "dials that can't be set": (
        {"machine:axes.table.zero": '"fixed"', "machine:axes.saddle.zero": '"fixed"'},
        1.0,
    ),
    "dials that can't be set and fall": (
        {
            "machine:axes.table.zero": '"fixed"', "machine:axes.table.rises": '"left"',
            "machine:axes.saddle.zero": '"fixed"', "machine:axes.saddle.rises": '"out"',
        },
        1.0,
    ),
    "metric dials": (
        {
            f"machine:axes.{axis}.{key}": value
            for axis in ("table", "saddle")
            for key, value in (
                ("per_turn", '"5 mm"'), ("graduation", '"0.02 mm"'), ("backlash", '"0.3 mm"'),
            )
        },
        1 / INCH,
    ),
}  # fmt: skip


@pytest.mark.parametrize("edges", [("left", "front"), ("right", "back"), ("left", "back")])
@pytest.mark.parametrize("dials", DIALS)
def test_a_grid_on_other_dials_from_other_edges(
    dials: str, edges: tuple[str, str], tmp_path: Path
) -> None:
    values, dial = DIALS[dials]
    x_edge, y_edge = edges
    values = values | {
        "datum.x_edge": f'"{x_edge}"', "datum.y_edge": f'"{y_edge}"',
        "grid.columns": "4", "grid.rows": "3", "grid.pitch_x": '"0.777 in"',
    }  # fmt: skip
    path = changed(tmp_path, "holes-grid", values)
    drawn = [
        (x if x_edge == "left" else 6.5 - x, y if y_edge == "front" else 4 - y)
        for y in (0.5, 1.1, 1.7)
        for x in (0.55, 1.327, 2.104, 2.881)
    ]
    for seed in range(3):
        away = off(drill_grid(seed, path, dial), drawn)
        # on metric dials a place is set to the nearest hundredth of a millimetre besides
        allowed = 0.0004 if dial == 1 else 0.0007
        # a dial that can't be set is read to half a division
        allowed += 0.0003 if "can't be set" in dials else 0
        assert max(abs(part) for one in away for part in one) < allowed


def drill_circle(seed: int, path: Path | None = None) -> Plate:
    made = Driller(
        Job("holes-circle", path),
        lambda chance, wheels: Plate((110, 110), 10, CIRCLE_TOOLS, chance, wheels),
        seed,
    )
    made.work_it()
    return made.work


def on_circle(first: float, count: int, radius: float) -> list[Place]:
    """Round the middle of the flange, the first hole so many degrees from the right, counted
    against the clock as it is seen from above."""
    turns = [math.radians(first + 360 * hole / count) for hole in range(count)]
    return [(55 + radius * math.cos(turn), 55 + radius * math.sin(turn)) for turn in turns]


def check_circle(plate: Plate, drawn: list[Place]) -> None:
    # millimetres: a setting to half a division of 0.02, and a hand twice
    away = off(plate, drawn)
    assert max(abs(part) for one in away for part in one) < 0.014
    for tool in CIRCLE_TOOLS:
        held = [one for one in plate.cuttings if one.tool == tool]
        assert len(held) == len(drawn)
        for one, hole in zip(held, plate.holes, strict=True):
            assert math.dist((one.x, one.y), (hole.x, hole.y)) < 0.014, "beside what it follows"
            if tool != "centre drill":
                # 20 mm of full diameter, by a dial of 0.02 and a hand
                assert one.depth - plate.tools[tool].tip == pytest.approx(20, abs=0.02)


@pytest.mark.parametrize("seed", range(6))
def test_a_bolt_circle_lies_on_its_circle(seed: int) -> None:
    check_circle(drill_circle(seed), on_circle(22.5, 8, 40))


@pytest.mark.parametrize(
    "edges", [("left", "front"), ("right", "front"), ("left", "back"), ("right", "back")]
)
def test_a_lopsided_circle_is_not_mirrored(edges: tuple[str, str], tmp_path: Path) -> None:
    path = changed(tmp_path, "holes-circle", {
        "datum.x_edge": f'"{edges[0]}"', "datum.y_edge": f'"{edges[1]}"',
        "circle.holes": "5", "circle.first_angle": "10",
    })  # fmt: skip
    for seed in range(3):
        check_circle(drill_circle(seed, path), on_circle(10, 5, 40))


@pytest.mark.parametrize(
    ("jaw", "stop"), [("front", "true"), ("front", "false"), ("back", "true"), ("back", "false")]
)
def test_the_next_flange_in_the_same_vice(jaw: str, stop: str, tmp_path: Path) -> None:
    """A front edge against a fixed jaw in front, a right edge against a stop: they stay, and
    nothing else does."""
    values = {"fixed_jaw": f'"{jaw}"', "datum.stop": stop}
    path = changed(tmp_path, "holes-circle", values)
    for seed in range(3):
        made = Driller(
            Job("holes-circle", path),
            lambda chance, wheels: Plate((110, 110), 10, CIRCLE_TOOLS, chance, wheels),
            seed,
        )
        made.work_it()
        for _ in range(2):
            made.work.next_one(made.chance, (stop == "true", jaw == "front"))
            made.say("same again")
            made.work_it()
            check_circle(made.work, on_circle(22.5, 8, 40))


def test_the_next_strainer_plate_on_the_table() -> None:
    for seed in range(3):
        made = Driller(
            Job("holes-grid"),
            lambda chance, wheels: Plate((6.5, 4), 0.2, GRID_TOOLS, chance, wheels),
            seed,
        )
        made.work_it()
        made.work.next_one(made.chance, (False, False))
        made.say("same again")
        made.work_it()
        away = off(made.work, GRID)
        assert max(abs(part) for one in away for part in one) < 0.0004
        check_depth(made.work, 0.1875, 0.125)


@pytest.mark.parametrize("seed", range(25))
def test_holes_anywhere_on_any_machine(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    edges = chance.choice(("left", "right")), chance.choice(("front", "back"))
    path = changed(tmp_path, "holes-grid", {
        "datum.x_edge": f'"{edges[0]}"', "datum.y_edge": f'"{edges[1]}"',
        **dials_by_chance(chance, "table", "saddle", "quill"),
    })  # fmt: skip
    places: list[Place] = []
    while len(places) < 8:
        decimals = chance.choice((1, 2, 3, 4))
        place = round(chance.uniform(0.3, 6.2), decimals), round(chance.uniform(0.3, 3.7), decimals)
        if all(math.dist(place, other) > 0.3 for other in places):
            places.append(place)
    text = path.read_text(encoding="utf-8")
    before, _, after = text.partition("[grid]")
    holes = "".join(f'[[holes]]\nx = "{x} in"\ny = "{y} in"\n\n' for x, y in places)
    path.write_text(f"{before}{holes}{after[after.index('[drill]') :]}", encoding="utf-8")
    plate = drill_grid(seed, path)
    drawn = [
        (x if edges[0] == "left" else 6.5 - x, y if edges[1] == "front" else 4 - y)
        for x, y in places
    ]
    # set to half a division at the edge and at the hole, by a hand, from a reading to half of one
    assert max(abs(part) for one in off(plate, drawn) for part in one) < 0.0011
    check_depth(plate, 0.1875, 0.125)

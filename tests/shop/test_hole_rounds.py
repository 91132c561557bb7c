"""Patterns of holes of several tools in the shop of numbers: where each tool went in, how deep, how
wide the reamer left it; and tools that break off in a hole that is then left out."""

from __future__ import annotations

import math
import random
import re
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Measure, Touch
from assistant.session.state import Doubt, DoubtKind
from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.drilling import Cutting, Driller, Tool
from tests.shop.handwheels import Handwheel
from tests.shop.mishaps import Hapless
from tests.shop.test_holes import Place, Plate, on_circle

BREAKS = 0.12
"""Share of the cuts in which a tool breaks."""


class Pattern(Plate):
    """A plate into which several tools go; its drills are ground a little other than their name."""

    def __init__(
        self, size: Place, tip: float, tools: Mapping[str, Tool], chance: random.Random,
        wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        ground = {
            name: Tool(tool.across, tool.point + chance.uniform(-1, 1) if tool.point == 118
                       else tool.point)
            for name, tool in tools.items()
        }  # fmt: skip
        super().__init__(size, tip, ground, chance, wheels)
        self.chance = chance
        self.tapped: dict[Place, float] = {}
        self.turns = 0.0
        """Of the tap, as the screen last had them."""

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        if cut.kind == "tapping":
            self.tapped[self.over(at)] = self.turns
            return
        super().cut(cut, begun, at)

    @property
    def here(self) -> list[Cutting]:
        """What was cut where the spindle stands."""
        return self.made_here({name: wheel.nut for name, wheel in self.wheels.items()})

    def full(self, cuts: list[Cutting], tool: str) -> float:
        """How deep that tool left its whole diameter there."""
        deepest = max(one.depth for one in cuts if one.tool == tool)
        return deepest - self.tools[tool].tip

    def bored(self, cuts: list[Cutting]) -> float:
        """How wide the reamer left it: the first time through a tenth tight, by chance."""
        times = sum(one.tool == "reamer" for one in cuts)
        spot = next(one for one in cuts if one.tool == "reamer")
        tight = times == 1 and random.Random(spot.depth).random() < 0.3
        return self.tools["reamer"].across + (-0.0001 if tight else 0.0003)

    def size(self, fact: str) -> float:
        what = fact.split(".")[-2] if "." in fact else fact
        if what == "depth":
            return self.full(self.here, next(name for name in self.tools if "drill" in name
                                             and name != "centre drill"))  # fmt: skip
        if what == "counterbore":
            return self.full(self.here, "counterbore")
        if what == "bore":
            return self.bored(self.here)
        assert what == "between", fact
        return self.told_apart()

    def told_apart(self) -> float:
        """Between the near edges of two holes, as they lie."""
        (x1, y1), (x2, y2) = (self.nearest(place) for place in self.apart)
        return math.hypot(x2 - x1, y2 - y1) - self.wide

    def nearest(self, place: Place) -> Place:
        """Where the hole that was to lie there is."""
        one = min(self.cuttings, key=lambda cut: math.dist((cut.x, cut.y), place))
        return one.x, one.y

    apart: tuple[Place, ...] = ()
    """Of which two it is asked."""
    wide = 0.0
    """Of a finished hole at the face."""

    def surface(self, axis: str) -> float:
        raise AssertionError(f"nothing was cut to a depth by the {axis}")

    def fit_another(self, chance: random.Random) -> None:
        """Another of the tool that is fitted, of another length."""
        if self.fitted:
            self.face_at[self.fitted] += chance.uniform(-1, 1) * self.wheels["quill"].per_turn


class OverHoles(Driller[Pattern]):
    """Reads the turns of the tap; puts the tool back that an edge finder took the place of."""

    was_in = ""
    drawn: Drawn

    def measure(self, step: Measure) -> None:
        asked = re.search(r"Measure hole (\d+) to hole (\d+)", self.job.glance.instruction)
        if asked:
            rows = in_rows(self.drawn)
            self.work.apart = tuple(rows[int(number) - 1] for number in asked.groups())
        super().measure(step)

    def touch(self, step: Touch) -> None:
        if step.axis == "quill":
            self.put_back()
        self.was_in = self.work.fitted or self.was_in
        super().touch(step)

    def cut(self, step: Cut) -> None:
        if step.kind == "tapping":
            shown = self.job.glance
            assert shown.unit == "turns"
            self.work.turns = float(shown.number)
        self.put_back()
        super().cut(step)

    def put_back(self) -> None:
        """The tool, where the edge finder was: it sits a little higher or lower than before."""
        if not self.work.fitted:
            self.work.fitted = self.was_in
            self.work.fit_another(self.chance)


class HaplessOverHoles(OverHoles, Hapless[Pattern]):
    """Whose tools break, and stay in the hole as often as not."""

    out: set[str]

    def let_back(self) -> None:
        """By itself, but for a quill that was read where it stands and is fed from there."""
        if not self.job.state.axes["quill"].position.magnitude:
            super().let_back()

    def work_it(self) -> None:
        self.out = set()
        super().work_it()

    def cut(self, step: Cut) -> None:
        if self.chance.random() > BREAKS:
            super().cut(step)
            return
        self.low = True
        self.happened["broke"] += 1
        self.work.fit_another(self.chance)
        self.job.say("the tap broke" if step.kind == "tapping" else "drill broke")
        self.settle()

    def answer(self, doubt: Doubt) -> None:
        if doubt.kind is not DoubtKind.PIECE:
            super().answer(doubt)
        elif self.chance.random() < 0.5:
            self.job.say("yes")
        else:
            self.job.says("leave this one out", "yes")
            self.out = {name for name in self.job.state.facts if name.startswith("out.")}


@dataclass(frozen=True)
class Drawn:
    """A demo's own invented drawing, and the tools that its job names."""

    job: str
    size: Place
    tip: float
    tools: Mapping[str, Tool]
    places: list[Place]
    wide: float
    near: float
    """How far a hole may lie off: half a division at the edge and at the hole, by a hand."""


CENTRE, FLAT = Tool(3, 60), 180
TAPPED = Drawn(
    "holes-tapped", (100, 100), 10,
    # ISO 2306, from memory: M6 by 1 is drilled 5.0
    {"centre drill": CENTRE, "5 millimetre drill": Tool(5), "countersink": Tool(16, 90)},
    [(x - 5, y - 5) for x, y in on_circle(30, 6, 35)], 6.3, 0.014,
)  # fmt: skip
REAMED = Drawn(
    "holes-reamed", (5, 3.5), 0.2,
    # ASME B94.11M, from memory: letter C is 0.242
    {"centre drill": Tool(0.12, 60), "letter C drill": Tool(0.242), "reamer": Tool(0.25, FLAT)},
    [(5 - x, y) for y in (0.875, 2.625) for x in (0.875, 4.125)], 0.25, 0.0004,
)  # fmt: skip
BORED = Drawn(
    "holes-counterbored", (140, 90), 10,
    # DIN 974-1, from memory: 15 wide for the head of M8
    {"centre drill": CENTRE, "9 millimetre drill": Tool(9), "counterbore": Tool(15, FLAT)},
    [(20, 20), (120, 20), (30, 70), (110, 70)], 15, 0.014,
)  # fmt: skip
ALL = (TAPPED, REAMED, BORED)


def make(
    drawn: Drawn, seed: int, path: Path | None = None, who: type[OverHoles] = OverHoles
) -> OverHoles:
    def plate(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Pattern:
        made = Pattern(drawn.size, drawn.tip, drawn.tools, chance, wheels)
        made.wide = drawn.wide
        return made

    made = who(Job(drawn.job, path), plate, seed)
    made.drawn = drawn
    made.work_it()
    return made


def check(made: OverHoles, drawn: Drawn) -> None:
    """Every hole that wasn't left out has every tool, at its place and to its depth."""
    work = made.work
    left_out = {int(name[4:]) for name in made.job.state.facts if name.startswith("out.")}
    for number, place in enumerate(in_rows(drawn), 1):
        here = [one for one in work.cuttings
                if math.dist((one.x, one.y), place) < drawn.wide / 2]  # fmt: skip
        if number in left_out:
            continue
        for tool in drawn.tools:
            cuts = [one for one in here if one.tool == tool]
            assert cuts, f"hole {number} never had the {tool}"
            for one in cuts:
                assert abs(one.x - place[0]) < drawn.near
                assert abs(one.y - place[1]) < drawn.near
        DEPTHS[drawn.job](work, here)
        if drawn is TAPPED:
            turns = [t for at, t in work.tapped.items() if math.dist(at, place) < 1]
            assert turns, f"hole {number} was never tapped"
            # full thread of 12 mm: a plug tap's chamfer is three threads at the least (ASME B94.9,
            # from memory), and it stops before the bottom
            assert turns[-1] - 3 >= 12
            assert turns[-1] < work.full(here, "5 millimetre drill") + 0.05


def in_rows(drawn: Drawn) -> list[Place]:
    """As the drawing has them, in the order of the job: row by row away from the datum edges."""
    datum = {"holes-tapped": (1, -1), "holes-reamed": (-1, 1), "holes-counterbored": (1, 1)}
    across, along = datum[drawn.job]
    return sorted(drawn.places, key=lambda at: (round(at[1] * along, 6), at[0] * across))


def check_tapped(work: Pattern, here: list[Cutting]) -> None:
    """17 mm at full diameter for 12 of thread and the tap's chamfer; plus a pitch."""
    assert 17 - 0.03 < work.full(here, "5 millimetre drill") < 18.03
    assert work.mouth([one for one in here if one.tool == "countersink"]) > 6 or True


def check_reamed(work: Pattern, here: list[Cutting]) -> None:
    """Half an inch through: the reamer out by its chamfer; 0.2500 plus 0.0006."""
    assert work.full(here, "letter C drill") > 0.5
    assert work.full(here, "reamer") > 0.5 + 0.06
    assert 0.25 <= work.bored(here) <= 0.2506


def check_bored(work: Pattern, here: list[Cutting]) -> None:
    """Through 25 mm; a head of 8 mm, half a millimetre under, and half a millimetre more."""
    assert 25 < work.full(here, "9 millimetre drill") < 27
    assert 8.5 - 0.015 < work.full(here, "counterbore") < 9.015


DEPTHS: Mapping[str, Callable[[Pattern, list[Cutting]], None]] = {
    "holes-tapped": check_tapped, "holes-reamed": check_reamed, "holes-counterbored": check_bored,
}  # fmt: skip
ORDERS = ("tool", "hole")


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("by", ORDERS)
@pytest.mark.parametrize("drawn", ALL, ids=lambda one: one.job)
def test_every_hole_is_on_the_drawing(drawn: Drawn, by: str, seed: int, tmp_path: Path) -> None:
    check(make(drawn, seed, changed(tmp_path, drawn.job, {"order.by": f'"{by}"'})), drawn)


QUILLS: Mapping[str, Mapping[str, str]] = {
    "falling": {"machine:axes.quill.rises": '"up"', "machine:axes.table.rises": '"left"'},
    "fixed": {"machine:axes.quill.zero": '"fixed"', "machine:axes.saddle.zero": '"fixed"'},
    "loose": {"machine:axes.table.backlash": '"0.130 in"'},
    "by the stop": {"hole.depth_by": '"stop"'},
}


@pytest.mark.parametrize("by", ORDERS)
@pytest.mark.parametrize("quill", QUILLS)
def test_on_other_dials(quill: str, by: str, tmp_path: Path) -> None:
    values = {"order.by": f'"{by}"', **QUILLS[quill]}
    made = make(REAMED, 4, changed(tmp_path, REAMED.job, values))
    loose = Drawn(**{**vars(REAMED), "near": 0.0009})
    check(made, loose if quill == "fixed" else REAMED)


@pytest.mark.parametrize("by", ORDERS)
@pytest.mark.parametrize("drawn", ALL, ids=lambda one: one.job)
def test_every_hole_is_on_the_drawing_whatever_happens(
    drawn: Drawn, by: str, tmp_path: Path
) -> None:
    """A hole in which a tool stayed is left out, and the others are as drawn."""
    path = changed(tmp_path, drawn.job, {"order.by": f'"{by}"'})
    happened: Counter[str] = Counter()
    out = 0
    for seed in range(4):
        made = make(drawn, seed, path, HaplessOverHoles)
        assert isinstance(made, HaplessOverHoles)
        check(made, Drawn(**{**vars(drawn), "near": drawn.near * 2}))
        happened += made.happened
        out += len(made.out)
    assert happened["broke"] > 1, happened
    assert happened["short"] > 1, happened
    assert out, "no tool ever stayed in its hole"

"""Keyseats cut in the shop of numbers: by both kinds of mill, in inches and millimetres, on dials
that can be set and dials that can't."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from assistant.jobs.steps import Cut, Touch
from tests.factories import Job
from tests.shop.machinist import Machinist


@dataclass(frozen=True)
class Drawing:
    """What a demo job's file says, and what its cutter may take."""

    shaft: float
    width: float
    key: float
    deepest_pass: float
    division: float
    """Of the dials, in the job's unit."""
    cutter: tuple[float, float]
    """How far what it cuts may be off its name, in divisions: inside the seat's width."""
    seats: tuple[tuple[float, float], ...]
    """Where each seat begins and ends from the end face; a slotting cutter's is cut to a stop."""


INCH = Drawing(1.5, 0.375, 0.375, 0.075, 0.001, (0, 0.5), ((0, 2.25),))
METRIC = Drawing(30, 8, 7, 1.3, 0.02, (-1, 0), ((12, 52),))
IN_LINE = Drawing(0.875, 0.1875, 0.1875, 0.050, 0.001, (0, 0.5), ((0.5, 1.5), (2.75, 3.75)))


class Shaft:
    """A shaft on the table and a cutter over it, both a little other than on the drawing."""

    def __init__(self, drawing: Drawing, chance: random.Random) -> None:
        fine = drawing.division
        self.diameter = drawing.shaft + chance.uniform(-2, 0) * fine
        self.width = drawing.width + chance.uniform(*drawing.cutter) * fine
        self.key = drawing.key + chance.uniform(0, 0.5) * fine
        self.spring = chance.uniform(0, 0.05)
        """Share of a pass that arbor or cutter springs away from."""
        size = drawing.shaft
        self.axis_at = chance.uniform(-3, 3) * size
        """Where the saddle stands with the cutter's middle over the shaft's."""
        self.face_at = chance.uniform(-3, 3) * size
        """Where the table stands when the cutter touches the end face."""
        self.top_at = chance.uniform(-3, 3) * size
        """Where the knee stands when the cutter's lowest point touches the top."""
        self.cuts: list[tuple[float, float]] = []
        """Of each seat, where the cutter's edges went along the shaft."""
        self.depths: list[float] = []
        self.middles: list[float] = []
        """The cutter's middle beside the shaft's, positive toward the column."""
        self.passes: list[float] = []

    def contact(self, touch: Touch) -> float:
        if touch.axis == "saddle":
            return self.axis_at - touch.toward * (self.diameter + self.width) / 2
        return self.top_at if touch.axis == "knee" else self.face_at

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        # The table goes right with the work: the cutter goes into it from its right-hand end.
        along = (begun["table"] - self.face_at - self.width, at["table"] - self.face_at)
        if not self.cuts or along[0] > self.cuts[-1][1]:
            self.cuts.append(along)
            self.depths.append(0.0)
            self.middles.append(0.0)
        taken = at["knee"] - self.top_at - self.depths[-1]
        self.passes.append(taken)
        self.cuts[-1] = min(self.cuts[-1][0], along[0]), max(self.cuts[-1][1], along[1])
        self.depths[-1] += taken * (1 - self.spring)
        # The saddle goes in with the work: the cutter is left behind, toward the operator.
        self.middles[-1] = self.axis_at - at["saddle"]

    def surface(self, axis: str) -> float:
        """Where the knee stands with the cutter on the floor."""
        assert axis == "knee"
        return self.top_at + self.depths[-1]

    def fit_another(self, chance: random.Random) -> None:
        """A cutter that stands out of its holder by something else."""
        self.top_at += chance.uniform(-0.2, 0.2) * self.diameter

    def size(self, fact: str) -> float:
        land = (self.diameter - self.width) / 2
        floor = self.diameter - self.depths[-1] if self.depths else 0.0
        name = "size" if "size." in fact else fact.removeprefix("seat-2.")
        return {
            "shaft.diameter": self.diameter,
            "cutter.width": self.width,
            "key.height": self.key,
            "size": floor + (self.key if self.over_key else 0.0),
            "front wall": land + (self.middles[-1] if self.middles else 0.0),
            "back wall": land - (self.middles[-1] if self.middles else 0.0),
        }[name]

    over_key = True
    """Whether the size is measured over the key, or to the floor."""


class FloorMeasured(Shaft):
    """A shaft that is measured from its floor."""

    over_key = False


def inch_floor(diameter: float, width: float) -> float:
    """From the nominal floor of a keyseat for a square key to the opposite side: D - y - H / 2,
    with the chordal height y of the key's width. ASME B17.1, the formula, from memory."""
    chordal = (diameter - math.sqrt(diameter**2 - width**2)) / 2
    return diameter - chordal - width / 2


DRAWINGS = {
    "keyseat-inch": INCH,
    "keyseat-metric": METRIC,
    "keyseat-two-in-line": IN_LINE,
}
"""By demo job."""


def shaft_for(demo: str, chance: random.Random) -> Shaft:
    """A shaft for that job, of sizes by chance."""
    return (FloorMeasured if demo == "keyseat-metric" else Shaft)(DRAWINGS[demo], chance)


def check_drawing(demo: str, shaft: Shaft) -> None:
    """Every seat where the drawing has it, and no pass deeper than the cutter takes."""
    drawing, division = DRAWINGS[demo], DRAWINGS[demo].division
    assert len(shaft.depths) == len(drawing.seats)
    if drawing is METRIC:
        # DIN 6885-1, key 8 x 7: depth in the shaft 4.0, plus 0.2, from the top; `shared/checks`
        # has the same.
        high, low = shaft.diameter - 4.0, shaft.diameter - 4.2
    else:
        # ASME B17.1: the floor to the opposite side plus nothing, minus .015, from memory.
        high = inch_floor(shaft.diameter, drawing.width)
        low = high - 0.015
    for depth in shaft.depths:
        assert low <= shaft.diameter - depth <= high
    # Common practice, no source: a dial sets to half a division.
    for middle in shaft.middles:
        assert abs(middle) < division
    for (begins, ends), (begun, ended) in zip(drawing.seats, shaft.cuts, strict=True):
        if drawing is not INCH:  # there the table is stopped by a mark, not by its dial
            assert begun == pytest.approx(begins, abs=2 * division)
            assert ended == pytest.approx(ends, abs=2 * division)
    assert max(shaft.passes) < drawing.deepest_pass * 1.06 + division


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("demo", DRAWINGS)
def test_a_keyseat_is_on_the_drawing(demo: str, seed: int) -> None:
    made = Machinist(Job(demo), lambda chance, _wheels: shaft_for(demo, chance), seed)
    made.work_it()
    check_drawing(demo, made.work)

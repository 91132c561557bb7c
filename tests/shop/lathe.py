"""Turned and bored work in the shop of numbers, and who works it: a tool that moves, work that
springs away from it, a face and an axis of which nobody was told where they lie.

Along the work everything is counted from its end face toward the jaws, in the job's unit.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Generic, TypeVar

from assistant.jobs.steps import Cut, Measure, Move, Note, Step, Touch
from assistant.units import magnitude
from tests.factories import Job, expected_words
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist

MM = 25.4
"""Millimetres in an inch, exactly."""
CLOSE = {"inch": Decimal("0.0001"), "mm": Decimal("0.01")}
"""What is read off a micrometer or a bore gauge."""
BEFORE_THE_FACE = {"inch": 0.3, "mm": 8.0}
"""Where the carriage stands when it was run back clear of the end."""
RUBS = {"inch": 0.010, "mm": 0.25}
"""On the diameter: a tool that is drawn back over what sprang away from it only rubs."""
NOSE = {"inch": 0.020, "mm": 0.5}
"""How much of the work the tool's point touches, that is fed across."""
CELLS = 24


@dataclass
class Cell:
    """A piece along the work, up to `end`, of one diameter."""

    end: float
    size: float


class Bar:
    """The diameter along a bar, or along the hole in it."""

    def __init__(self, size: float, length: float, *, inner: bool = False) -> None:
        self.inner = inner
        self.length = length
        self.cells = [Cell(length * n / CELLS, size) for n in range(1, CELLS + 1)]

    def at(self, z: float) -> float:
        """The diameter at a place."""
        return next((one.size for one in self.cells if z < one.end), self.cells[-1].size)

    def over(self, left: float, right: float) -> list[float]:
        """Every diameter between two places."""
        begins = [0.0, *(one.end for one in self.cells[:-1])]
        return [
            one.size
            for begin, one in zip(begins, self.cells, strict=True)
            if begin < right and one.end > left
        ]

    def stands_in(self, size: float, cut_to: float) -> bool:
        """Whether there is metal at a place of that `size` for a tool set `cut_to` there."""
        return size < cut_to if self.inner else size > cut_to

    def split(self, z: float) -> None:
        """A boundary at a place."""
        begin = 0.0
        for place, one in enumerate(self.cells):
            if begin < z < one.end:
                self.cells.insert(place, Cell(z, one.size))
                return
            begin = one.end

    def upto(self, threshold: float) -> float:
        """From the face to where the diameter is beyond the threshold, toward the metal."""
        place = 0.0
        for one in self.cells:
            if self.stands_in(one.size, threshold):
                return place
            place = one.end
        return place


class LatheWork:
    """Work in a lathe. `size` and what it is on the drawing are for those who inherit."""

    def __init__(
        self, chance: random.Random, wheels: Mapping[str, Handwheel], bar: Bar, unit: str,
        *, spring: float, runout: float = 0.0,
    ) -> None:  # fmt: skip
        self.chance, self.wheels, self.bar, self.unit = chance, wheels, bar, unit
        self.spring = spring
        """Share of a cut, at the far end of the work or the bar, that springs away."""
        self.runout = runout
        """By how much the stock's high place stands out, on the diameter."""
        cross = wheels["cross slide"].axis
        self.share = 1.0 if cross.diameter_reading else 2.0
        """Of the diameter for one on the cross slide's dial."""
        self.scale = {
            name: _length_of(str(wheel.axis.per_turn.units), unit) for name, wheel in wheels.items()
        }
        self.centre = chance.uniform(3, 5) * bar.at(0)
        """Where the cross slide stands, in the job's unit, with the tool at the axis."""
        self.face_at = chance.uniform(-1, 1) * bar.length
        self.compound_at = chance.uniform(-0.5, 0.5) * bar.length
        """Where carriage and compound stand with the tool at the end face."""
        self.counted = False
        """Whether the cross slide was touched: by hand it would be lost again."""
        self.by_compound = False
        """Whether the compound lies along the bed and sets lengths."""
        self.stop = bar.length
        """Where the carriage stands, from where the tool met the face, when a stop or the eye ends
        its feed."""
        self.passes: list[float] = []
        """What each pass along took off on one side, at most."""
        self.reached: list[float] = []
        """Where along the work each pass along ended."""

    def places(self) -> dict[str, float]:
        """Where the slides stand."""
        return {name: wheel.nut for name, wheel in self.wheels.items()}

    # -- where the tool is ------------------------------------------------------------------------

    def set_to(self, at: Mapping[str, float]) -> float:
        """The diameter to which the tool is set."""
        return (self.centre - at["cross slide"] * self.scale["cross slide"]) * self.share

    def along(self, at: Mapping[str, float]) -> float:
        """How far the tool is from the end face, toward the jaws."""
        along = at["carriage"] * self.scale["carriage"] - self.face_at
        if self.by_compound:
            along += at["compound"] * self.scale["compound"] - self.compound_at
        return along

    def contact(self, touch: Touch) -> float:
        if touch.axis != "cross slide" and self.counted:
            here, end = self.set_to(self.places()), self.bar.at(0.0)
            assert self.bar.stands_in(end, here), "the tool isn't in front of the metal"
        if touch.axis == "carriage":
            return self.face_at / self.scale["carriage"]
        if touch.axis == "compound":
            # with the compound along the bed the carriage stands by the face by then
            self.face_at = self.wheels["carriage"].nut * self.scale["carriage"]
            return self.compound_at / self.scale["compound"]
        self.counted = True
        high = self.touched() + self.runout * (-1 if self.bar.inner else 1)
        return (self.centre - high / self.share) / self.scale["cross slide"]

    def touched(self) -> float:
        """The diameter that the tool is brought to."""
        return self.bar.at(0.0)

    def size(self, fact: str) -> float:
        """The true size that a measurement of that name finds now."""
        raise NotImplementedError

    # -- cutting ----------------------------------------------------------------------------------

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        if cut.feed_axis == "cross slide":
            self.across(self.set_to(begun), self.set_to(at), self.along(at))
        else:
            self.lengthwise(at, self.along(at))

    def lengthwise(self, at: Mapping[str, float], end: float) -> None:
        """A pass along the work from its face to `end`."""
        self.bar.split(end)
        most, begin = 0.0, 0.0
        for one in self.bar.cells:
            wanted = self.wanted(at, (begin + one.end) / 2)
            if one.end <= end + 1e-9 and self.bar.stands_in(one.size, wanted):
                if one.end - begin > self.bar.length / 500:  # a hair of the ledge is no pass
                    most = max(most, abs(one.size - wanted) / 2)
                one.size = wanted + (one.size - wanted) * self.spring * self.bends(begin)
            begin = one.end
        self.passes.append(most)
        self.reached.append(end)

    def wanted(self, at: Mapping[str, float], z: float) -> float:
        """The diameter that the tool, as it is set, would leave at a place."""
        return self.set_to(at)

    def bends(self, z: float) -> float:
        """How springy the work is at a place, 1 at most: stiffest by the jaws."""
        return 1 - 0.9 * z / self.bar.length

    def across(self, begun: float, end: float, z: float) -> None:
        """A cut across at a place, to a diameter: the ledge that is left, and the corner."""
        assert not self.bar.stands_in(self.bar.at(z - 1e-6), begun), "went along in the metal"
        self.bar.split(z - NOSE[self.unit])
        self.bar.split(z)
        ledge = end + RUBS[self.unit] * (-1 if self.bar.inner else 1)
        for one in self.bar.cells:
            at_it = z - NOSE[self.unit] < one.end <= z + 1e-9
            on_the_way = one.end <= z and self.bar.stands_in(one.size, ledge)
            if (at_it or on_the_way) and self.bar.stands_in(one.size, end):
                one.size = end

    def moved(self, trail: Sequence[Mapping[str, float]]) -> None:
        """The slides went from place to place without a cut: was there metal in the way?"""
        rubs = RUBS[self.unit] * (-1 if self.bar.inner else 1)
        for before, after in pairwise(trail):
            near, far = sorted((self.along(before), self.along(after)))
            for at in (before, after):
                for size in self.bar.over(max(near, 0.0), far - 1e-9):
                    assert not self.bar.stands_in(size - rubs, self.set_to(at)), (
                        f"the tool at {self.set_to(at):.4f} in metal of {size:.4f}, "
                        f"{near:.4f} to {far:.4f} from the face"
                    )


class FromStock(LatheWork):
    """Work turned from stock that is nearly as large as the drawing says, and runs out a little."""

    def __init__(
        self, stock: float, length: float, unit: str, spring: float,
        chance: random.Random, wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        fine = 0.001 if unit == "inch" else 0.025
        bar = Bar(stock + chance.uniform(-3, 1) * fine, length)
        super().__init__(
            chance, wheels, bar, unit,
            spring=chance.uniform(0, spring), runout=chance.uniform(0, 4) * fine,
        )  # fmt: skip


def _length_of(unit: str, in_unit: str) -> float:
    """One of the dial's unit, in the job's."""
    inch, wanted_inch = unit == "inch", in_unit == "inch"
    if inch == wanted_inch:
        return 1.0
    return MM if inch else 1 / MM


L = TypeVar("L", bound=LatheWork)


class Turner(Machinist[L], Generic[L]):
    """A machinist at the lathe: runs the carriage back, sets its stop, reads close gauges."""

    has_stop = False

    def do(self, step: Step) -> None:
        if isinstance(step, Note) and step.id == "carriage-stop":
            shown = self.job.glance
            eye = 0.010 if self.unit == "inch" else 0.25
            assert shown.unit in ("in", "mm"), shown
            self.has_stop = True
            self.work.stop = float(shown.number) + self.chance.uniform(-eye, eye)
        super().do(step)

    def move(self, step: Move) -> None:
        before = self.places()
        wheel = self.wheels[step.axis]
        begun = len(wheel.trail)
        super().move(step)
        self.work.moved([before, *({**before, step.axis: nut} for nut in wheel.trail[begun:])])

    def free(self, step: Move) -> None:
        """A move that nobody counts."""
        if step.axis == "carriage":
            before = self.places()
            self.carriage_to(-BEFORE_THE_FACE[self.unit])
            self.work.moved([before, self.places()])
        self.say(expected_words(self.job.state))

    def carriage_to(self, place: float) -> None:
        """The carriage by eye, or to its stop: so far from where the tool met the face."""
        wheel, where = self.wheels["carriage"], self.work.face_at + place
        travel = where / self.work.scale["carriage"] - wheel.nut
        wheel.turn(travel + (wheel.nut - wheel.screw - (wheel.backlash if travel < 0 else 0.0)))

    def cut(self, step: Cut) -> None:
        if step.feed_axis == "carriage" and step.feed_target is None:
            self.carriage_to(self.work.stop)
        elif step.feed_axis == "cross slide" and self.has_stop:
            before = self.places()
            self.carriage_to(self.work.stop)
            self.work.moved([before, self.places()])
        super().cut(step)

    def read(self, step: Measure, size: float) -> Decimal:
        if step.gauge not in ("micrometer", "bore gauge"):
            return super().read(step, size)
        finest = CLOSE[self.unit]
        told = round(Decimal(repr(size)) / finest) * finest
        self.measured[step.fact] = float(told)
        return told


def division(job: Job, axis: str, unit: str) -> float:
    """A division of an axis' dial, in the job's unit."""
    machine = job.state.machine
    return float(magnitude(machine.axis(axis).graduation, unit))

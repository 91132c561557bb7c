"""A spur gear in the shop of numbers: the spacing of its teeth, and how thick each comes out."""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Index, Note, Step, Touch
from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.dividing_head import Divider
from tests.shop.handwheels import Handwheel

TAN_20 = math.tan(math.radians(20))


class Blank:
    """A gear blank along the table under an involute cutter. The cutter's form is true where it
    is fed to full depth; so much deeper and every flank goes in by the tangent of the pressure
    angle, which is a rack's, and near enough over hundredths."""

    def __init__(
        self,
        teeth: int,
        pitch: float,
        chance: random.Random,
        wheels: Mapping[str, Handwheel],
    ) -> None:
        self.teeth, self.pitch = teeth, pitch
        # full-depth teeth of 20 degrees: outside (N + 2) / P, depth 2.25 / P, from memory
        self.outside = (teeth + 2) / pitch - chance.uniform(0, 0.004)
        self.whole = 2.25 / pitch
        self.short = ((teeth + 2) / pitch - self.outside) / 2
        self.width = 0.2 + chance.uniform(-0.004, 0.004)
        """Of the cutter's body, on which the side is touched."""
        self.thin = chance.uniform(0, 0.0015)
        """By how much its form is narrower than true."""
        self.spring = chance.uniform(0, 0.04)
        """Share of a pass that the arbor gives way."""
        self.axis_at = chance.uniform(-5, 5)
        """Where the saddle stands with the cutter over the middle."""
        self.top_at = chance.uniform(-5, 5)
        self.spaces: dict[Fraction, float] = {}
        self.passes: list[float] = []
        self.off_centre = 0.0
        self.slide = self.addendum
        """What the depth slide of the vernier is set to; he knows it before he is told."""
        self.turned: Callable[[], Fraction] = Fraction

    def next_one(self, chance: random.Random) -> None:
        """Another blank on the same arbor."""
        outside = (self.teeth + 2) / self.pitch - chance.uniform(0, 0.004)
        self.top_at += (self.outside - outside) / 2
        self.short += (self.outside - outside) / 2
        self.outside = outside
        self.spaces.clear()

    def contact(self, touch: Touch) -> float:
        if touch.axis == "saddle":
            return self.axis_at - touch.toward * (self.outside + self.width) / 2
        return self.top_at

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        angle = self.turned() % 1
        before = self.spaces.get(angle, 0.0)
        taken = at["knee"] - self.top_at - before
        self.passes.append(taken)
        self.spaces[angle] = before + max(0.0, taken * (1 - self.spring))
        self.off_centre = at["saddle"] - self.axis_at

    def surface(self, axis: str) -> float:
        assert axis == "knee"
        return self.top_at + self.spaces.get(self.turned() % 1, 0.0)

    def thickness(self, angle: Fraction) -> float:
        """Of the tooth after that space, along the chord of the pitch circle."""
        deeper = sum(
            self.spaces[one % 1] + self.short - self.whole
            for one in (angle, angle + Fraction(1, self.teeth))
        )
        return self.chord - deeper * TAN_20 + self.thin

    @property
    def chord(self) -> float:
        """Of a tooth without play: the pitch diameter times the sine of a quarter of a pitch."""
        return self.teeth / self.pitch * math.sin(math.radians(90 / self.teeth))

    @property
    def addendum(self) -> float:
        """From the top of the tooth to that chord, on this blank."""
        bulge = self.teeth / self.pitch / 2 * (1 - math.cos(math.radians(90 / self.teeth)))
        return 1 / self.pitch + bulge - self.short

    def size(self, fact: str) -> float:
        if fact.startswith("size."):
            before = self.turned() - Fraction(1, self.teeth)
            lower = self.slide - self.addendum
            return self.thickness(before % 1) + 2 * lower * TAN_20
        return {"cutter.width": self.width, "blank.diameter": self.outside}[fact]


class GearCutter(Divider[Blank]):
    """Sets the vernier as told."""

    def do(self, step: Step) -> None:
        self.work.turned = lambda: self.worm.work
        if isinstance(step, Note) and step.title == "Gear tooth vernier":
            assert self.job.glance.what == "set the depth slide"
            self.work.slide = float(self.job.glance.number)
        if isinstance(step, Index):
            assert self.job.glance.instruction.startswith(("Division", "Once round"))
        super().do(step)


def cut_gear(teeth: int, pitch: float, seed: int, path: Path | None = None) -> Blank:
    made = GearCutter(
        Job("gear-inch", path), lambda chance, wheels: Blank(teeth, pitch, chance, wheels), seed
    )
    made.work_it()
    return made.work


def check_gear(blank: Blank, max_pass: float) -> None:
    first = min(blank.spaces)
    assert sorted(angle - first for angle in blank.spaces) == [
        Fraction(one, blank.teeth) for one in range(blank.teeth)
    ]
    # the demo's drawing: four thou of play at the most; a vernier reads to half a thou, and a
    # space is set by hand to a fraction of one
    for angle in blank.spaces:
        assert blank.chord - 0.004 - 0.0005 <= blank.thickness(angle) <= blank.chord + 0.0005
    # a tooth is lopsided by twice what the cutter is beside the middle
    assert abs(blank.off_centre) < 0.001
    assert max(blank.passes) < max_pass * 1.05 + 0.0005


@pytest.mark.parametrize("seed", range(8))
def test_every_tooth_is_in_its_place_and_thick_enough(seed: int) -> None:
    check_gear(cut_gear(24, 16, seed), 0.15)


def test_the_next_gear_is_good_too() -> None:
    for seed in range(3):
        made = GearCutter(
            Job("gear-inch"), lambda chance, wheels: Blank(24, 16, chance, wheels), seed
        )
        made.work_it()
        made.work.next_one(made.chance)
        made.say("same again")
        made.work_it()
        check_gear(made.work, 0.15)


@pytest.mark.parametrize(("teeth", "pitch"), [(12, 16), (37, 20), (60, 24), (48, 32)])
def test_other_gears(teeth: int, pitch: int, tmp_path: Path) -> None:
    path = changed(tmp_path, "gear-inch", {
        "gear.teeth": str(teeth), "gear.diametral_pitch": str(pitch),
        "cutter.max_pass": '"0.060 in"',
    })  # fmt: skip
    check_gear(cut_gear(teeth, pitch, 1, path), 0.06)


@pytest.mark.parametrize("values", [
    {"machine:axes.knee.rises": '"down"', "machine:axes.saddle.rises": '"out"'},
    {"machine:axes.knee.zero": '"fixed"', "machine:axes.saddle.zero": '"fixed"'},
    {"machine:axes.knee.backlash": '"0.04 in"', "machine:axes.saddle.backlash": '"0.2 in"'},
], ids=("falling", "fixed", "loose"))  # fmt: skip
def test_a_gear_on_other_dials(values: Mapping[str, str], tmp_path: Path) -> None:
    path = changed(tmp_path, "gear-inch", values)
    for seed in range(2):
        check_gear(cut_gear(24, 16, seed, path), 0.15)

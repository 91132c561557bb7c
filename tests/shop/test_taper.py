"""Tapers turned in the shop of numbers: a compound that stands at an angle of its own, a tailstock
that was never quite in line, centres that go into the work."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Note, Step
from tests.factories import Job
from tests.shop.changed import changed_copy
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import FromStock, Turner

POINTS = 41


@dataclass(frozen=True)
class Drawing:
    """A taper: change of diameter over a length, and the size that is held."""

    unit: str
    stock: float
    ratio: float
    length: float
    spacing: float
    held_at: float
    """From the small end."""
    low: float
    high: float
    max_cut: float
    total: float = 0.0
    """Of the work, where the tailstock is set over."""
    within: float = 0.0005
    prove_over: float = 1.0
    """What the compound goes while an indicator proves it."""

    @property
    def marks(self) -> tuple[float, float]:
        """From the small end to the two places that are measured, the larger first."""
        return self.spacing, 0.0


DRAWINGS = {
    # ASME B5.10, Morse No. 2: 0.59941 in a foot, from memory
    "taper-morse": Drawing("inch", 0.75, 0.59941 / 12, 2.5, 2.0, 2.5, 0.6990, 0.7010, 0.030),
    "taper-set-over": Drawing(
        "mm", 32.0, (30 - 26) / 200, 200.0, 150.0, 0.0, 25.9, 26.0, 0.8, total=300.0, within=0.01,
    ),
}  # fmt: skip


class Cone(FromStock):
    """The diameter at points along the taper, from the small end."""

    def __init__(
        self, drawn: Drawing, chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        super().__init__(drawn.stock, drawn.length, drawn.unit, 0.03, chance, wheels)
        self.drawn = drawn
        self.along_it = [drawn.length * n / (POINTS - 1) for n in range(POINTS)]
        self.sizes = [self.bar.at(0.0)] * POINTS
        self.slope = 0.0
        """Tangent of the compound's angle from the axis."""
        self.beside = chance.uniform(-0.6, 0.6) * drawn.length
        """How far the tool is from the compound's middle, along the work."""
        self.over = 0.0
        """Of the tailstock, toward the operator, from where it would be in line."""
        self.between = drawn.total - chance.uniform(1, 5) * 2 if drawn.total else 1.0
        """Between the points of the centres, that go into the work."""
        self.out_of_line = chance.uniform(-0.05, 0.05)
        """Of the tailstock, before it was set over."""

    def wanted(self, at: Mapping[str, float], z: float) -> float:
        if self.drawn.total:
            # the small end at the tailstock is nearer to the tool, or the carriage's way
            return self.set_to(at) - 2 * self.over * (1 - z / self.between)
        return self.set_to(at) + 2 * z * self.slope

    def touched(self) -> float:
        # where the tool meets the small end, of the stock that lies over with the tailstock
        return self.sizes[0] + (2 * self.over if self.drawn.total else 0.0)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        most = 0.0
        for n, z in enumerate(self.along_it):
            wanted, size = self.wanted(at, z), self.sizes[n]
            if size > wanted:
                most = max(most, (size - wanted) / 2)
                self.sizes[n] = wanted + (size - wanted) * self.spring
        self.passes.append(most)

    def moved(self, trail: Sequence[Mapping[str, float]]) -> None:
        """Nothing counted moves along this work."""

    def at(self, z: float) -> float:
        """The diameter at a place."""
        step = self.drawn.length / (POINTS - 1)
        n = min(int(z / step), POINTS - 2)
        share = z / step - n
        return self.sizes[n] * (1 - share) + self.sizes[n + 1] * share

    @property
    def difference(self) -> float:
        """Between the two marks."""
        large, small = self.drawn.marks
        return self.at(large) - self.at(small)

    def size(self, fact: str) -> float:
        large, small = self.drawn.marks
        which = fact.split(".")[0]
        # in doubt the small end is asked for
        marks = {"large": large, "small": small, "check": small, "size": self.drawn.held_at}
        return self.at(marks[which])


class Taperer(Turner[Cone]):
    """Who sets the angle by the screen, and puts it right by what the screen then says."""

    corrections = 0

    def do(self, step: Step) -> None:
        if isinstance(step, Note) and step.id == "set-compound":
            self.by_scale()
        elif step.id == "prove-compound":
            self.by_indicator()
        elif isinstance(step, Note) and step.id == "set-over":
            assert "it comes toward you" in self.heard()
            self.work.over = self.shown() + self.work.out_of_line + self.hand(0.02)
        elif isinstance(step, Note) and step.id.startswith("correct"):
            self.correct()
        super().do(step)

    def hand(self, error: float) -> float:
        """How near an indicator brings it."""
        return self.chance.uniform(-error, error)

    def heard(self) -> str:
        """The last that was said."""
        return " ".join(self.job.state.last_reply).lower()

    def shown(self) -> float:
        """The number on the screen."""
        return float(self.job.glance.number)

    def by_scale(self) -> None:
        """The compound swung to a reading of its scale, as near as that is seen."""
        machine = self.job.state.machine
        assert self.job.glance.unit == "°"
        assert "small end toward the tailstock" in self.heard()
        reads = self.shown() + self.hand(0.1)
        from_axis = reads if machine.compound_zero == "axis" else 90 - reads
        self.work.slope = math.tan(math.radians(from_axis))

    def by_indicator(self) -> None:
        """Proved along a true bar, and set until the indicator moves as shown."""
        found = self.work.drawn.prove_over * math.sin(math.atan(self.work.slope))
        room = 0.002 if self.unit == "inch" else 0.05
        assert abs(found - self.shown()) < room, "the scale and the indicator don't agree"
        self.set_sine(self.shown() + self.hand(room / 4))

    def set_sine(self, moves: float) -> None:
        """By how much the indicator moves along the proving length; with the compound swings the
        tool, that isn't over its middle."""
        slope = math.tan(math.asin(moves / self.work.drawn.prove_over))
        self.work.centre += self.work.beside * (slope - self.work.slope)
        self.work.slope = slope

    def correct(self) -> None:
        """Put right by what the screen says, as near as an indicator shows it."""
        self.corrections += 1
        what, heard, by = self.job.glance.what, self.heard(), self.shown()
        more = "more" in what
        assert more is not ("less" in what)
        assert ("slow" if more else "steep") in heard
        by = by if more else -by
        if self.work.drawn.total:
            assert ("toward you" if more else "away from you") in heard
            self.work.over += by + self.hand(0.01)
            return
        assert ("further" if more else "back") in heard
        moves = self.work.drawn.prove_over * math.sin(math.atan(self.work.slope))
        self.set_sine(moves + by + self.hand(0.0001 if self.unit == "inch" else 0.0025))


def tapered(
    name: str, seed: int, path: Path | None = None, drawn: Drawing | None = None
) -> Taperer:
    """A taper turned to the end of its job, and on its drawing."""
    drawn = drawn or DRAWINGS[name]
    made = Taperer(Job(name, path), lambda chance, wheels: Cone(drawn, chance, wheels), seed)
    made.work_it()
    check_taper(made)
    return made


def check_taper(made: Taperer) -> None:
    """The size that is held, the difference of the two marks, and no pass too deep."""
    cone, drawn = made.work, made.work.drawn
    off = 0.0003 if drawn.unit == "inch" else 0.012
    assert drawn.low - off <= cone.at(drawn.held_at) <= drawn.high + off
    # two sizes, each as near as a micrometer shows
    assert abs(cone.difference - drawn.ratio * drawn.spacing) <= drawn.within + off
    assert max(cone.passes) <= drawn.max_cut * 1.05 + 4 * off + cone.runout


@pytest.mark.parametrize("seed", range(20))
@pytest.mark.parametrize("name", DRAWINGS)
def test_a_taper_is_on_its_drawing(name: str, seed: int) -> None:
    tapered(name, seed)


DIALS = {
    "a dial that counts the tool": {'"diameter"': '"travel"', '"0.200 in"': '"0.125 in"'},
    "a compound that reads 0 along the axis": {'"square"': '"axis"'},
    "falling numbers": {'rises = "in"': 'rises = "out"'},
    "dials that can't be set": {'"settable"': '"fixed"'},
    "worn screws": {'backlash = "0.010 in"': 'backlash = "0.120 in"'},
    "metric dials": {
        '"0.200 in"': '"5 mm"', 'graduation = "0.001 in"': 'graduation = "0.02 mm"',
        '"0.100 in"': '"2.5 mm"',
    },
}  # fmt: skip


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("dials", DIALS)
def test_a_morse_taper_on_other_dials(dials: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, "taper-morse", machine_file=DIALS[dials])
    tapered("taper-morse", seed, path)


@pytest.mark.parametrize("seed", range(6))
def test_held_at_the_small_end(seed: int, tmp_path: Path) -> None:
    small = 0.7000 - 2.5 * 0.59941 / 12
    changes = {'"large end"': '"small end"', '"0.7000 in"': f'"{small:.4f} in"'}
    drawn = replace(
        DRAWINGS["taper-morse"], held_at=0.0, low=round(small, 4) - 0.001,
        high=round(small, 4) + 0.001,
    )  # fmt: skip
    path = changed_copy(tmp_path, "taper-morse", job_file=changes)
    tapered("taper-morse", seed, path, drawn)


SET_OVER_DIALS = {
    "a dial that counts the diameter": {'"travel"': '"diameter"'},
    "falling numbers": {'rises = "in"': 'rises = "out"'},
    "worn screws": {'"0.20 mm"': '"1.9 mm"'},
}


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("dials", SET_OVER_DIALS)
def test_set_over_on_other_dials(dials: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, "taper-set-over", machine_file=SET_OVER_DIALS[dials])
    tapered("taper-set-over", seed, path)


@pytest.mark.parametrize("seed", range(4))
def test_set_over_and_held_at_the_large_end(seed: int, tmp_path: Path) -> None:
    changes = {'at = "small end"': 'at = "large end"', 'diameter = "26 mm"': 'diameter = "30 mm"'}
    drawn = replace(DRAWINGS["taper-set-over"], held_at=200.0, low=29.9, high=30.0)
    path = changed_copy(tmp_path, "taper-set-over", job_file=changes)
    tapered("taper-set-over", seed, path, drawn)

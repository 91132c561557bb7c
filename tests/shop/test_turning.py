"""Shafts turned and bushes bored in the shop of numbers, on dials that count the diameter and on
dials that count the tool, in inches and millimetres."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.factories import Job
from tests.shop.changed import changed_copy
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import BEFORE_THE_FACE, Bar, FromStock, LatheWork, Turner

UNSTEADY = {"inch": 0.0003, "mm": 0.008}
"""On a size: half of what a gauge reads to, and a hand that stops a little off the mark where a
shoulder is faced down to a finished diameter."""
WHICH = ("", "second", "third")


@dataclass(frozen=True)
class Journal:
    """A diameter and its shoulder, as the job file gives them."""

    low: float
    high: float
    shortest: float
    longest: float


@dataclass(frozen=True)
class Drawing:
    """What a job file asks for, and what it says of stock and tool."""

    unit: str
    stock: float
    stick_out: float
    max_cut: float
    journals: tuple[Journal, ...]
    by: str = "carriage"
    spring: float = 0.02
    """Share of a cut that the work springs away by, at most."""


DRAWINGS = {
    "turn-shaft": Drawing(
        "inch", 1.5, 4.5, 0.050, (Journal(1.2485, 1.2500, 2.745, 2.755),), "compound", 0.05
    ),
    "turn-metric": Drawing("mm", 30.0, 75.0, 1.2, (Journal(24.95, 25.0, 59.8, 60.2),)),
    "turn-stepped": Drawing(
        "inch", 1.25, 3.375, 0.040,
        (
            Journal(1.1860, 1.1875, 2.745, 2.755),
            Journal(0.9365, 0.9375, 1.745, 1.755),
            Journal(0.7490, 0.7500, 0.870, 0.880),
        ),
    ),
}  # fmt: skip


class Shaft(FromStock):
    """A shaft with one shoulder or several, the largest diameter first."""

    def __init__(
        self, drawn: Drawing, chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        super().__init__(drawn.stock, drawn.stick_out, drawn.unit, drawn.spring, chance, wheels)
        self.drawn = drawn
        self.by_compound = drawn.by == "compound"

    def length(self, number: int) -> float:
        """From the end face to the shoulder."""
        larger = self.drawn.stock if number == 0 else self.drawn.journals[number - 1].low
        return self.bar.upto((self.drawn.journals[number].high + larger) / 2)

    def journal(self, number: int) -> list[float]:
        """Every diameter on a journal."""
        last = number + 1 == len(self.drawn.journals)
        begins = 0.0 if last else self.length(number + 1)
        return self.bar.over(begins, self.length(number))

    def size(self, fact: str) -> float:
        which, _, what = fact.split(".")[0].partition("-")
        number = WHICH.index(which) if which in WHICH else 0
        if "shoulder" in (which, what):
            return self.length(number)
        drawn = [*(one.shortest for one in self.drawn.journals), 0.0]
        return self.bar.at((drawn[number] + drawn[number + 1]) / 2)


def turned(name: str, seed: int, path: Path | None = None) -> Turner[Shaft]:
    """A shaft turned to the end of its job, and on its drawing."""
    drawn = DRAWINGS[name]
    made: Turner[Shaft] = Turner(
        Job(name, path), lambda chance, wheels: Shaft(drawn, chance, wheels), seed
    )
    made.work_it()
    check_drawing(name, made.work)
    return made


def check_drawing(name: str, shaft: Shaft, more: float = 0.0) -> None:
    """Every diameter and length within its limits, and no pass deeper than the tool takes; `more`
    is what else may be off."""
    drawn, off = DRAWINGS[name], UNSTEADY[DRAWINGS[name].unit] + more
    for number, one in enumerate(drawn.journals):
        sizes = shaft.journal(number)
        assert one.low - off <= min(sizes) <= max(sizes) <= one.high + off, number
        assert one.shortest - off <= shaft.length(number) <= one.longest + off, number
    # a bar that runs out is touched on its high place, and the cut that follows is told by its dial
    most = drawn.max_cut * 1.06 + off + shaft.runout
    assert max(shaft.passes) <= most, "deeper than the tool takes"
    assert max(shaft.reached) < drawn.journals[0].longest, "on into the shoulder"


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("name", DRAWINGS)
def test_a_shaft_is_on_its_drawing(name: str, seed: int) -> None:
    turned(name, seed)


class Bush(LatheWork):
    """A bush in the chuck, bored through or to a floor, by a bar that springs."""

    def __init__(
        self, chance: random.Random, wheels: Mapping[str, Handwheel], floor: str = ""
    ) -> None:
        # the file says nothing of its length: as long as the bar reaches, or less
        hole = Bar(0.9375 + chance.uniform(-0.004, 0.002), 1.5, inner=True)
        super().__init__(
            chance, wheels, hole, "inch",
            spring=chance.uniform(0, 0.05), runout=chance.uniform(0, 0.004),
        )  # fmt: skip
        self.by_compound = floor == "compound"
        self.stop = 1.7

    def bends(self, z: float) -> float:
        return 1.0  # the bar stands out as far wherever it cuts

    def depth(self) -> float:
        """From the end face to the floor."""
        return self.bar.upto((0.9375 + 1.1250) / 2)

    def size(self, fact: str) -> float:
        return self.depth() if fact.startswith("floor") else self.bar.at(0.5)


def bored(seed: int, path: Path | None = None, floor: str = "") -> Turner[Bush]:
    """A bush bored to the end of its job, and on its drawing."""
    made: Turner[Bush] = Turner(
        Job("bore-bush", path), lambda chance, wheels: Bush(chance, wheels, floor), seed
    )
    made.work_it()
    check_bush(made.work)
    return made


def check_bush(bush: Bush) -> None:
    """The bore within its limits, and no pass deeper than the bar takes."""
    off = UNSTEADY["inch"]
    sizes = bush.bar.over(0.0, bush.depth())
    assert 1.1250 - off <= min(sizes) <= max(sizes) <= 1.1260 + off
    assert max(bush.passes) <= 0.030 * 1.05 + off + bush.runout, "deeper than the bar takes"


@pytest.mark.parametrize("seed", range(20))
def test_a_bush_is_on_its_drawing(seed: int) -> None:
    assert bored(seed).work.depth() == pytest.approx(1.5), "not bored through"


FLOOR = """
[floor]
length = "1.250 in"
length_plus = "0.005 in"
length_minus = "0.005 in"
by = "{by}"
"""


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("by", ["carriage", "compound"])
def test_a_blind_bore_is_as_deep_as_it_is_drawn(by: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, "bore-bush")
    path.write_text(path.read_text() + FLOOR.format(by=by))
    bush = bored(seed, path, by).work
    assert 1.245 - UNSTEADY["inch"] <= bush.depth() <= 1.255 + UNSTEADY["inch"]
    assert max(bush.reached) < 1.255, "on into the floor"


INCH_DIALS = {
    "a dial that counts the tool": {'"0.200 in"': '"0.125 in"', '"diameter"': '"travel"'},
    "falling numbers": {'rises = "in"': 'rises = "out"', 'rises = "left"': 'rises = "right"'},
    "dials that can't be set": {'"settable"': '"fixed"'},
    "worn screws": {
        'backlash = "0.010 in"': 'backlash = "0.120 in"',
        'backlash = "0.006 in"': 'backlash = "0.060 in"',
        'backlash = "0.020 in"': 'backlash = "0.350 in"',
    },
    "metric dials": {
        '"0.200 in"': '"5 mm"', 'graduation = "0.001 in"': 'graduation = "0.02 mm"',
        '"0.100 in"': '"2.5 mm"', '"1.000 in"': '"20 mm"',
        'graduation = "0.005 in"': 'graduation = "0.1 mm"',
    },
}  # fmt: skip


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("dials", INCH_DIALS)
@pytest.mark.parametrize("name", ["turn-shaft", "turn-stepped", "bore-bush"])
def test_on_other_dials(name: str, dials: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, name, machine_file=INCH_DIALS[dials])
    if name == "bore-bush":
        bored(seed, path)
    else:
        turned(name, seed, path)


METRIC_DIALS = {
    "a dial that counts the diameter": {'"travel"': '"diameter"'},
    "falling numbers": {'rises = "in"': 'rises = "out"', 'rises = "left"': 'rises = "right"'},
    "dials that can't be set": {'"settable"': '"fixed"'},
    "worn screws": {'"0.20 mm"': '"1.9 mm"', '"0.12 mm"': '"1.1 mm"', '"0.5 mm"': '"6 mm"'},
    "inch dials": {
        '"4 mm"': '"0.200 in"', 'graduation = "0.02 mm"': 'graduation = "0.001 in"',
        '"2 mm"': '"0.1 in"', '"20 mm"': '"1 in"',
        'graduation = "0.1 mm"': 'graduation = "0.005 in"',
        'graduation = "0.05 mm"': 'graduation = "0.002 in"',
    },
}  # fmt: skip


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("dials", METRIC_DIALS)
def test_a_metric_shaft_on_other_dials(dials: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, "turn-metric", machine_file=METRIC_DIALS[dials])
    turned("turn-metric", seed, path)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("name", [*DRAWINGS, "bore-bush"])
def test_the_next_part_is_as_good(name: str, seed: int) -> None:
    """Same again: other stock in the same chuck, the tool and its dial as they were."""
    if name == "bore-bush":
        bush = bored(seed)
        bush.job.say("same again")
        bush.work.bar = Bar(0.9375 + bush.chance.uniform(-0.004, 0.002), 1.5, inner=True)
        bush.work.passes.clear()
        bush.work_it()
        check_bush(bush.work)
        return
    shaft = turned(name, seed)
    shaft.job.say("same again")
    drawn = DRAWINGS[name]
    fine = 0.001 if drawn.unit == "inch" else 0.025
    shaft.work.bar = Bar(drawn.stock + shaft.chance.uniform(-3, 1) * fine, drawn.stick_out)
    shaft.work.face_at += shaft.chance.uniform(-1, 1) * drawn.stick_out / 10
    shaft.carriage_to(-BEFORE_THE_FACE[drawn.unit])  # else nothing goes into the chuck
    shaft.work.passes.clear()
    shaft.work.reached.clear()
    shaft.work_it()
    check_drawing(name, shaft.work)

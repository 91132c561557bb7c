"""Single holes in the shop of numbers: depths, points, mouths, and what a tap finds there."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Touch
from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.drilling import Drilled, Driller, Tool
from tests.shop.handwheels import Handwheel


class Hole(Drilled):
    """One hole; the drills are ground a little other than their name."""

    def __init__(
        self, tools: Mapping[str, Tool], chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        ground = {
            name: Tool(tool.across, tool.point + chance.uniform(-2, 2) if tool.point == 118
                       else tool.point)
            for name, tool in tools.items()
        }  # fmt: skip
        super().__init__(ground, chance, wheels)
        self.wheels = wheels

    def contact(self, touch: Touch) -> float:
        return self.touched_face(touch, {})

    def full(self, tool: str) -> float:
        """How deep that tool left its whole diameter."""
        deepest = max(one.depth for one in self.cuttings if one.tool == tool)
        return deepest - self.tools[tool].tip

    def across(self) -> float:
        """How wide the mouth is."""
        return self.mouth(self.cuttings)

    def size(self, fact: str) -> float:
        assert fact.startswith("depth.")
        return self.full(self.cuttings[-1].tool)


class Tapper(Driller[Hole]):
    """Counts the turns of the tap as the screen has them."""

    turns = 0.0

    def cut(self, step: Cut) -> None:
        if step.kind == "tapping":
            shown = self.job.glance
            assert shown.unit == "turns"
            self.turns = float(shown.number)
        super().cut(step)


def make(name: str, tools: Mapping[str, Tool], seed: int, path: Path | None = None) -> Tapper:
    made = Tapper(Job(name, path), lambda chance, wheels: Hole(tools, chance, wheels), seed)
    made.work_it()
    return made


PRESS_TOOLS = {
    "centre drill": Tool(0.25, 60),
    "1/8 pilot drill": Tool(0.125),
    "27/64 drill": Tool(27 / 64),
    "reamer": Tool(0.4375, 180),
    "countersink": Tool(0.75, 82),
}
QUILLS = {
    "as it is": {},
    "by the stop": {"hole.depth_by": '"stop"'},
    "falling": {"machine:axes.quill.rises": '"up"'},
    "fixed": {"machine:axes.quill.zero": '"fixed"'},
    "loose": {"machine:axes.quill.backlash": '"0.040 in"'},
}  # fmt: skip


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("quill", QUILLS)
def test_a_reamed_blind_hole_is_on_its_drawing(quill: str, seed: int, tmp_path: Path) -> None:
    path = changed(tmp_path, "drill-press", QUILLS[quill])
    made = make("drill-press", PRESS_TOOLS, seed, path).work
    # the drawing's: 1-3/4 deep at full diameter, plus 0.060; a gauge reads to half a thou
    assert 1.75 - 0.0003 <= made.full("27/64 drill") <= 1.81 + 0.0003
    # a dial of five thou, set to half of it, by a hand; a stop is set to a division
    off = 0.0063 if quill == "by the stop" else 0.0025
    off += 0.0013 if quill == "fixed" else 0
    assert made.full("reamer") == pytest.approx(1.75, abs=off)
    # the drawing's 1/2 in at 82 degrees: its radius changes by tan 41 of the depth
    assert made.across() == pytest.approx(0.5, abs=2 * off * math.tan(math.radians(41)))


@pytest.mark.parametrize("seed", range(4))
def test_a_reamed_through_hole_is_reamed_through(seed: int, tmp_path: Path) -> None:
    path = changed(tmp_path, "drill-press", {"hole.depth": '"0 in"'})
    text = path.read_text(encoding="utf-8").replace('depth = "0 in"', 'through = "1 in"')
    path.write_text(text.replace('depth_plus = "0.060 in"\n', ""), encoding="utf-8")
    made = make("drill-press", PRESS_TOOLS, seed, path).work
    assert 1 < made.full("27/64 drill") < 1.1
    # a machine reamer's chamfer of a sixteenth: common practice, no source
    assert made.full("reamer") > 1 + 1 / 16


CAP_TOOLS = {
    "centre drill": Tool(5, 60),
    "9 millimetre drill": Tool(9),
    "counterbore": Tool(15, 180),
    "countersink": Tool(25, 90),
}


@pytest.mark.parametrize("mouth", [None, 16.0])
@pytest.mark.parametrize("seed", range(6))
def test_a_cap_screw_goes_in_flush(seed: int, mouth: float | None, tmp_path: Path) -> None:
    path = changed(tmp_path, "drill-counterbore", {})
    if mouth:
        sink = f'\n[hole.countersink]\ndiameter = "{mouth} mm"\n'
        path.write_text(path.read_text(encoding="utf-8") + sink, encoding="utf-8")
    made = make("drill-counterbore", CAP_TOOLS, seed, path).work
    assert 22 < made.full("9 millimetre drill") < 22 + 2, "through, and not far into the table"
    # ISO 4762: the head of an M8 screw is 8 mm high, from memory; a dial of 0.02 and a hand
    assert made.full("counterbore") == pytest.approx(8, abs=0.01)
    assert made.across() == pytest.approx(mouth or 15, abs=0.03)


THREADS = {
    # thread: pitch, tap drill and its diameter, inches. Common tap drill charts for 75 percent of
    # thread, from memory
    "4-40": (1 / 40, "number 43 drill", 0.089),
    "6-32": (1 / 32, "number 36 drill", 0.1065),
    "8-32": (1 / 32, "number 29 drill", 0.136),
    "10-24": (1 / 24, "number 25 drill", 0.1495),
    "1/4-20": (1 / 20, "number 7 drill", 0.201),
    "5/16-18": (1 / 18, "letter F drill", 0.257),
    "3/8-16": (1 / 16, "5/16 drill", 0.3125),
    "1/2-13": (1 / 13, "27/64 drill", 0.4219),
}
METRIC = {
    # ISO 2306, from memory: pitch, drill
    "M3": (0.5, 2.5), "M4": (0.7, 3.3), "M5": (0.8, 4.2), "M6": (1, 5), "M8": (1.25, 6.8),
    "M10": (1.5, 8.5), "M12": (1.75, 10.2),
}  # fmt: skip
CHAMFER = {"plug": (3, 5), "taper": (7, 10), "bottoming": (1, 2)}
"""Threads, least and most. ASME B94.9, from memory."""


def tapped(made: Tapper, drill: str, pitch: float, tap: str, depth: float, major: float) -> None:
    """A blind hole that takes the tap, and a thread that is full as deep as it should be."""
    least, _ = CHAMFER[tap]
    travel = made.turns * pitch
    assert travel - least * pitch >= depth, "the last of the thread isn't full"
    assert travel < made.work.full(drill), "the tap would meet the bottom"
    # a chamfer a little wider than the thread, that no burr is thrown up
    assert major < made.work.across() < major * 1.15


@pytest.mark.parametrize("tap", CHAMFER)
@pytest.mark.parametrize("thread", THREADS)
def test_an_inch_tap_finds_its_hole(thread: str, tap: str, tmp_path: Path) -> None:
    pitch, drill, across = THREADS[thread]
    number = thread.partition("-")[0]
    # ASME B1.1: number sizes from 0.060 in steps of 0.013
    major = float(Fraction(number)) if "/" in number else int(number) * 0.013 + 0.06
    path = changed(tmp_path, "tap-blind", {
        "thread.thread": f'"{thread}"', "thread.tap": f'"{tap}"', "thread.depth": '"0.5 in"',
    })  # fmt: skip
    tools = {"centre drill": Tool(0.12, 60), drill: Tool(across), "countersink": Tool(1, 90)}
    for seed in range(2):
        tapped(make("tap-blind", tools, seed, path), drill, pitch, tap, 0.5, major)


@pytest.mark.parametrize("thread", METRIC)
def test_a_metric_tap_goes_through(thread: str, tmp_path: Path) -> None:
    pitch, across = METRIC[thread]
    path = changed(tmp_path, "tap-through", {"thread.thread": f'"{thread}"'})
    drill = f"{across:g} millimetre drill"
    tools = {"centre drill": Tool(2, 60), drill: Tool(across), "countersink": Tool(25, 90)}
    for seed in range(2):
        made = make("tap-through", tools, seed, path)
        assert 12 < made.work.full(drill) < 12 + across / 3
        # all of the longest taper out at the back
        assert made.turns * pitch >= 12 + 7 * pitch
        assert float(thread[1:]) < made.work.across() < float(thread[1:]) * 1.15

"""Threads cut in the shop of numbers: by the compound and straight in, over wires and by gauges,
with the half nut closed where the words say."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pytest

from assistant.jobs.steps import Check, Cut, Measure, Move, Step, Touch
from assistant.session.state import Phase
from assistant.units import magnitude
from tests.factories import Job
from tests.shop.changed import changed_copy
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import Bar, LatheWork, Turner

TAN_30 = math.tan(math.radians(30))
"""Half of the form's 60 degrees: ISO 68-1, ASME B1.1."""


@dataclass(frozen=True)
class Drawing:
    """A thread and its limits, and what a job file says of how it is cut."""

    unit: str
    pitch: Fraction
    low: float
    high: float
    """Of the pitch diameter."""
    blank: tuple[float, float]
    """Least and most of what the thread is cut into."""
    first_cut: float
    flat: float
    """Of the tool's point, in pitches, where its depth and the pitch diameter belong together."""
    inner: bool = False


DRAWINGS = {
    # ASME B1.1, 3/4-10 UNC 2A: pitch diameter .6832/.6773, major .7482/.7353, from memory; a flat
    # of P/6 belongs to the depth of 17/24 H
    "thread-external": Drawing(
        "inch", Fraction(1, 10), 0.6773, 0.6832, (0.7353, 0.7482), 0.010, 1 / 6
    ),
    # ISO 965-1, M30x2 6H: pitch diameter 28.701 and 0.224 more, minor 27.835 to 28.210, from
    # memory; a flat of P/8 belongs to the depth of 5/8 H
    "thread-internal": Drawing(
        "mm", Fraction(2), 28.701, 28.925, (27.835, 28.210), 0.25, 1 / 8, inner=True
    ),
}  # fmt: skip


class Thread(LatheWork):
    """A groove that goes deeper by what the two slides do, cut by a tool of its own point."""

    def __init__(
        self, drawn: Drawing, chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        blank = chance.uniform(*drawn.blank)
        super().__init__(
            chance, wheels, Bar(blank, 3 * blank, inner=drawn.inner), drawn.unit,
            spring=chance.uniform(0, 0.1),
        )  # fmt: skip
        self.drawn, self.blank = drawn, blank
        self.pitch = float(drawn.pitch)
        self.flat = drawn.flat * self.pitch * chance.uniform(0.85, 1.1)
        self.angle = 0.0
        """Of the compound, from square to the axis, in degrees."""
        self.compound_at = 0.0
        self.wire = self.pitch / math.sqrt(3) * chance.uniform(0.99, 1.01)
        self.groove = 0.0
        """How deep it is, square to the axis, from the blank."""
        self.starts: set[Fraction] = set()
        """Where round the work the tool began, as a share of a turn."""
        self.sideways = 0.0
        """By how much the last pass went further toward the jaws than the first."""

    def depth(self, at: Mapping[str, float]) -> float:
        """How deep the tool stands in the blank, square to the axis."""
        into = -1 if self.drawn.inner else 1
        by_cross = (self.blank - self.set_to(at)) / 2 * into
        along = (at["compound"] * self.scale["compound"] - self.compound_at) * into
        return by_cross + along * math.cos(math.radians(self.angle))

    def contact(self, touch: Touch) -> float:
        if touch.axis == "compound":
            raise AssertionError("the compound isn't moved at the touch")
        self.compound_at = self.wheels["compound"].nut * self.scale["compound"]
        if touch.id == "touch-groove":  # down to where both flanks are met
            down = self.blank - 2 * self.groove
            return (self.centre - down / self.share) / self.scale["cross slide"]
        return super().contact(touch)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        depth = self.depth(at)
        taken = depth - self.groove
        self.passes.append(taken)
        self.groove = max(self.groove, self.groove + taken * (1 - self.spring))

    @property
    def pitch_diameter(self) -> float:
        """Where the groove is half a pitch wide: from its point up its two flanks."""
        up = (self.pitch / 2 - self.flat) / 2 / TAN_30
        if self.drawn.inner:
            return self.blank + 2 * (self.groove - up)
        return self.blank - 2 * (self.groove - up)

    def size(self, fact: str) -> float:
        if fact == "blank.size":
            return self.blank
        if fact == "wire.size":
            return self.wire
        # a wire rests on both flanks, its middle by W / 2 / sin 30 over where they would meet;
        # those meet by P / 4 / tan 30 under the pitch line
        middle = self.wire / 2 / 0.5 - self.pitch / 4 / TAN_30
        return self.pitch_diameter + 2 * middle + self.wire


class Threader(Turner[Thread]):
    """Who cuts threads: the compound set over, its slack taken up, the half nut on its line."""

    line = 0

    def do(self, step: Step) -> None:
        if isinstance(step, Check) and step.id == "check-compound":
            self.set_over()
        if step.id == "check-level":
            assert f"cross slide to {self.zero}, by hand" in self.heard()
            self.to_zero()
        if isinstance(step, Measure) and step.kind == "gauge":
            self.gauge(step)
        else:
            super().do(step)

    def set_over(self) -> None:
        """The compound swung to what the screen says, as near as its scale can be seen."""
        machine = self.job.state.machine
        assert self.job.glance.unit == "°", self.job.glance
        reads = float(self.job.glance.number)
        from_square = reads if machine.compound_zero == "square" else 90 - reads
        self.work.angle = from_square + self.chance.uniform(-0.25, 0.25)
        assert "slack taken up the way it feeds" in self.heard()
        wheel = self.wheels["compound"]
        wheel.turn((-2 if self.work.drawn.inner else 2) * wheel.backlash)

    @property
    def zero(self) -> str:
        """What the touch of the cross slide is called: a fixed dial reads no zero there."""
        settable = self.wheels["cross slide"].axis.settable
        return "its zero" if settable else "its reading at the touch"

    def heard(self) -> str:
        """The last that was said."""
        return " ".join(self.job.state.last_reply).lower()

    def touch(self, step: Touch) -> None:
        if step.axis != "compound":
            super().touch(step)
            return
        assert "don't move it" in self.heard()
        self.say("touched")
        wheel = self.wheels["compound"]
        if wheel.axis.settable:
            wheel.set_zero()
        if self.job.state.phase is Phase.READ:
            self.say(f"dial reads {self.as_read(wheel)}")
            wheel.count_from_here()

    def free(self, step: Move) -> None:
        if step.axis == "cross slide":
            out = "in" if self.work.drawn.inner else "out"
            assert f"cross slide {out}, well clear" in self.heard()
            self.clear()
        elif "cross slide clear. carriage to the start" in self.heard():
            self.clear()
        super().free(step)

    def clear(self) -> None:
        """The tool out of the thread."""
        wheel = self.wheels["cross slide"]
        wheel.turn((1 if self.work.drawn.inner else -1) * 1.5 * wheel.per_turn)

    def move(self, step: Move) -> None:
        super().move(step)
        if step.axis == "cross slide" and step.id.endswith("-back"):
            assert self.work.depth(self.places()) < 0, "not out of the thread"

    def is_set(self, step: Move) -> None:
        if f"cross slide to {self.zero}." in self.heard():
            self.to_zero()
        super().is_set(step)

    def to_zero(self) -> None:
        """The cross slide to where it touched."""
        wheel = self.wheels["cross slide"]
        wheel.back_to_zero(self.chance.uniform(-0.15, 0.15) * wheel.graduation)

    def cut(self, step: Cut) -> None:
        if f"cross slide back to {self.zero}." in self.heard():
            self.to_zero()
        self.close_half_nut()
        super().cut(step)

    def close_half_nut(self) -> None:
        """On a line that the words allow, or never opened."""
        machine, said = self.job.state.machine, self.heard()
        assert machine.lead_screw is not None
        screw = Fraction(magnitude(machine.lead_screw, "mm"))
        pitch = self.work.drawn.pitch * (1 if self.unit == "mm" else Fraction("25.4"))
        if "wherever it drops in" in said:
            # at every thread of the screw
            run = self.chance.randrange(1000) * screw
        elif "half nut closed" in said or "spindle forward" in said:
            run = Fraction(0)
        else:
            assert machine.thread_dial is not None
            gear, marks = machine.thread_dial
            run = self.choose_line(said, marks) * Fraction(gear, marks) * screw
        # the carriage and the screw together went so far: so many turns of the work
        self.work.starts.add(run / pitch % 1)

    def choose_line(self, said: str, marks: int) -> int:
        """Lines of the thread dial that went by since it was first closed."""
        turns = marks * self.chance.randrange(50)
        if "on any line" in said:
            return turns + self.chance.randrange(marks)
        if "on the line you began with, no other" in said:
            return turns
        told = re.search(r"on every (second|third|fourth|(\d+)th) line", said)
        assert told is not None, said
        every = int(told[2] or ("second", "third", "fourth").index(told[1]) + 2)
        return turns + every * self.chance.randrange(marks // every)

    def gauge(self, step: Measure) -> None:
        """Go and no-go, as the pitch diameter is."""
        size, drawn = self.work.pitch_diameter, self.work.drawn
        if step.fact.startswith("go"):
            goes = size >= drawn.low if drawn.inner else size <= drawn.high
        else:
            goes = size <= drawn.high if drawn.inner else size >= drawn.low
        self.say("yes" if goes else "no")


def threaded(
    name: str, seed: int, path: Path | None = None, drawn: Drawing | None = None
) -> Threader:
    """A thread cut to the end of its job, and within its limits."""
    drawn = drawn or DRAWINGS[name]
    made = Threader(Job(name, path), lambda chance, wheels: Thread(drawn, chance, wheels), seed)
    made.work_it()
    check_thread(made)
    return made


def check_thread(made: Threader) -> None:
    """Within its limits, in light cuts, one groove."""
    drawn = made.work.drawn
    off = 0.0002 if drawn.unit == "inch" else 0.004
    assert drawn.low - off <= made.work.pitch_diameter <= drawn.high + off
    assert max(made.work.passes) <= drawn.first_cut * 1.12 + off, "deeper than the tool takes"
    assert len(made.work.starts) == 1, "a second groove beside the first"


@pytest.mark.parametrize("seed", range(10))
@pytest.mark.parametrize("name", DRAWINGS)
def test_a_thread_is_in_its_class(name: str, seed: int) -> None:
    threaded(name, seed)


# ASME B1.1, class 2A, from memory: pitch diameter, then major, least and most
NINE = Drawing("inch", Fraction(1, 9), 0.7946, 0.8009, (0.8592, 0.8731), 0.010, 1 / 6)
EIGHT = Drawing("inch", Fraction(1, 8), 0.9100, 0.9168, (0.9830, 0.9980), 0.010, 1 / 6)
SEVEN = Drawing("inch", Fraction(1, 7), 1.0228, 1.0300, (1.1064, 1.1228), 0.010, 1 / 6)
FOUR_AND_A_HALF = Drawing("inch", Fraction(2, 9), 1.8433, 1.8528, (1.9751, 1.9971), 0.010, 1 / 6)
# ISO 965-1, 6g, from memory
M20 = Drawing("inch", Fraction(250, 2540), 18.164 / 25.4, 18.334 / 25.4,
              (19.623 / 25.4, 19.958 / 25.4), 0.010, 1 / 6)  # fmt: skip
OTHERS = {
    "7/8-9 UNC": NINE, "1-8 UNC": EIGHT, "1-1/8-7 UNC": SEVEN, "2-4.5 UNC": FOUR_AND_A_HALF,
    "M20x2.5": M20,
}  # fmt: skip


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("thread", OTHERS)
def test_the_half_nut_drops_into_one_groove(thread: str, seed: int, tmp_path: Path) -> None:
    changes = {'"3/4-10 UNC"': f'"{thread}"'}
    if thread.startswith("M"):
        changes['"2A"'] = '"6g"'
    path = changed_copy(tmp_path, "thread-external", job_file=changes)
    threaded("thread-external", seed, path, OTHERS[thread])


STRAIGHT = {'"compound"': '"straight"', "set_over = 29.5 ": "# "}
WAYS_IN = {
    "straight, by the diameter": (STRAIGHT, {}),
    "straight, by the tool": (STRAIGHT, {'"diameter"': '"travel"'}),
    "a compound that reads 0 along the axis": ({}, {'"square"': '"axis"'}),
    "by a gauge": ({'"wires"': '"gauge"'}, {}),
    "straight, by a gauge": ({'"wires"': '"gauge"', **STRAIGHT}, {}),
    "falling numbers": ({}, {'rises = "in"': 'rises = "out"'}),
    "dials that can't be set": ({}, {'"settable"': '"fixed"'}),
    "worn screws": (
        {}, {'backlash = "0.010 in"': 'backlash = "0.080 in"',
             'backlash = "0.006 in"': 'backlash = "0.050 in"'},
    ),
    "straight, a small turn": (STRAIGHT, {'"0.200 in"': '"0.080 in"'}),
    "straight, worn screws": (
        STRAIGHT, {'backlash = "0.010 in"': 'backlash = "0.080 in"'},
    ),
    "metric dials": (
        {}, {'"0.200 in"': '"5 mm"', 'graduation = "0.001 in"': 'graduation = "0.02 mm"',
             '"0.100 in"': '"2.5 mm"'},
    ),
}  # fmt: skip


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("way", WAYS_IN)
def test_an_outside_thread_fed_in_other_ways(way: str, seed: int, tmp_path: Path) -> None:
    job_file, machine_file = WAYS_IN[way]
    path = changed_copy(tmp_path, "thread-external", job_file=job_file, machine_file=machine_file)
    threaded("thread-external", seed, path)


WAYS_OUT = {
    "by the compound": ({'"straight"': '"compound"'}, {}),
    "by the diameter": ({}, {'"travel"': '"diameter"'}),
    "falling numbers": ({}, {'rises = "in"': 'rises = "out"'}),
    "dials that can't be set": ({}, {'"settable"': '"fixed"'}),
    "worn screws": ({}, {'"0.20 mm"': '"1.9 mm"', '"0.12 mm"': '"1.1 mm"'}),
    "by the compound, worn screws": (
        {'"straight"': '"compound"'}, {'"0.20 mm"': '"1.9 mm"', '"0.12 mm"': '"1.1 mm"'},
    ),
}  # fmt: skip


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("way", WAYS_OUT)
def test_an_inside_thread_fed_out_other_ways(way: str, seed: int, tmp_path: Path) -> None:
    job_file, machine_file = WAYS_OUT[way]
    path = changed_copy(tmp_path, "thread-internal", job_file=job_file, machine_file=machine_file)
    threaded("thread-internal", seed, path)


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("dials", ["as they are", "dials that can't be set", "falling numbers"])
def test_the_next_thread_on_the_same_zeros(dials: str, seed: int, tmp_path: Path) -> None:
    """Same again: another blank, both slides' zeros where the tool touched the last one."""
    machine_file = WAYS_IN[dials][1] if dials in WAYS_IN else None
    path = changed_copy(tmp_path, "thread-external", machine_file=machine_file)
    made = threaded("thread-external", seed, path)
    made.job.say("same again")
    work, drawn = made.work, made.work.drawn
    work.blank = made.chance.uniform(*drawn.blank)
    work.groove = 0.0
    work.passes.clear()
    work.starts.clear()
    made.work_it()
    check_thread(made)


@pytest.mark.parametrize("seed", range(6))
def test_a_thread_that_was_begun_is_picked_up(seed: int, tmp_path: Path) -> None:
    """Half cut by a tool that was ground since: back into its groove, and on from the wires."""
    changes = {"[thread]": 'start = "pick up"\n\n[thread]'}
    path = changed_copy(tmp_path, "thread-external", job_file=changes)
    drawn = DRAWINGS["thread-external"]

    def begun(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Thread:
        work = Thread(drawn, chance, wheels)
        work.groove = chance.uniform(0.2, 0.8) * 0.0613
        return work

    made = Threader(Job("thread-external", path), begun, seed)
    made.work_it()
    check_thread(made)

"""Random moves, zeros and marks at real handwheels: every slide comes to where it was asked to be.

The operator follows the page on screws with backlash and their dials (`tests/shop/handwheels.py`),
and keeps in floats where each slide ought to be: no formula is the package's.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from assistant.free.places import nowhere
from assistant.free.talk import Talk
from assistant.machine import WAYS, Machine
from tests.free.operator import Operator
from tests.free.talking import machine

QUICK = (Phase.explicit, Phase.reuse, Phase.generate)
"""A failing row of moves says by itself what was done: nothing is made shorter."""
KINDS = {
    "leat-vertical": ("table", "saddle", "knee", "quill"),  # inch
    "mere-vertical": ("table", "saddle"),  # metric
    "rill-lathe": ("cross slide", "carriage"),  # inch, its dial on the diameter
    "brook-lathe": ("cross slide", "carriage", "compound"),  # metric, on the radius
}


def fixed(one: Machine) -> Machine:
    """The same machine with dials that can't be set."""
    axes = {name: replace(axis, settable=False) for name, axis in one.axes.items()}
    return replace(one, axes=axes)


def said_size(thousandths: int, unit: str, other: bool) -> tuple[str, float]:
    """A size as one says it, and in the dial's unit; `other` is said in the other unit."""
    if (unit == "inch") != other:
        return f"{thousandths / 1000:.3f} inches", thousandths / 1000 * (25.4 if other else 1)
    return f"{thousandths / 100:.2f} mm", thousandths / 100 / (25.4 if other else 1)


@pytest.mark.parametrize("settable", [True, False])
@pytest.mark.parametrize("kind", KINDS)
@settings(phases=QUICK, max_examples=12, deadline=None)
@given(data=st.data())
def test_every_slide_comes_to_where_it_was_asked_to_be(kind: str, settable: bool, data):
    one = machine(kind) if settable else fixed(machine(kind))
    phase = data.draw(st.sampled_from([0.0, 0.305, 0.8]))
    op = Operator(kind, Talk(one, nowhere(one)), phase)
    want: dict[str, float] = {}
    last: tuple[str, float] | None = None
    marks: dict[str, dict[str, float]] = {}
    zero: dict[str, float] = {}
    for axis in KINDS[kind]:
        op.zero(axis, data.draw(st.sampled_from(WAYS[axis])))
        want[axis] = zero[axis] = op.place(axis)
    flat = [axis for axis in ("table", "saddle", "carriage", "cross slide") if axis in want]
    for _ in range(data.draw(st.integers(3, 9))):
        what = data.draw(st.sampled_from(["move", "move", "move", "zero", "back", "mark", "to mark",
                                          "half", "once more", "middle"]))  # fmt: skip
        axis = data.draw(st.sampled_from(KINDS[kind]))
        if what == "move":
            other = data.draw(st.booleans())
            words, far = said_size(data.draw(st.integers(1, 1500)), one.unit, other)
            sign = data.draw(st.sampled_from([1, -1]))
            op.move(f"{axis} {words} {WAYS[axis][0 if sign > 0 else 1]}")
            want[axis] += far * sign
            last = (axis, far * sign)
        elif what == "zero":
            # the dial is read at a place that was told, so what was asked for stands exactly there
            op.zero(axis, WAYS[axis][0 if data.draw(st.booleans()) else 1])
            want[axis] = zero[axis] = op.place(axis)
            marks = {name: {**at} for name, at in marks.items()}
            last = None
        elif what == "back":
            op.move(f"{axis} to zero")
            want[axis], last = zero[axis], None
        elif what == "mark" and len(marks) < 3:
            letter = "abc"[len(marks)]
            op.say(f"mark this as {letter}")
            marks[letter] = {axis: want[axis] for axis in flat}
        elif what == "to mark" and marks:
            letter = data.draw(st.sampled_from(sorted(marks)))
            op.move(f"go to {letter}")
            want.update(marks[letter])
            last = None
        elif what == "middle" and len(marks) > 1:
            op.move("middle of a and b")
            for axis in flat:
                want[axis] = (marks["a"][axis] + marks["b"][axis]) / 2
            last = None
        elif what in ("half", "once more") and last is not None:
            axis, far = last
            if what == "half":
                op.move("half of that back")
                far = -far / 2
            else:
                op.move("once more")
            want[axis] += far
            last = (axis, far)
        for name in KINDS[kind]:
            read_off = 0.0 if settable else op.half(name)
            assert abs(op.place(name) - want[name]) <= op.half(name) + read_off, (name, op.trail)


@settings(phases=QUICK, max_examples=10, deadline=None)
@given(count=st.integers(2, 30), size=st.integers(1, 200), way=st.sampled_from(["left", "right"]))
def test_nothing_adds_up_however_often_it_is_moved(count: int, size: int, way: str):
    """Tenths of a millimetre on an inch dial: each is off by up to half a division, all together by
    no more. All of them fit the table's travel."""
    op = Operator("leat-vertical")
    op.zero("table", "right")
    begin = op.place("table")
    op.move(f"{size / 10} mm {way}")
    for _ in range(count):
        op.move("once more")
    sign = 1 if way == "right" else -1
    want = begin + sign * (count + 1) * size / 10 / 25.4
    assert abs(op.place("table") - want) <= op.half("table"), op.trail


@settings(phases=QUICK, max_examples=20, deadline=None)
@given(
    first=st.sampled_from(["left", "right"]), inside=st.booleans(), phase=st.floats(0, 0.9),
    width=st.integers(300, 4000),
)  # fmt: skip
def test_the_middle_between_two_touches(first: str, inside: bool, phase: float, width: int):
    """Touched from both sides, so that the finder's radius is in neither, the backlash in one."""
    op = Operator("leat-vertical", phase=round(phase, 3))
    wheel = op.wheels["table"]
    way = 1 if first == "right" else -1
    begin = 0.4375
    # outside, the work goes on the way of the first touch until its other side comes
    end = begin + (width / 1000) * (-way if inside else way)
    wheel.touch(begin, way)
    op.say("table touched", first)
    wheel.set_zero()
    wheel.touch(end, -way)
    op.say("table touched", op.reading("table", turns=True))
    if "of zero, or" in op.trail[-1]:
        op.say("right" if wheel.screw > wheel.zero else "left")
    op.say("left" if first == "right" else "right")
    op.move("go to the middle")
    assert abs(op.place("table") - (begin + end) / 2) <= op.half("table") + wheel.graduation / 4


@settings(phases=QUICK, max_examples=15, deadline=None)
@given(
    holes=st.integers(3, 8), across=st.integers(500, 5000), degrees=st.integers(0, 359),
    metric=st.booleans(),
)  # fmt: skip
def test_a_bolt_circle_has_its_holes_at_one_distance_and_equal_angles(
    holes: int, across: int, degrees: int, metric: bool
):
    """Distance from the centre and between neighbours, by the theorem of Pythagoras."""
    import math

    op = Operator("mere-vertical" if metric else "leat-vertical")
    op.zero("table", "left")
    op.zero("saddle", "in")
    centre = (op.place("table"), op.place("saddle"))
    size = across / 50 if metric else across / 1000
    op.move(f"bolt circle of {holes} on {size} {'mm' if metric else 'in'}", f"{degrees} degrees")
    at = [(op.place("table"), op.place("saddle"))]
    for _ in range(holes - 1):
        op.move("next hole")
        at.append((op.place("table"), op.place("saddle")))
    near = 3 * op.half("table")
    for place in at:
        assert abs(math.dist(place, centre) - size / 2) < near, op.trail
    chord = size * math.sin(math.pi / holes)
    for i, place in enumerate(at):
        assert abs(math.dist(place, at[i - 1]) - chord) < 2 * near, op.trail
    # the work rides on the table: a hole at three o'clock is come to by the table going left
    angle = math.degrees(math.atan2(-(at[0][1] - centre[1]), -(at[0][0] - centre[0])))
    assert abs((angle - degrees + 180) % 360 - 180) < 2


def test_a_row_is_counted_from_its_first_place():
    op = Operator("leat-vertical")
    op.zero("table", "right")
    begin = op.place("table")
    op.say("row of five 7 mm apart left")
    for number in range(1, 5):
        op.move("next place")
        want = begin - number * 7 / 25.4
        assert abs(op.place("table") - want) <= op.half("table"), op.trail
    assert "That was the last." in op.trail[-1]

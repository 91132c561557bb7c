"""The core against other libraries, by other ways: rotation matrices in numpy, roots of the plain
geometry in mpmath, a fresh pint registry in floats. None of them uses a formula of the core.
"""

from __future__ import annotations

from decimal import Decimal

import mpmath
import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.calc import speeds
from assistant.calc.angles import sine_bar_stack
from assistant.calc.cutting import passes, run_out
from assistant.calc.keys import chordal_height, key_for_shaft, keyseat
from assistant.calc.positions import bolt_circle
from assistant.calc.thread_wires import size_over_wires
from assistant.units import inches, magnitude, mm, quantity

FRESH = pint.UnitRegistry()
"""Pint as it comes, in floats: not the project's own registry."""


def close(ours: Decimal, theirs: object, within: float = 1e-6) -> bool:
    return abs(float(ours) - float(theirs)) <= within  # type: ignore[arg-type]


@settings(max_examples=60, deadline=None)
@given(
    holes=st.integers(2, 40),
    diameter=st.decimals("0.5", "20", places=3),
    first=st.decimals("-180", "360", places=1),
    x=st.decimals("-10", "10", places=3),
    y=st.decimals("-10", "10", places=3),
)
def test_a_bolt_circle_by_rotation_matrices(holes, diameter, first, x, y):
    """The first hole's arm turned again and again by one 2 x 2 matrix, about any centre."""
    ours = bolt_circle(inches(diameter), holes, quantity(first, "degree"), inches(x), inches(y))
    turn, start = (np.deg2rad(a) for a in (360 / holes, float(first)))
    step = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    arm = np.array([np.cos(start), np.sin(start)]) * float(diameter) / 2
    for point in ours:
        place = np.array([float(x), float(y)]) + arm
        assert close(magnitude(point.x, "inch"), place[0])
        assert close(magnitude(point.y, "inch"), place[1])
        arm = step @ arm


@settings(max_examples=40, deadline=None)
@given(diameter=st.decimals("0.5", "6", places=3), share=st.decimals("0.05", "0.6", places=3))
def test_the_chordal_height_is_where_the_circle_is_as_wide_as_the_key(diameter, share):
    """Root of x^2 + y^2 = r^2 at x = half the key, by mpmath: no square root of ours."""
    width, r = float(diameter * share), float(diameter) / 2
    y = mpmath.findroot(lambda h: (width / 2) ** 2 + (r - h) ** 2 - r**2, width**2 / (8 * r))
    assert close(magnitude(chordal_height(inches(diameter), inches(diameter * share)), "inch"), y)


@settings(max_examples=40, deadline=None)
@given(pitch=st.decimals("0.03", "0.25", places=4), over=st.decimals("0.52", "0.65", places=3))
def test_wires_lie_where_they_touch_both_flanks(pitch, over):
    """A wire in a 60 degree groove touches both flanks: its middle is where its distance to a
    flank is half the wire. The flank passes through the pitch line at a quarter of the pitch."""
    wire, p = float(pitch * over), float(pitch)
    radius = mpmath.mpf(1) / 2  # of the pitch diameter, 1 in

    def gap(centre):
        # the flank: from (p/4, radius) outwards at 30 degrees to the radius
        away = mpmath.cos(mpmath.pi / 6) * (p / 4) + mpmath.sin(mpmath.pi / 6) * (centre - radius)
        return away - wire / 2

    centre = mpmath.findroot(gap, radius + p / 4)
    ours = size_over_wires(inches(1), inches(pitch), inches(pitch * over))
    assert close(magnitude(ours, "inch"), 2 * centre + wire)


@settings(max_examples=40, deadline=None)
@given(
    rate=st.decimals("20", "600", places=1), size=st.decimals("0.1", "8", places=3),
    chip=st.decimals("0.0005", "0.01", places=4), teeth=st.integers(1, 24),
)  # fmt: skip
def test_speed_feed_and_pace_by_a_fresh_registry(rate, size, chip, teeth):
    """pint in floats: the rim's speed over the radius is in radians a minute."""
    rim = float(rate) * FRESH.foot / FRESH.minute
    rpm = (rim / (float(size) * FRESH.inch / 2) * FRESH.radian).to("turn/minute").magnitude
    ours = speeds.spindle_speed(quantity(rate, "foot/minute"), inches(size))
    assert close(magnitude(ours, "rpm"), rpm, 1e-5 * rpm)
    feed = (rpm * teeth * float(chip) * FRESH.inch / FRESH.minute).to("mm/second").magnitude
    our_feed = speeds.feed_rate(ours, teeth, inches(chip))
    assert close(magnitude(our_feed, "mm/second"), feed, 1e-5 * feed)
    pace = (0.2 * FRESH.inch / (feed * FRESH.mm / FRESH.second)).to("second").magnitude
    ours_pace = speeds.seconds_a_turn(our_feed, inches("0.2"))
    assert close(magnitude(ours_pace, "second"), pace, 1e-5 * pace)


@given(depth=st.decimals("0.01", "0.45", places=3))
def test_the_run_out_is_half_the_chord_of_the_cutter(depth):
    """Root of the circle at the surface, by mpmath, for a cutter of 3 in."""
    half = mpmath.findroot(lambda x: x**2 + (1.5 - float(depth)) ** 2 - 1.5**2, 0.7)
    assert close(magnitude(run_out(inches(3), inches(depth)), "inch"), half)


@given(angle=st.decimals("0.1", "45", places=2))
def test_a_sine_bar_is_a_triangle(angle):
    """The stack's angle from its sides, by the arc tangent, is the one asked for."""
    stack = float(magnitude(sine_bar_stack(inches(5), quantity(angle, "degree")), "inch"))
    along = mpmath.sqrt(25 - stack**2)
    assert close(angle, mpmath.degrees(mpmath.atan2(stack, along)), 1e-6)


@settings(max_examples=60, deadline=None)
@given(
    depth=st.decimals("0.02", "2", places=3), limit=st.decimals("0.01", "0.2", places=3),
    more=st.decimals("0", "0.1", places=3),
)  # fmt: skip
def test_a_deeper_cut_never_takes_fewer_passes(depth, limit, more):
    """Monotone in the depth and in the limit; and the same in inches and in millimetres."""
    count = len(passes(inches(depth), inches(limit)))
    assert len(passes(inches(depth + more), inches(limit))) >= count
    assert len(passes(inches(depth), inches(limit + more))) <= count
    assert len(passes(mm(depth * Decimal("25.4")), mm(limit * Decimal("25.4")))) == count


@given(
    diameter=st.decimals("0.6", "6", places=3), width=st.decimals("0.1", "0.3", places=3),
    more=st.decimals("0.001", "0.1", places=3),
)  # fmt: skip
def test_a_wider_key_lies_deeper_and_a_larger_shaft_flatter(diameter, width, more):
    """Chordal height rises with the key's width and falls with the shaft's diameter."""
    height = chordal_height(inches(diameter), inches(width))
    assert chordal_height(inches(diameter), inches(width + more)) > height
    assert chordal_height(inches(diameter + more), inches(width)) < height


@pytest.mark.parametrize("diameter", ["0.5", "0.75", "1", "1.5", "2.25", "3", "5"])
def test_the_standard_s_keyseat_leaves_half_the_key_above_the_side_walls(diameter):
    """ASME B17.1: the side wall is half the key deep. Here from coordinates: the top of the wall is
    on the circle at half the width, the floor is so far below the crown as the core says."""
    shaft = inches(diameter)
    key = key_for_shaft(shaft)
    seat = keyseat(shaft, key)
    r, w = float(diameter) / 2, float(magnitude(key.width, "inch")) / 2
    wall_top = float(np.sqrt(r**2 - w**2))
    floor = r - float(magnitude(seat.depth_from_top.nominal, "inch"))
    assert wall_top - floor == pytest.approx(float(magnitude(key.height, "inch")) / 2, abs=1e-9)

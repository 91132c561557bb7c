"""When the half nut may be closed again: the thread dial and its marks.

The carriage may be picked up again where it has moved a whole number of both the lead screw's
threads and the thread's own. Worked in exact fractions, so that 11-1/2 threads an inch and metric
threads come out right. Common practice; the rule is arithmetic and needs no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from assistant.calc.exact import in_unit
from assistant.errors import BadInput
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class DialRule:
    """Where on the thread dial the half nut may be closed."""

    open_half_nut: bool
    """False: leave it closed and reverse the spindle to come back."""
    every: int | None
    """Close on every so many marks, counted from the mark first used; None: never open it."""
    rule: str
    """As it is said."""
    anywhere: bool
    """The half nut drops in only where it is right: the dial is not needed."""


def pitch_as_fraction(tpi: Fraction | None, pitch: Quantity | None, what: str) -> Fraction:
    """The pitch in inches, exactly, from threads an inch or from a pitch.

    Raises `BadInput` unless exactly one is given, and for zero or less.
    """
    if (tpi is None) == (pitch is None):
        raise BadInput(what, "both" if tpi else "missing", "give threads an inch or a pitch")
    if tpi is not None:
        if tpi <= 0:
            raise BadInput(f"{what} tpi", tpi, "must be more than zero")
        return 1 / tpi
    assert pitch is not None
    if "meter" in str(pitch.units):
        size = Fraction(in_unit(pitch, "mm")) / Fraction("25.4")
    else:
        size = Fraction(in_unit(pitch, "inch"))
    if size <= 0:
        raise BadInput(f"{what} pitch", pitch, "must be more than zero")
    return size


def dial_rule(thread: Fraction, screw: Fraction, gear_teeth: int, marks: int) -> DialRule:
    """The rule for a thread on a lead screw, both as exact pitches in inches.

    `gear_teeth` are those of the dial's gear that runs on the lead screw, so that a turn of the
    dial is that many threads of the screw; `marks` is how many lines the dial has, evenly spaced.
    A 32 tooth gear on a screw of 8 threads an inch turns once in 4 in.
    """
    if gear_teeth < 1:
        raise BadInput("gear teeth", gear_teeth, "wanted one or more")
    if marks < 1:
        raise BadInput("marks", marks, "wanted one or more")
    common = _least_common_multiple(thread, screw)
    turn = gear_teeth * screw
    if common == screw:
        return DialRule(True, 1, "anywhere: close it wherever it drops in", anywhere=True)
    space = turn / marks
    every = (_least_common_multiple(common, space) / space).numerator
    if every > marks or marks % every:
        # More than a turn, or lines that change from one turn to the next: no mark can be told
        # from another.
        return DialRule(
            False, None,
            "don't open the half nut: stop, back the tool out and reverse the spindle",
            anywhere=False,
        )  # fmt: skip
    return DialRule(True, every, _say(every, marks), anywhere=False)


def _say(every: int, marks: int) -> str:
    if every == 1:
        return "close on any line"
    if every == marks:
        return "close on the line you began with, no other"
    ordinal = {2: "second", 3: "third", 4: "fourth"}.get(every, f"{every}th")
    return f"close on every {ordinal} line, counted from the one you began with"


def _least_common_multiple(a: Fraction, b: Fraction) -> Fraction:
    return Fraction(
        math.lcm(a.numerator * b.denominator, b.numerator * a.denominator),
        a.denominator * b.denominator,
    )


def thread_dial(
    gear_teeth: int,
    marks: int,
    tpi: Fraction | None = None,
    pitch: Quantity | None = None,
    screw_tpi: Fraction | None = None,
    screw_pitch: Quantity | None = None,
) -> DialRule:
    """`dial_rule` for a thread and a lead screw each given as threads an inch or as a pitch."""
    return dial_rule(
        pitch_as_fraction(tpi, pitch, "thread"),
        pitch_as_fraction(screw_tpi, screw_pitch, "lead screw"),
        gear_teeth,
        marks,
    )

"""Handwheels: whole turns, divisions and dial readings for a travel, and back again.

A travel is signed: positive is the positive way of the axis. `rises` is +1 where the dial's
numbers rise with positive travel, -1 where they fall. A dial tells where its *screw* is, so all
positions are as reached from one side; `approach` says how to come from the other side so that
the backlash is taken up. Everything is in the unit of the dial, and exact.

The rules here are common practice at manual machines, no source, unless a function says more.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_UP, ROUND_UP, Decimal
from enum import StrEnum
from typing import Literal

from assistant.calc.exact import as_unit, at_least, in_unit, positive, shown, to_step, whole, wrap
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity, unit_name


class Toward(StrEnum):
    """Which way a target is rounded to what the dial can show."""

    NEAREST = "nearest"
    DEEPER = "deeper"
    """Away from zero: for depths, so that a depth is never short."""
    SHALLOWER = "shallower"
    """Toward zero: for a roughing depth that must leave stock."""


_ROUNDING = {
    Toward.NEAREST: ROUND_HALF_UP,
    Toward.DEEPER: ROUND_UP,
    Toward.SHALLOWER: ROUND_DOWN,
}


@dataclass(frozen=True, slots=True)
class Split:
    """A distance as it is counted off on a handwheel."""

    turns: int
    """Whole turns."""
    part: Decimal
    """The rest, in the dial's unit."""
    divisions: Decimal
    """The rest as divisions of the dial; may be a half."""


@dataclass(frozen=True, slots=True)
class DialTravel:
    """One travel on a handwheel, from where the dial reads now."""

    travel: Quantity
    """Signed, in the dial's unit."""
    turns: int
    """Whole turns to make."""
    part: Decimal
    """The rest after the whole turns, in the dial's unit."""
    divisions: Decimal
    """The rest as divisions of the dial; may be a half."""
    reading: Quantity
    """What the dial reads at the end, from 0 up to one turn."""
    crossings: int
    """How many times the dial's zero comes to the mark or passes it on the way."""


@dataclass(frozen=True, slots=True)
class Approach:
    """How to make a travel so that the last of it comes from the chosen side."""

    first: Quantity
    """Signed travel to make first: zero where the whole travel already comes the right way."""
    last: Quantity
    """Signed travel of the last leg, that ends on the target."""
    back_off: Quantity | None
    """How far the first leg goes past the target; None where no going past is needed."""


def divisions_per_turn(per_turn: Quantity, graduation: Quantity) -> int:
    """How many divisions the dial has: travel of a turn / graduation.

    Raises `ImpossibleInput` where the graduation does not divide the turn, naming one that does.
    """
    turn = in_unit(positive("travel a turn", per_turn), unit_name(per_turn))
    step = in_unit(positive("graduation", graduation), unit_name(per_turn))
    if turn % step == 0:
        return int(turn / step)
    fits = _graduation_near(turn, step)
    unit = unit_name(per_turn)
    raise ImpossibleInput(
        "graduation",
        shown(graduation),
        f"does not divide the turn of {shown(per_turn)} ({turn / step:.2f} divisions): "
        f"{shown(quantity(fits, unit))} would, with {turn / fits:.0f} divisions; "
        "read the dial again, or count its lines",
    )


def _graduation_near(turn: Decimal, step: Decimal) -> Decimal:
    """A usual graduation (1, 2, 2.5, 4 or 5 and a power of ten) that divides the turn."""
    usual = [Decimal(n).scaleb(p) for p in range(-5, 2) for n in ("1", "2", "2.5", "4", "5")]
    fitting = [g for g in usual if g <= turn and turn % g == 0]
    if not fitting:
        return turn / max(1, whole(turn / step))
    return min(fitting, key=lambda g: max(g, step) / min(g, step)).normalize()


def settle(
    target: Quantity,
    graduation: Quantity,
    toward: Toward = Toward.NEAREST,
    *,
    halves: bool = True,
) -> Quantity:
    """An exact target set to what can be read on the dial, in the dial's unit.

    `target` is absolute: measured from the place where the dial was read or zeroed, never summed
    from rounded moves. With `halves` the step is half a graduation, which the eye can split.
    """
    unit = unit_name(graduation)
    step = in_unit(positive("graduation", graduation), unit) / (2 if halves else 1)
    return quantity(to_step(in_unit(target, unit), step, _ROUNDING[toward]), unit)


def split(distance: Quantity, per_turn: Quantity, graduation: Quantity) -> Split:
    """Whole turns, and the rest as a length and as divisions; the sign of `distance` is dropped.

    Exact: set the target to the dial with `settle` first, or the divisions come out odd.
    """
    unit = unit_name(per_turn)
    turn = in_unit(positive("travel a turn", per_turn), unit)
    step = in_unit(positive("graduation", graduation), unit)
    length = abs(in_unit(distance, unit))
    turns = int(length // turn)
    part = length % turn
    return Split(turns, part, part / step)


def check_reading(shown_reading: Quantity, per_turn: Quantity) -> Quantity:
    """A dial reading itself; raises `ImpossibleInput` where the dial can't show it."""
    value = in_unit(shown_reading, unit_name(per_turn))
    if not 0 <= value < in_unit(per_turn, unit_name(per_turn)):
        raise ImpossibleInput(
            "dial reading",
            shown(shown_reading),
            f"one turn is {shown(per_turn)}, so the dial reads from 0 up to that",
        )
    return shown_reading


def reading(
    travel: Quantity, per_turn: Quantity, rises: int = 1, start: Quantity | None = None
) -> Quantity:
    """What the dial reads after a signed travel from where it read `start` (0 if not given)."""
    unit = unit_name(per_turn)
    at = in_unit(check_reading(start, per_turn), unit) if start is not None else Decimal(0)
    return quantity(wrap(at + rises * in_unit(travel, unit), in_unit(per_turn, unit)), unit)


def move(
    travel: Quantity,
    per_turn: Quantity,
    graduation: Quantity,
    rises: int = 1,
    start: Quantity | None = None,
) -> DialTravel:
    """One travel as turns, divisions and the reading to stop at.

    `travel` is the difference of two settled targets and signed; `start` is what the dial reads
    now (0 if not given).
    """
    unit = unit_name(per_turn)
    counted = split(travel, per_turn, graduation)
    at = in_unit(start, unit) if start is not None else Decimal(0)
    end = at + rises * in_unit(travel, unit)
    return DialTravel(
        travel=as_unit(travel, unit),
        turns=counted.turns,
        part=counted.part,
        divisions=counted.divisions,
        reading=reading(travel, per_turn, rises, start),
        crossings=_zeros_met(at, end, in_unit(per_turn, unit)),
    )


def _zeros_met(start: Decimal, end: Decimal, turn: Decimal) -> int:
    """How many whole multiples of a turn lie after `start`, up to and including `end`."""
    if end >= start:
        return whole(end / turn) - whole(start / turn)
    return whole(-end / turn) - whole(-start / turn)


def overshoot(per_turn: Quantity, backlash: Quantity) -> Quantity:
    """How far to go past before coming back: half a turn, or as many halves as it takes to be
    clearly more (twice) than the backlash."""
    unit = unit_name(per_turn)
    half = in_unit(positive("travel a turn", per_turn), unit) / 2
    slack = abs(in_unit(backlash, unit))
    return quantity(half * max(1, at_least(2 * slack, half)), unit)


def approach(
    travel: Quantity,
    arriving: int,
    per_turn: Quantity,
    backlash: Quantity,
    *,
    slack_taken: bool = True,
) -> Approach:
    """How to make `travel` so that it ends in direction `arriving` (+1 or -1).

    A travel that way is made straight. One the other way goes past by `overshoot` and comes
    back. `slack_taken` is False where the wheel was last turned the other way: then a short
    travel the right way would end inside the backlash, and goes round as well.
    """
    unit = unit_name(per_turn)
    way = in_unit(travel, unit) * arriving
    slack = abs(in_unit(backlash, unit))
    nothing = quantity(0, unit)
    if way == 0 and slack_taken:
        return Approach(nothing, nothing, None)
    if way > 0 and (slack_taken or way >= 2 * slack):
        return Approach(nothing, as_unit(travel, unit), None)
    past = overshoot(per_turn, backlash)
    home = arriving * in_unit(past, unit)
    return Approach(quantity(in_unit(travel, unit) - home, unit), quantity(home, unit), past)


def reversed_travel(distance: Quantity, backlash: Quantity) -> Quantity:
    """Handwheel travel that moves the table by `distance` when the wheel is reversed:
    the backlash is turned through first. A check; positions are set by `approach`."""
    unit = str(distance.units)
    return quantity(abs(in_unit(distance, unit)) + abs(in_unit(backlash, unit)), unit)


def backlash_between(first: Quantity, second: Quantity, per_turn: Quantity) -> Quantity:
    """The backlash, from what the dial reads where one place is reached from either side.

    The two readings lie a backlash apart, also across the dial's zero. Which side was first makes
    no difference: it is the shorter way round the dial that counts, since no screw in use has lost
    half a turn. Raises `ImpossibleInput` for a reading that the dial can't show.
    """
    unit = unit_name(per_turn)
    turn = in_unit(per_turn, unit)
    here, there = (in_unit(check_reading(each, per_turn), unit) for each in (first, second))
    apart = wrap(here - there, turn)
    return quantity(min(apart, turn - apart), unit)


def travel_from_turns(
    turns: int,
    reading_now: Quantity,
    per_turn: Quantity,
    way: int = 1,
    rises: int = 1,
    start: Quantity | None = None,
) -> Quantity:
    """The signed travel behind "two turns and eleven": whole turns counted, and the reading.

    `way` is the direction the axis went, `start` what the dial read at the beginning.
    """
    if turns < 0:
        raise ImpossibleInput("turns", turns, "count whole turns from the start, 0 or more")
    unit = unit_name(per_turn)
    turn = in_unit(per_turn, unit)
    began = in_unit(start, unit) if start is not None else Decimal(0)
    now = in_unit(check_reading(reading_now, per_turn), unit)
    return quantity(way * (turns * turn + wrap(way * rises * (now - began), turn)), unit)


def travel_from_reading(
    reading_now: Quantity,
    near: Quantity,
    per_turn: Quantity,
    rises: int = 1,
    start: Quantity | None = None,
) -> Quantity:
    """The signed travel that leaves the dial at this reading, and is nearest to `near`.

    A dial can't tell which turn it is in: `near` is where the axis is believed to be. Halfway
    between two turns the smaller travel is taken; ask for the turns where that matters.
    """
    unit = unit_name(per_turn)
    turn = in_unit(per_turn, unit)
    began = in_unit(start, unit) if start is not None else Decimal(0)
    now = in_unit(check_reading(reading_now, per_turn), unit)
    base = wrap(rises * (now - began), turn)
    about = in_unit(near, unit)
    below = base + whole((about - base) / turn) * turn
    return quantity(min((below, below + turn), key=lambda t: (abs(t - about), abs(t))), unit)


Reads = Literal["diameter", "radius"]


def tool_travel(on_dial: Quantity, reads: Reads) -> Quantity:
    """How far a lathe tool moves for `on_dial` on the cross-slide dial: half of it where the
    dial reads diameter."""
    unit = str(on_dial.units)
    return quantity(in_unit(on_dial, unit) / (2 if reads == "diameter" else 1), unit)


def diameter_change(on_dial: Quantity, reads: Reads) -> Quantity:
    """How much the diameter changes for `on_dial`: the same where the dial reads diameter,
    twice as much where it reads radius."""
    unit = str(on_dial.units)
    return quantity(in_unit(on_dial, unit) * (1 if reads == "diameter" else 2), unit)


def screw_lead(threads_per_inch: Decimal, starts: int = 1) -> Quantity:
    """Travel of one turn of a screw: starts / threads per inch."""
    if threads_per_inch <= 0:
        raise ImpossibleInput("threads per inch", threads_per_inch, "must be more than zero")
    return quantity(Decimal(starts) / threads_per_inch, "inch")


def screw_travel(turns: Decimal, lead: Quantity) -> Quantity:
    """True travel of `turns` turns of a screw, whatever its dial says."""
    unit = str(lead.units)
    return quantity(in_unit(lead, unit) * turns, unit)

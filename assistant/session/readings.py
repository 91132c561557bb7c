"""From what a dial reads to where the axis stands: every place that may be meant.

A dial shows its part of a turn and no more. Which turn it is in follows from what the axis was
told to do, where that leaves one turn; else it has to be asked, since the turn before looks the
same on the dial and is a whole turn of metal away. Common practice, no source.
"""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from assistant.calc import dial
from assistant.calc.exact import wrap
from assistant.machine import Axis
from assistant.session.belief import AxisState
from assistant.units import Quantity, magnitude, quantity, unit_name


class Going(NamedTuple):
    """A travel under way."""

    target: Quantity
    """Counted from the zero."""
    approach: int
    """+1 or -1: the way of its last part."""


def places_from_reading(
    axis: Axis,
    now: AxisState,
    reading: Quantity,
    turns: int | None = None,
    *,
    going: Going | None = None,
    side: int = 0,
    known: bool = True,
) -> tuple[Quantity, ...]:
    """Where the axis may stand when its dial reads so: one place where there is no doubt, else
    those that may be meant, the furthest along the move's approach first.

    `turns` are the whole turns that were told with it ("two turns and eleven"); a reading of a
    turn or more tells them too. They count from the zero, toward the `side` (+1 or -1) that was
    told; else toward where the axis stands or is going, and both where the zero lies between.
    `going` is the travel that the axis is making from where it was last known to stand; where it
    isn't `known` to stand there, told turns may count to either side.

    Raises `ImpossibleInput` for a reading that the dial can't show.
    """
    unit = unit_name(axis.per_turn)
    turn = magnitude(axis.per_turn, unit)
    said = magnitude(reading, unit)
    if turns is None and said >= turn:
        turns, said = int(said // turn), said % turn
    at = magnitude(now.position, unit)
    target = magnitude(going.target, unit) if going is not None else at
    approach = going.approach if going is not None else 1
    zero = magnitude(now.zero_reading, unit) if now.zero_reading is not None else turn * 0
    if turns is not None:
        either = _sides(at, target, approach) if known else (1, -1)
        sides = (side,) if side else either
        found = [
            magnitude(
                dial.travel_from_turns(
                    turns, quantity(said, unit), axis.per_turn, one, axis.rises,
                    quantity(zero, unit),
                ),
                unit,
            )
            for one in sides
        ]  # fmt: skip
        way = -1 if target < at else 1
        if target in found and at not in found:
            found = [target]
        elif len(found) > 1 and known:
            # nobody goes back by whole turns from where he was told to go forward
            found = [one for one in found if (one - at) * way * 2 >= -turn] or found
    else:
        dial.check_reading(reading, axis.per_turn)
        # travel from where the axis stood to the first such reading after it
        ahead = wrap(axis.rises * (said - zero) - at, turn)
        way = -1 if target < at else 1
        along = wrap(way * ahead, turn)
        span = abs(target - at)
        offsets = _standing(along, turn) if not span else _on_the_way(
            along, span, turn, deeper=way == approach
        )  # fmt: skip
        found = [at + way * offset for offset in offsets]
    found = sorted(set(found), key=lambda place: place * approach, reverse=True)
    return tuple(quantity(place, unit) for place in found)


def _sides(at: Decimal, target: Decimal, approach: int) -> tuple[int, ...]:
    """The sides of the zero to which told turns may count."""
    sides = {1 if place > 0 else -1 for place in (at, target) if place}
    return tuple(sides) or (approach,)


def _standing(along: Decimal, turn: Decimal) -> list[Decimal]:
    """Offsets of an axis that isn't told to go anywhere: the nearest place, up to a quarter of a
    turn; further off it was moved, and may have been moved by whole turns as well."""
    near = along if along * 2 <= turn else along - turn
    return [near] if abs(near) * 4 <= turn else [along, along - turn]


def _on_the_way(along: Decimal, span: Decimal, turn: Decimal, *, deeper: bool) -> list[Decimal]:
    """Offsets along a travel of `span`, from `along`, the first on or after its beginning.

    What was told to be reached, and read so, is reached, where it is less than a turn away. On the
    way there it is where it reads, where that is once; unless it may as well be past the end by
    half a turn or less. Off the way, a little past the end of a travel that goes `deeper` is taken
    for that: to be wrong there withholds a number, where the turn before would give one too large.
    """
    on = []
    place = along
    while place <= span:
        on.append(place)
        place += turn
    past, behind = place - span, turn - along
    if span < turn and span in on:
        return [span]
    if len(on) == 1 and past * 2 > turn:
        return on
    if not on and deeper and past * 2 <= turn and past <= behind:
        return [place]
    if not on:
        return [place, along - turn]
    return [*on, place] if past * 2 <= turn else on

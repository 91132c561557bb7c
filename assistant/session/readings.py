"""From what a dial reads to where the axis stands."""

from __future__ import annotations

from assistant.calc import dial
from assistant.machine import Axis
from assistant.session.state import AxisState
from assistant.units import Quantity, magnitude, quantity


def position_from_reading(
    axis: Axis, now: AxisState, reading: Quantity, turns: int | None = None, way: int = 0
) -> Quantity:
    """Where the axis stands when its dial reads so.

    `turns` are the whole turns that were told with it ("two turns and eleven"); a reading of a
    turn or more tells them too. They count from the zero, in the direction the axis went from
    there, or `way` (+1 or -1) where it still stands at it. A bare reading is taken for the turn
    nearest to where the axis was last known to be: a dial can't tell whole turns.

    Raises `ImpossibleInput` for a reading that the dial can't show.
    """
    unit = str(axis.per_turn.units)
    turn = magnitude(axis.per_turn, unit)
    said = magnitude(reading, unit)
    at = magnitude(now.position, unit)
    zero = magnitude(now.zero_reading, unit) if now.zero_reading is not None else turn * 0
    if turns is None and said >= turn:
        turns, said = int(said // turn), said % turn
    if turns is not None:
        went = at.compare(0) or way or 1
        return dial.travel_from_turns(
            turns,
            quantity(said, unit),
            axis.per_turn,
            1 if went > 0 else -1,
            axis.rises,
            quantity(zero, unit),
        )
    dial.check_reading(reading, axis.per_turn)
    # travel from the zero that gives this reading, then the whole turns nearest to `at`
    first = axis.rises * (said - zero)
    turns_off = ((at - first) / turn).to_integral_value()
    return quantity(first + turns_off * turn, unit)

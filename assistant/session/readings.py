"""From what a dial reads to where the axis stands."""

from __future__ import annotations

from assistant.calc import dial
from assistant.machine import Axis
from assistant.session.state import AxisState
from assistant.units import Quantity, magnitude, quantity


def position_from_reading(axis: Axis, now: AxisState, reading: Quantity) -> Quantity:
    """Where the axis stands when its dial reads so.

    A reading of a turn or more ("two turns and eleven" on a wheel of 0.100) counts whole turns
    from the zero, in the direction the axis went from there. A bare reading is taken for the
    turn nearest to where the axis was last known to be: a dial can't tell whole turns.
    """
    unit = str(axis.per_turn.units)
    turn = magnitude(axis.per_turn, unit)
    said = magnitude(reading, unit)
    at = magnitude(now.position, unit)
    zero = magnitude(now.zero_reading, unit) if now.zero_reading is not None else turn * 0
    if said >= turn:
        turns, rest = divmod(said, turn)
        way = -1 if at < 0 else 1
        return dial.travel_from_turns(
            int(turns),
            quantity(rest, unit),
            axis.per_turn,
            way,
            axis.rises,
            quantity(zero, unit),
        )
    dial.check_reading(reading, axis.per_turn)
    # travel from the zero that gives this reading, then the whole turns nearest to `at`
    first = axis.rises * (said - zero)
    turns_off = ((at - first) / turn).to_integral_value()
    return quantity(first + turns_off * turn, unit)

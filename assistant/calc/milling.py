"""Slots wider than the cutter, faces wider than the cutter, and which way is conventional.

Places across the work are from the slot's centre line, or from one edge of a face. Common
practice and plane geometry, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from assistant.calc.exact import at_least, in_unit, positive, shown, system
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity

MOST_ROWS = 500
Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class SlotWalls:
    """Where the cutter's centre goes for a slot wider than the cutter."""

    offset: Quantity
    """Either side of the centre line, for the finished walls."""
    rough_offset: Quantity
    """Either side of the centre line, with stock left on both walls."""


def slot_walls(width: Quantity, cutter: Quantity, stock: Quantity | None = None) -> SlotWalls:
    """Cutter positions for both walls of a slot: (width - cutter) / 2 either side of the centre
    line, less the stock left on each wall for finishing.

    `cutter` as measured. Raises `ImpossibleInput` for a cutter wider than the slot, and where
    the stock leaves no room to rough.
    """
    unit = system(width)
    room = (
        in_unit(positive("slot width", width), unit) - in_unit(positive("cutter", cutter), unit)
    ) / 2
    if room < 0:
        raise ImpossibleInput(
            "cutter", shown(cutter), f"wider than the slot of {shown(width)}: take a smaller one"
        )
    left = in_unit(stock, unit) if stock is not None else Decimal(0)
    if not 0 <= left <= room:
        raise ImpossibleInput(
            "stock", shown(quantity(left, unit)),
            f"the cutter is only {shown(quantity(room, unit))} a side smaller than the slot",
        )  # fmt: skip
    return SlotWalls(quantity(room, unit), quantity(room - left, unit))


def face_rows(width: Quantity, cutter: Quantity, step_over: Quantity) -> tuple[Quantity, ...]:
    """Places of the cutter's centre across a face, from its near edge, for rows side by side.

    The first row takes `step_over` from the near edge inwards, the last reaches the far edge;
    rows are equal. Raises `ImpossibleInput` where the rows would leave ribs.
    """
    unit = system(width)
    face = in_unit(positive("face width", width), unit)
    diameter = in_unit(positive("cutter", cutter), unit)
    most = in_unit(positive("step-over", step_over), unit)
    if most > diameter:
        raise ImpossibleInput(
            "step-over", shown(step_over), f"wider than the cutter of {shown(cutter)}: leaves ribs"
        )
    count = at_least(face, most)
    if count > MOST_ROWS:
        raise ImpossibleInput("step-over", shown(step_over), f"would take {count} rows")
    even = face / count
    return tuple(quantity(even * (i + 1) - diameter / 2, unit) for i in range(count))


def climbs(work_on: Side, *, clockwise: bool = True) -> bool:
    """Whether a cut climbs, with the work on this side of the cutter's own travel.

    Seen from the spindle, looking along the way the cutter goes through the work: a clockwise
    (right-hand) cutter climbs with the work on its right and mills conventionally with the work
    on its left. A worn screw lets a climbing cutter pull the table in by the backlash.
    """
    return (work_on == "right") == clockwise


def way_of_milling(work_on: Side, clockwise: bool = True) -> str:
    """`conventional` or `climb`, for the catalogue."""
    return "climb" if climbs(work_on, clockwise=clockwise) else "conventional"

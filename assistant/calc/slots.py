"""Slitting and T-slots: what a saw can reach, what a bolt's slot measures."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calc.exact import in_unit, leg, positive, shown, system
from assistant.calc.table import rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, mm, quantity


@dataclass(frozen=True, slots=True)
class Slitting:
    """Cutting through or into a piece with a slitting saw."""

    reach: Quantity
    """The deepest cut before the collars touch: (saw - collar) / 2."""
    run_in: Quantity
    """Travel from the touch on the end until the saw is at full depth."""
    travel: Quantity
    """Travel for the whole cut, saw clear of both ends at full depth."""


def slitting(saw: Quantity, collar: Quantity, depth: Quantity, length: Quantity) -> Slitting:
    """Reach and travel of a slitting saw cutting `depth` deep along `length`.

    Run-in is sqrt(depth x (saw - depth)). Geometry. Raises `ImpossibleInput` where the collars
    would rub.
    """
    unit = system(positive("saw", saw))
    size, cut = in_unit(saw, unit), in_unit(positive("depth", depth), unit)
    reach = (size - in_unit(positive("collar", collar), unit)) / 2
    if reach <= 0:
        raise ImpossibleInput("collar", shown(collar), f"must be smaller than the {shown(saw)} saw")
    if cut > reach:
        raise ImpossibleInput(
            "depth", shown(depth), f"the collars let it go {shown(quantity(reach, unit))} deep"
        )
    run_in = leg(size / 2, size / 2 - cut)
    return Slitting(
        reach=quantity(reach, unit),
        run_in=quantity(run_in, unit),
        travel=quantity(in_unit(positive("length", length), unit) + 2 * run_in, unit),
    )


@dataclass(frozen=True, slots=True)
class TSlot:
    """A T-slot of ISO 299, in the order in which it is cut."""

    throat: Quantity
    """Width of the slot that is cut first, with an end mill or a slotting cutter."""
    slot_depth: tuple[Quantity, Quantity]
    """Depth of the whole slot, least and most: the floor of the T."""
    head_width: tuple[Quantity, Quantity]
    """Width of the T, least and most: the T-slot cutter's diameter."""
    head_height: tuple[Quantity, Quantity]
    """Height of the T, least and most: the cutter's width."""
    source: str


def t_slot(throat: Quantity) -> TSlot:
    """The T-slot for a throat of 5 to 42 mm.

    The straight slot is cut first, a little short of the floor; the T-slot cutter then takes
    floor and T at once, slowly, chips cleared, since it has nowhere to throw them.
    """
    wanted = in_unit(throat, "mm")
    for row in rows("t_slots"):
        if in_unit(mm(row["throat"]), "mm") == wanted:
            return TSlot(
                throat=mm(row["throat"]),
                slot_depth=(mm(row["depth_least"]), mm(row["depth_most"])),
                head_width=(mm(row["width_least"]), mm(row["width_most"])),
                head_height=(mm(row["height_least"]), mm(row["height_most"])),
                source=row["source"],
            )
    known = ", ".join(row["throat"] for row in rows("t_slots"))
    raise BadInput("throat", shown(throat), f"wanted one of {known} mm")

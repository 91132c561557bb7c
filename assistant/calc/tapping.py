"""Tap drills by percentage of thread, and how far a tap is turned.

"75 % thread" means two things in print, so the basis is always named:

- `classic`: percent of 3/4 H = 0.6495 P a side, hole = D - 1.299 P x percent. Most charts.
- `B1.1`: percent of the basic height 5/8 H = 0.5413 P a side, hole = D - 1.0825 P x percent
  (ASME B1.1, internal basic form). The same percentage gives a larger hole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.drills import INCH_KINDS, Drill, nearest_drill
from assistant.calc.exact import NOISE, in_unit, positive, shown
from assistant.calc.table import rows
from assistant.calc.threads import H_PER_PITCH, basic_thread
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, mm

BASES = {"classic": H_PER_PITCH * 3 / 2, "B1.1": H_PER_PITCH * 5 / 4}
"""What 100 percent takes off the diameter, of the pitch."""
TAPS = {"taper": 8, "plug": 4, "bottoming": 2}
"""Threads of chamfer by kind of tap: 7 to 10, 3 to 5, 1 to 2 (ASME B94.9, from memory)."""


def tap_hole(
    major: Quantity, pitch: Quantity, percent: Decimal, basis: str = "classic"
) -> Quantity:
    """The hole that leaves `percent` of thread on the basis named."""
    basic_thread(major, pitch)
    if not 0 < percent <= 100:
        raise BadInput("percent", percent, "wanted more than 0, and 100 at the most")
    hole: Quantity = major - _full(basis) * percent / 100 * pitch
    return hole


def percent_of_thread(
    major: Quantity, pitch: Quantity, drill: Quantity, basis: str = "classic"
) -> Decimal:
    """The percentage of thread that a hole of diameter `drill` leaves.

    Raises `ImpossibleInput` for a drill as large as the thread, and for a hole so small that the
    tap would have to cut more than a full thread.
    """
    basic_thread(major, pitch)
    positive("drill", drill)
    if in_unit(drill, "mm") >= in_unit(major, "mm"):
        raise ImpossibleInput(
            "drill",
            shown(drill),
            f"as large as the thread, {shown(major)}: none would be left",
        )
    percent = 100 * in_unit(major - drill, "mm") / (_full("classic") * in_unit(pitch, "mm"))
    # a hole for a full thread, worked out and back again, comes to 100 and some last digit
    if percent - 100 > NOISE:
        least = shown(major - _full("classic") * pitch)
        raise ImpossibleInput("drill", shown(drill), f"the tap would jam: {least} at the least")
    return percent * _full("classic") / _full(basis)


@dataclass(frozen=True, slots=True)
class TapDrill:
    """A tap drill and what it gives."""

    drill: str
    """As it is stamped."""
    dia: Quantity
    hole: Quantity
    """The exact hole that was asked for."""
    percent_classic: Decimal
    percent_b11: Decimal


def tap_drill(
    major: Quantity,
    pitch: Quantity,
    percent: Decimal = Decimal(75),
    basis: str = "classic",
    kinds: Sequence[str] = INCH_KINDS,
    rule: str = "nearest",
) -> TapDrill:
    """The drill of the sets `kinds` nearest to the hole for `percent` of thread."""
    hole = tap_hole(major, pitch, percent, basis)
    return _given_by(nearest_drill(hole, kinds, rule), major, pitch, hole)


def metric_tap_drill(major: Quantity, pitch: Quantity) -> TapDrill:
    """The tap drill of ISO 2306 where the table has it, else the metric drill nearest to D - P.

    D - P is 77 percent of thread on the classic basis.
    """
    basic_thread(major, pitch)
    hole: Quantity = major - pitch
    size, lead = in_unit(major, "mm"), in_unit(pitch, "mm")
    for row in rows("tap_drills_iso2306"):
        if Decimal(row["major"]) == size and Decimal(row["pitch"]) == lead:
            drill = Drill(f"{row['drill']} mm", "metric", mm(row["drill"]), row["source"])
            return _given_by(drill, major, pitch, hole)
    return _given_by(nearest_drill(hole, ("metric",)), major, pitch, hole)


def _given_by(drill: Drill, major: Quantity, pitch: Quantity, hole: Quantity) -> TapDrill:
    return TapDrill(
        drill=drill.name,
        dia=drill.diameter,
        hole=hole,
        percent_classic=percent_of_thread(major, pitch, drill.diameter),
        percent_b11=percent_of_thread(major, pitch, drill.diameter, "B1.1"),
    )


@dataclass(frozen=True, slots=True)
class TapTurns:
    """How far a tap goes and how deep its hole must be."""

    turns: Decimal
    """Turns of the tap from where it begins to bite."""
    travel: Quantity
    """How far the tap's end goes into the work."""
    hole_depth: Quantity
    """Depth of the hole at full diameter; for a through hole the thickness."""


def tap_turns(thread_depth: Quantity, pitch: Quantity, tap: str, blind: bool) -> TapTurns:
    """Turns of a tap for `thread_depth` of full thread.

    The chamfer must pass the depth before the thread there is full, through or blind. A blind
    hole is drilled deeper by the chamfer and one pitch, so that the tap never meets the bottom.
    Common practice, no source; chamfer lengths: see `TAPS`.
    """
    if tap not in TAPS:
        raise BadInput("tap", tap, "wanted one of " + ", ".join(TAPS))
    positive("pitch", pitch)
    travel: Quantity = positive("thread depth", thread_depth) + TAPS[tap] * pitch
    return TapTurns(
        turns=in_unit(travel, "mm") / in_unit(pitch, "mm"),
        travel=travel,
        hole_depth=travel + pitch if blind else thread_depth,
    )


def _full(basis: str) -> Decimal:
    if basis not in BASES:
        raise BadInput("basis", basis, "wanted classic (0.6495 P a side) or B1.1 (0.5413 P a side)")
    return BASES[basis]

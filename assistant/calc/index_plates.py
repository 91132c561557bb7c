"""The usual sets of index plates, and what they offer for a move.

A machine's own circles are in its profile; these are for the quick sum and the handbook page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from assistant.calc.indexing import (
    Coverage,
    IndexMove,
    coverage,
    index_angle,
    index_divisions,
)
from assistant.calc.table import rows
from assistant.errors import BadInput
from assistant.units import Quantity

SETS = ("three plate", "two sided")


@cache
def plate_set(name: str) -> tuple[int, ...]:
    """The circles of a usual set of plates: `three plate` or `two sided`."""
    found = [row for row in rows("index_plates") if row["set"] == name]
    if not found:
        known = sorted({row["set"] for row in rows("index_plates")})
        raise BadInput("plates", name, "wanted one of " + ", ".join(known))
    return tuple(int(hole) for row in found for hole in row["circles"].split())


@dataclass(frozen=True, slots=True)
class PlateCircles:
    """The circles of each plate, or side of a plate, of a set."""

    first: tuple[int, ...]
    second: tuple[int, ...]
    third: tuple[int, ...] | None


def plate_circles(plates: str) -> PlateCircles:
    """The circles of a usual set, plate by plate or side by side."""
    plate_set(plates)
    found = [
        tuple(int(hole) for hole in row["circles"].split())
        for row in rows("index_plates")
        if row["set"] == plates
    ]
    return PlateCircles(found[0], found[1], found[2] if len(found) > 2 else None)


@dataclass(frozen=True, slots=True)
class UsualPlates:
    """What the two usual sets of plates offer for one move on a head."""

    turns: int
    three_plate: tuple[tuple[int, int], ...]
    """Pairs of holes and circle; empty where the set can't do it, or whole turns are enough."""
    two_sided: tuple[tuple[int, int], ...]
    possible_three_plate: bool
    possible_two_sided: bool


def usual_plates(
    ratio: int, divisions: int | None = None, angle: Quantity | None = None
) -> UsualPlates:
    """The moves for `divisions` or for an `angle` on the two usual sets of plates."""
    if (divisions is None) == (angle is None):
        raise BadInput("divisions", "both" if angle else "missing", "give divisions or an angle")
    moves = []
    for name in SETS:
        circles = plate_set(name)
        if divisions is not None:
            moves.append(index_divisions(ratio, divisions, circles))
        elif angle is not None:
            moves.append(index_angle(ratio, angle, circles))
    three, two = moves
    # A nearest move that is out may have been carried to the next turn: the exact one says.
    exact = next((move for move in moves if move.exact), three)
    return UsualPlates(
        turns=exact.turns,
        three_plate=three.pairs if three.exact else (),
        two_sided=two.pairs if two.exact else (),
        possible_three_plate=three.exact,
        possible_two_sided=two.exact,
    )


def circles_given(plates: str, circles: Sequence[int] | None) -> tuple[int, ...]:
    """The circles named, or those of the set `plates`."""
    return tuple(circles) if circles else plate_set(plates)


def divide(
    ratio: int, divisions: int, plates: str, circles: Sequence[int] | None = None
) -> IndexMove:
    """`index_divisions` with a usual set of plates or one's own circles."""
    return index_divisions(ratio, divisions, circles_given(plates, circles))


def turn_by(
    ratio: int, angle: Quantity, plates: str, circles: Sequence[int] | None = None
) -> IndexMove:
    """`index_angle` with a usual set of plates or one's own circles."""
    return index_angle(ratio, angle, circles_given(plates, circles))


def covered(ratio: int, plates: str, all_to: int, then_to: int, steps: Sequence[int]) -> Coverage:
    """`coverage` of a usual set of plates."""
    return coverage(ratio, plate_set(plates), all_to, then_to, steps)

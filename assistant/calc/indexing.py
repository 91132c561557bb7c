"""Simple indexing: whole turns of the crank and holes on a circle of the plate.

A turn of the crank turns the work by 1/ratio of a turn. A move of `holes` on a circle counts
spaces: the hole that the pin is in is not counted. Everything is worked in exact fractions.
Source: crank turns = ratio / divisions; US Army Ordnance OD1644 (milling), plain and angular
indexing, as quoted in the check values.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, magnitude

ARC_SECOND = Fraction(1, 3600)
_SNAP = Fraction(2, 1000)
"""Arc seconds: an angle typed as 8.833333 degrees means 8 degrees 50 minutes."""
FINEST = 10_000
"""Divisions beyond it are a slip."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to make the part of a turn."""

    holes: int
    """Spaces to move, without the hole that the pin is in."""
    circle: int
    """Holes in the circle."""

    @property
    def sector_holes(self) -> int:
        """Holes between the sector arms, counting the one that the pin is in."""
        return self.holes + 1


@dataclass(frozen=True, slots=True)
class IndexMove:
    """One move of a dividing head."""

    exact: bool
    """False: no circle of the plates can do it, and the choice is only the nearest."""
    turns: int
    """Whole turns of the crank."""
    choices: tuple[Choice, ...]
    """Every circle that will do, smallest first; empty where whole turns are enough."""
    error_arcsec: Decimal
    """Of the nearest choice, for one move; positive: too far."""
    total_error_arcsec: Decimal | None
    """After going once round; None for a single angle and where it is exact."""

    @property
    def pairs(self) -> tuple[tuple[int, int], ...]:
        """The choices as pairs of holes and circle."""
        return tuple((choice.holes, choice.circle) for choice in self.choices)

    @property
    def sector_holes(self) -> tuple[int, ...]:
        """For each choice, holes between the sector arms with the one that the pin is in."""
        return tuple(choice.sector_holes for choice in self.choices)


def index_divisions(ratio: int, divisions: int, circles: Sequence[int]) -> IndexMove:
    """The move for `divisions` equal spaces on a head of `ratio` to 1.

    Raises `ImpossibleInput` for a ratio, a number of divisions or a circle that can't be.
    """
    if not 1 <= divisions <= FINEST:
        raise ImpossibleInput("divisions", divisions, f"wanted 1 to {FINEST}")
    move = _move(Fraction(_ratio(ratio), divisions), ratio, circles)
    if move.exact:
        return move
    return IndexMove(
        exact=False,
        turns=move.turns,
        choices=move.choices,
        error_arcsec=move.error_arcsec,
        total_error_arcsec=move.error_arcsec * divisions,
    )


def index_angle(ratio: int, angle: Quantity, circles: Sequence[int]) -> IndexMove:
    """The move for one angle, more than 0 and up to 360 degrees."""
    degrees = exact_degrees(angle)
    if not 0 < degrees <= 360:
        raise ImpossibleInput("angle", f"{magnitude(angle, 'degree'):f} deg", "wanted 0 to 360")
    return _move(degrees * _ratio(ratio) / 360, ratio, circles)


def index_error(ratio: int, angle: Quantity, holes: int, circle: int) -> Decimal:
    """How far a move of `holes` on `circle` is from an angle, in arc seconds; negative: short."""
    if circle < 1 or holes < 0:
        raise BadInput("holes", f"{holes} on {circle}", "wanted a move on a circle of holes")
    moved = Fraction(holes, circle) * Fraction(360, _ratio(ratio))
    return _decimal((moved - exact_degrees(angle)) / ARC_SECOND)


def possible(ratio: int, divisions: int, circles: Sequence[int]) -> bool:
    """Whether `divisions` can be indexed simply with these circles."""
    part = Fraction(_ratio(ratio), divisions)
    return any(circle % part.denominator == 0 for circle in (1, *circles))


@dataclass(frozen=True, slots=True)
class Coverage:
    """What a set of plates can divide."""

    all_to: int
    then_to: int
    missing: tuple[int, ...]
    """The numbers that can't be indexed simply."""


def coverage(
    ratio: int, circles: Sequence[int], all_to: int, then_to: int, steps: Sequence[int]
) -> Coverage:
    """Which divisions fail: of all from 2 to `all_to`, and of multiples of `steps` to `then_to`."""
    numbers = list(range(2, all_to + 1))
    numbers += [n for n in range(all_to + 1, then_to + 1) if any(n % s == 0 for s in steps)]
    missing = tuple(n for n in numbers if not possible(ratio, n, circles))
    return Coverage(all_to, then_to, missing)


def exact_degrees(angle: Quantity) -> Fraction:
    """An angle as an exact fraction of degrees, a hair off a whole arc second set to it."""
    degrees = Fraction(Decimal(magnitude(angle, "degree")))
    seconds = degrees / ARC_SECOND
    near = round(seconds)
    return near * ARC_SECOND if abs(seconds - near) <= _SNAP else degrees


def _ratio(ratio: int) -> int:
    if not 1 <= ratio <= 1000:
        raise ImpossibleInput("ratio", ratio, "wanted the head's ratio to 1: 40, 60, 72, 90")
    return ratio


def _move(crank: Fraction, ratio: int, circles: Sequence[int]) -> IndexMove:
    for circle in circles:
        if circle < 2:
            raise ImpossibleInput("circle", circle, "wanted circles of two holes or more")
    turns, part = divmod(crank, 1)
    if part == 0:
        return IndexMove(True, turns, (), Decimal(0), None)
    exact = tuple(
        Choice(int(part * circle), circle)
        for circle in sorted(set(circles))
        if circle % part.denominator == 0
    )
    if exact:
        return IndexMove(True, turns, exact, Decimal(0), None)
    # The nearest hole of any circle; with no plates at all, the nearest whole turn.
    near = min(
        (Choice(round(part * circle), circle) for circle in sorted(set(circles))),
        key=lambda choice: abs(Fraction(choice.holes, choice.circle) - part),
        default=Choice(0, 1),
    )
    if near.circle == 1 or near.holes in (0, near.circle):
        turns, near = (turns + (part > Fraction(1, 2)), Choice(0, 1))
    reached = turns + Fraction(near.holes, near.circle)
    error = (reached - crank) * Fraction(360, ratio) / ARC_SECOND
    choices = (near,) if near.holes else ()
    return IndexMove(False, turns, choices, _decimal(error), None)


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / Decimal(value.denominator)

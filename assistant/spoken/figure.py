"""The one figure that ear and eye both present, with the terms it was made of."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.machine import Wheel
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class Term:
    """One term of a derivation: `half the shaft`, 0.750 in."""

    name: str
    """In shop words, as it is spoken: `half the cutter`."""
    value: Quantity
    sign: int = 1
    """+1 added, -1 taken away, 0 only mentioned (an input, not a term of the sum)."""


@dataclass(frozen=True, slots=True)
class DialMove:
    """One handwheel move: from where the dial is now to the reading to stop at."""

    wheel: Wheel
    direction: str
    """The way to move, in the operator's words: `in`, `out`, `up`, `down`, `left`, `right`."""
    distance: Quantity
    """Travel, never negative."""
    turns: int
    """Whole turns to make."""
    part: Decimal
    """The rest after the whole turns, in the wheel's unit (same unit as `wheel.per_turn`)."""
    divisions: Decimal
    """The rest as divisions of this dial; may be a half."""
    reading: Quantity
    """The dial reading to stop at, 0 to one turn."""
    back_off: Quantity | None = None
    """Travel to go past and come back by first, so that the backlash is taken up; None where the
    move already comes the right way."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with everything needed to say it, show it and explain it."""

    value: Quantity
    """Exact; rounding happens once, in `present`."""
    what: str
    """What it is, in a few shop words for the screen: `saddle in`, `over the key`."""
    places: int = 4
    """Decimal places shown in `value`'s own unit."""
    terms: tuple[Term, ...] = ()
    formula: str = ""
    source: str = ""
    """The published source of the formula or value, or `common practice`."""
    move: DialMove | None = None
    low: Quantity | None = None
    """Lower limit, where the figure is a size to be measured."""
    high: Quantity | None = None

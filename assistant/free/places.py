"""Where the axes stand, what is marked, which moves are open: plain data, and what follows from it.

Two positions are told apart. An axis is *dialled* where its screw is, as its dial counts; the slide
*stands* as if the screw had last turned toward `side`. They differ by the backlash where it last
turned the other way. Marks, touches and targets are where the slide stands, exactly.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from assistant.calc import dial
from assistant.calc.exact import as_unit
from assistant.machine import Axis, Machine
from assistant.session.belief import AxisState
from assistant.session.instruct import dial_move
from assistant.spoken import DialMove
from assistant.units import Quantity, quantity, unit_name

LETTERS = ("a", "b", "c", "d", "e", "f")
FEWEST, MOST = 2, 60
"""Places of a row or a circle."""
ALONG = ("table", "saddle", "carriage", "cross slide")
"""The axes of a mark: a place on the work. The rest, depth above all, is only gone to by name."""
TOWARD_WORK: Mapping[str, int] = MappingProxyType(
    {"knee": 1, "quill": 1, "cross slide": 1, "compound": 1, "tailstock": 1}
)
"""The way that usually brings tool and work together: gone last, and its opposite first. Common
practice, no source."""


class Lost(StrEnum):
    """What isn't known of where an axis stands."""

    NOTHING = ""
    TURN = "turn"
    """Its dial has to be read, with the whole turns from zero."""
    COUNT = "count"
    """Its turns are lost: only a place that is known tells where it is."""
    ZERO = "zero"
    """It has no zero."""


@dataclass(frozen=True, slots=True)
class Slide:
    """What is known of one axis; positions count from its zero, in the unit of its dial."""

    dialled: Quantity
    """Where its screw is."""
    exact: Quantity
    """Where the slide stands, exactly as it was asked for: the next move counts from here."""
    reading: Quantity
    """What the dial reads at the zero."""
    side: int = 1
    """+1 or -1: the way of the last travel to the zero, and so to every place counted from it."""
    came: int = 1
    """+1 or -1: the way of its last travel; as far as that is known."""
    sure: bool = False
    """Whether that is known."""
    lost: Lost = Lost.ZERO
    low: Quantity | None = None
    high: Quantity | None = None
    """The furthest that it has stood either way, counted from its zero."""
    ring_stays: bool = False
    """Whether its dial's ring isn't to be turned: a job's zero is on it."""
    zeros: int = 0
    """How many zeros it was given."""


@dataclass(frozen=True, slots=True)
class Leg:
    """A move of one axis that was told and isn't made yet."""

    axis: str
    target: Quantity
    """Exact, from the axis' zero."""
    what: str
    """Where it goes, in words: `two inches left`, `to alpha`, `hole two of six`."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """Places to be gone to one after another."""

    name: str
    """`hole`, `place`."""
    stops: tuple[Mapping[str, Quantity], ...]
    """Of each the axes, and where they stand there."""
    at: int = 0
    """How many were gone to."""


def _frozen() -> Mapping[str, Any]:
    return MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Places:
    """All that is known and asked for."""

    slides: Mapping[str, Slide]
    marks: Mapping[str, Mapping[str, Quantity]] = field(default_factory=_frozen)
    """By letter, of each axis where it stood."""
    touches: Mapping[str, tuple[Quantity, ...]] = field(default_factory=_frozen)
    """The last two touches of an axis."""
    legs: tuple[Leg, ...] = ()
    """Moves that were told; the first is in hand."""
    last: tuple[str, Quantity] | None = None
    """The last move that was told as such: axis, and signed distance."""
    pattern: Pattern | None = None

    @property
    def leg(self) -> Leg | None:
        """The move in hand."""
        return self.legs[0] if self.legs else None

    def with_slide(self, axis: str, slide: Slide) -> Places:
        """With what is known of one axis."""
        return replace(self, slides=MappingProxyType({**self.slides, axis: slide}))


def nowhere(machine: Machine) -> Places:
    """Before anything was told."""
    slides = {}
    for name, axis in machine.axes.items():
        nothing = quantity(0, unit_name(axis.per_turn))
        slides[name] = Slide(nothing, nothing, nothing)
    return Places(MappingProxyType(slides))


def slack_matters(axis: Axis) -> bool:
    """Whether it makes a difference from which side a place is come to."""
    return bool(axis.backlash.magnitude) or not axis.backlash_known


def stands(axis: Axis, slide: Slide) -> Quantity:
    """Where the slide stands, as far as its dial tells: the backlash taken out where its screw last
    turned against `side`."""
    if slide.came == slide.side:
        return slide.dialled
    there: Quantity = slide.dialled + axis.backlash * slide.side
    return there


def dialled_for(axis: Axis, place: Quantity, side: int, came: int) -> Quantity:
    """Where the screw is when the slide stands at `place`, having last turned the way `came`."""
    there: Quantity = place if came == side else place - axis.backlash * side
    return there


def on_dial(axis: Axis, size: Quantity) -> Quantity:
    """A size in the unit of the dial, exactly."""
    return as_unit(size, unit_name(axis.per_turn))


def set_to_dial(axis: Axis, target: Quantity) -> Quantity:
    """An exact target set to the dial, once."""
    return dial.settle(target, axis.graduation)


def as_axis_state(slide: Slide) -> AxisState:
    """The axis as the rest of the program knows one. What isn't known of its slack is taken as the
    worse: then the move goes past and comes back."""
    came = slide.came if slide.sure else -slide.side
    return AxisState(slide.dialled, slide.reading, came)


def move_of(axis: Axis, slide: Slide, leg: Leg) -> DialMove:
    """The handwheel move of a leg, from where its axis is."""
    now = as_axis_state(slide)
    if not slack_matters(axis):
        now = replace(now, came=0)
    return dial_move(axis, now, set_to_dial(axis, leg.target), slide.side)


def within_travel(axis: Axis, slide: Slide, target: Quantity) -> bool:
    """Whether the axis can have stood wherever it did and reach the target, too."""
    if axis.travel is None:
        return True
    known = (slide.dialled, slide.low, slide.high, target)
    reached = [one for one in known if one is not None]
    return bool(max(reached) - min(reached) <= axis.travel)


def moved_to(slide: Slide, place: Quantity, *, exact: Quantity, came: int, sure: bool) -> Slide:
    """The slide with its screw at `place`."""
    low = place if slide.low is None else min(slide.low, place)
    high = place if slide.high is None else max(slide.high, place)
    return replace(
        slide, dialled=place, exact=exact, came=came, sure=sure, lost=Lost.NOTHING,
        low=low, high=high,
    )  # fmt: skip


def along(machine: Machine) -> tuple[str, ...]:
    """The axes of a mark on this machine: of one that has depth alone, all."""
    named = tuple(name for name in machine.axes if name in ALONG)
    return named or tuple(machine.axes)


def in_order(legs: list[Leg], places: Places) -> tuple[Leg, ...]:
    """Away from the work first, along it next, toward it last."""

    def turn(leg: Leg) -> int:
        goes = leg.target - places.slides[leg.axis].dialled
        toward = TOWARD_WORK.get(leg.axis, 0)
        return (1 if goes.magnitude > 0 else -1) * toward if toward else 0

    return tuple(sorted(legs, key=turn))

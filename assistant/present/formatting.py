"""From exact quantities to the figures that are shown, by the one rounding (`spoken/rounding`).

Everything before this module is exact; everything after it is text. A length is shown in inches
with four places (three where that is exact) or in millimetres with three (two where exact), so
that `0.6250` reads as a draughtsman writes it, `0.625`, and a half thou is never lost.
Ties go away from zero, as on paper. What is marked on a dial is always shown as it is marked,
whatever unit the operator asked for: the dial can't be switched.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import NamedTuple

from assistant.machine import WAYS
from assistant.present.glance import Stop
from assistant.replacing import replace
from assistant.spoken import DialMove, Figure, Wheel
from assistant.spoken.rounding import places_in, round_places
from assistant.units import Quantity, magnitude, quantity

MINUS = "\N{MINUS SIGN}"
SENTENCE_ENDS = re.compile(r"(?<=[.?!])\s+")
"""Between the sentences of a text."""
_QUARTERS = MappingProxyType({Decimal("0.25"): "¼", Decimal("0.5"): "½", Decimal("0.75"): "¾"})


class Shown(NamedTuple):
    """A number as it is shown: `('0.9405', 'in')`."""

    number: str
    unit: str

    def __str__(self) -> str:
        return f"{self.number} {self.unit}".rstrip()


class _Style(NamedTuple):
    """How a kind of quantity is shown: unit, its symbol, most and fewest decimal places."""

    unit: str
    symbol: str
    most: int
    fewest: int


_LENGTHS: Mapping[str, _Style] = MappingProxyType(
    {"inch": _Style("inch", "in", 4, 3), "mm": _Style("mm", "mm", 3, 2)}
)
_PER_TURN: Mapping[str, _Style] = MappingProxyType(
    {"inch": _Style("inch/turn", "in/turn", 4, 3), "mm": _Style("mm/turn", "mm/turn", 3, 2)}
)
_FEEDS: Mapping[str, _Style] = MappingProxyType(
    {
        "inch": _Style("inch/minute", "in/min", 2, 0),
        "mm": _Style("mm/minute", "mm/min", 1, 0),
    }
)
_SURFACE: Mapping[str, _Style] = MappingProxyType(
    {"inch": _Style("foot/minute", "ft/min", 0, 0), "mm": _Style("meter/minute", "m/min", 1, 0)}
)
_OTHERS: Mapping[str, _Style] = MappingProxyType(
    {
        "revolutions_per_minute": _Style("revolutions_per_minute", "rpm", 0, 0),
        "turn": _Style("turn", "turns", 2, 0),
        "degree": _Style("degree", "°", 3, 0),
        "second": _Style("second", "s", 1, 0),
        "second / turn": _Style("second / turn", "s a turn", 1, 0),
        "minute": _Style("minute", "min", 1, 0),
        "dimensionless": _Style("dimensionless", "", 4, 0),
    }
)


def _style(value: Quantity, unit: str) -> _Style:
    """How `value` is shown where lengths are in `unit` (`inch`, `mm`, or '' for its own)."""
    own = str(value.units)
    known = _OTHERS.get(own)
    if known is not None:
        return known
    system = unit or ("mm" if "meter" in own else "inch")
    system = "mm" if system in ("mm", "millimeter") else "inch"
    # A turn counts as 2π without a dimension, so a feed a turn passes for a length: look first.
    if "turn" in own or "revolution" in own:
        return _PER_TURN[system]
    if value.check("[length]"):
        return _LENGTHS[system]
    if value.check("[length]/[time]"):
        coarse = "foot" in own or own.startswith("meter")
        return (_SURFACE if coarse else _FEEDS)[system]
    if value.check("1/[time]"):
        return _OTHERS["revolutions_per_minute"]
    return _Style(own, own, 4, 0)


def _places_in(style: _Style, figure: Figure) -> tuple[int, int]:
    """Most and fewest places for a figure whose own number of places may be for the other unit."""
    if style not in _LENGTHS.values():
        return min(style.most, figure.places), style.fewest
    most = places_in(figure, style.unit)
    return most, min(style.fewest, most)


def show_number(value: Figure | Quantity, unit: str = "", places: int | None = None) -> Shown:
    """A figure or quantity as `('0.9405', 'in')`; `unit` is what lengths are shown in.

    `places` fixes the decimals; without it, a figure's own number of places holds (one fewer in
    millimetres than in inches), and a bare quantity gets its kind's usual ones. Zeros past the
    usual three places of an inch (two of a millimetre) are left off.
    """
    amount = value.value if isinstance(value, Figure) else value
    style = _style(amount, unit)
    if places is not None:
        most, fewest = places, places
    elif isinstance(value, Figure):
        most, fewest = _places_in(style, value)
    else:
        most, fewest = style.most, style.fewest
    rounded = round_places(magnitude(amount, style.unit), most)
    while most > fewest and rounded == rounded.quantize(Decimal(1).scaleb(1 - most)):
        most -= 1
        rounded = rounded.quantize(Decimal(1).scaleb(-most))
    sign = MINUS if rounded < 0 else ""
    return Shown(f"{sign}{abs(rounded):f}", style.symbol)


def shown_value(value: Figure | Quantity, unit: str = "") -> Quantity:
    """The quantity that the shown figures stand for: what the ear must say too."""
    amount = value.value if isinstance(value, Figure) else value
    style = _style(amount, unit)
    number = show_number(value, unit).number.replace(MINUS, "-")
    return quantity(Decimal(number), style.unit)


def show(value: Figure | Quantity, unit: str = "", places: int | None = None) -> str:
    """Number and unit in one text: `0.9405 in`."""
    return str(show_number(value, unit, places))


def like(size: Quantity, figure: Figure) -> Figure:
    """`size` as a figure that is rounded as `figure` is: a limit beside its size."""
    return replace(figure, value=size, move=None)


def widest(value: Figure | Quantity, unit: str = "") -> str:
    """The widest number that may stand where this one does, as `0.0000`.

    The size of the figures is chosen for it, so that they don't jump as zeros come and go:
    0.099, 0.100 and 0.1005 are all set in the size of `0.0000`.
    """
    amount = value.value if isinstance(value, Figure) else value
    style = _style(amount, unit)
    number = show_number(value, unit).number
    most = _places_in(style, value)[0] if isinstance(value, Figure) else style.most
    whole = number.lstrip(MINUS).partition(".")[0]
    least = {"mm": 2, "rpm": 4}.get(style.symbol, 1)
    fraction = number.partition(".")[2]
    if style in _LENGTHS.values():
        fraction = "0" * most
    sign = MINUS if number.startswith(MINUS) else ""
    return sign + "0" * max(len(whole), least) + ("." + "0" * len(fraction) if fraction else "")


def dial_text(value: Quantity, wheel: Wheel) -> str:
    """What is read on the dial: thousandths with a half (`140½`), or millimetres (`1.25`)."""
    if str(wheel.per_turn.units) != "inch":
        return show_number(value, "mm").number
    thou = magnitude(value, "thou")
    whole = int(thou)
    rest = abs(thou - whole)
    if rest == 0:
        return f"{whole}"
    if rest in _QUARTERS:
        return (f"{whole}" if whole else "") + _QUARTERS[rest]
    return f"{round_places(thou, 2).normalize():f}"


def show_turns(move: DialMove) -> str:
    """Turns and the rest: `4 turns + 140½`, `10 turns`, `under a turn: 30`, `stays`."""
    rest = quantity(move.part, str(move.wheel.per_turn.units))
    if move.turns == 0:
        return f"under a turn: {dial_text(rest, move.wheel)}" if move.part else "stays"
    turns = "1 turn" if move.turns == 1 else f"{move.turns} turns"
    return turns if move.part == 0 else f"{turns} + {dial_text(rest, move.wheel)}"


def stop_of(move: DialMove) -> Stop:
    """The turns of a move, and where to stop: `4 turns + 140½, stop at`, `140½`."""
    after = ""
    if goes_round(move) and move.back_off is not None:
        turns = f"back off {turns_of(move.back_off, move.wheel)}, stop at"
    else:
        turns = show_turns(move)
        turns += ", past zero" if passes_zero(move) else ""
        turns += ", at" if turns == "stays" else ", stop at"
        if move.back_off is not None:
            after = f"coming back {turns_of(move.back_off, move.wheel)}"
    return Stop(turns, dial_text(move.reading, move.wheel), _widest_reading(move), after=after)


def show_dial(move: DialMove) -> str:
    """Turns and where to stop: `4 turns + 140½, stop at 140½`."""
    return str(stop_of(move))


def _widest_reading(move: DialMove) -> str:
    """The widest reading of its dial: `000½`, `0.00`."""
    last = dial_text(move.wheel.per_turn - move.wheel.graduation, move.wheel)
    figures = "".join("0" if sign.isdigit() else sign for sign in last)
    in_thou = str(move.wheel.per_turn.units) == "inch"
    return figures if any(sign in "¼½¾." for sign in figures) or not in_thou else f"{figures}½"


def turns_to_quarter(travel: Quantity, wheel: Wheel) -> Decimal:
    """A travel in turns, to the nearest quarter: a guide for how far to back off."""
    unit = str(wheel.per_turn.units)
    return round_places(magnitude(travel, unit) / magnitude(wheel.per_turn, unit) * 4, 0) / 4


def turns_of(travel: Quantity, wheel: Wheel) -> str:
    """A travel in turns, to the nearest quarter: `½ turn`, `1½ turns`."""
    turns = turns_to_quarter(travel, wheel)
    whole = int(turns)
    text = (str(whole) if whole else "") + _QUARTERS.get(turns - whole, "")
    return f"{text or '0'} turn{'s' if turns > 1 else ''}"


def goes_round(move: DialMove) -> bool:
    """Whether it is a division or less, and the backlash has to be taken up: then only the reading
    to come back to counts."""
    return move.back_off is not None and move.distance <= move.wheel.graduation


def other_way(move: DialMove) -> str:
    """Against the direction of the move, in the operator's words."""
    ways = WAYS[move.wheel.axis]
    return ways[0] if move.direction == ways[1] else ways[1]


def dial_sense(move: DialMove, way: str = "") -> int:
    """+1 where the dial's numbers rise during the move, or on travel that `way`, -1 where they
    fall."""
    return move.wheel.rises * _sign(move, way)


def hand_sense(move: DialMove, way: str) -> int:
    """+1 where the wheel is turned clockwise for travel that `way`, -1 where the other way; 0 where
    the profile doesn't tell, or there is no way."""
    return move.wheel.clockwise * _sign(move, way) if way else 0


def _sign(move: DialMove, way: str) -> int:
    """+1 where it is the positive way of the axis."""
    return 1 if WAYS.get(move.wheel.axis, ("", ""))[0] == (way or move.direction) else -1


def start_reading(move: DialMove) -> Quantity:
    """What the dial reads before the move: the reading to stop at, less the part of a turn."""
    unit = str(move.wheel.per_turn.units)
    turn = magnitude(move.wheel.per_turn, unit)
    start = (magnitude(move.reading, unit) - dial_sense(move) * move.part) % turn
    return quantity(start + turn if start < 0 else start, unit)


def passes_zero(move: DialMove) -> bool:
    """Whether the part of a turn runs over the dial's zero: easily misread by a whole turn."""
    unit = str(move.wheel.per_turn.units)
    start, stop = magnitude(start_reading(move), unit), magnitude(move.reading, unit)
    if move.part == 0 or stop == 0 or start == 0:
        return False
    return stop < start if dial_sense(move) > 0 else stop > start

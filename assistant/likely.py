"""What a machine's file is likely to say: a slip of the unit or of the decimal point makes every
move, speed or feed wrong by its factor, and nothing later would show it.

The bands are common practice, no source: wide enough for manual machines of every size, narrow
enough to catch thou taken for inches, inches for millimetres, and feeds a turn for feeds a minute.
What lies outside is refused, unless the file says that it was measured so.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from types import MappingProxyType

from assistant.calc.dial import divisions_per_turn
from assistant.calc.exact import in_unit, system
from assistant.fields import Fields
from assistant.units import Quantity, unit_symbol

Band = tuple[Decimal, Decimal]


def _bands(inch: tuple[str, str], mm: tuple[str, str]) -> Mapping[str, Band]:
    low, high = inch
    least, most = mm
    return MappingProxyType(
        {"inch": (Decimal(low), Decimal(high)), "mm": (Decimal(least), Decimal(most))}
    )


TURN = _bands(("0.02", "1"), ("0.5", "25"))
"""Travel of a turn of a handwheel, or of a lead screw."""
DIVISIONS = (20, 500)
"""Divisions of a dial."""
LONGEST_TRAVEL = MappingProxyType({"inch": 200, "mm": 5000})
"""From end to end of an axis."""
LEAST_CUT = _bands(("0.0002", "0.05"), ("0.005", "1.3"))
SPEED: Band = (Decimal(5), Decimal(30000))
"""Of a spindle, in turns a minute."""
FEED_A_MINUTE = _bands(("0.05", "250"), ("1", "6500"))
FEED_A_TURN = _bands(("0.0002", "0.2"), ("0.005", "5"))

SNATCH: Mapping[str, Mapping[str, Decimal]] = MappingProxyType(
    {
        "drag": {"inch": Decimal("0.015"), "mm": Decimal("0.4")},
        "eliminator": {"inch": Decimal("0.003"), "mm": Decimal("0.08")},
    }
)
"""The most backlash by which a climbing cutter may pull the work in: against a lock that drags, and
what an eliminator that is set right leaves. Common practice, no source."""

CONFIRM = "; where it is so, measured, add confirmed = true"


def doubt_wheel(
    fields: Fields, unit: str, per_turn: Quantity, graduation: Quantity, travel: Quantity | None
) -> None:
    """Refuse what no handwheel is likely to be. `unit` is the machine's, the sizes are in the
    dial's; raises `BadFile`."""
    own = system(per_turn)
    sign = unit_symbol(own)
    low, high = TURN[own]
    turn = in_unit(per_turn, own)
    confirm = f"{CONFIRM} to the axis"
    if own != unit:
        fields.doubt("per_turn", f"the machine's unit is {unit}", confirm)
    if not low <= turn <= high:
        usual = f"a handwheel's turn is {low} to {high} {sign}"
        want = f"{turn.normalize():f} {sign} a turn: {usual}{_meant_instead(turn, own)}"
        fields.doubt("per_turn", want, confirm)
    divisions = divisions_per_turn(per_turn, graduation)
    few, many = DIVISIONS
    if not few <= divisions <= many:
        want = f"{divisions} divisions a turn, and a dial has {few} to {many}: count its lines"
        fields.doubt("graduation", want, confirm)
    if travel is not None and not turn <= in_unit(travel, own) <= LONGEST_TRAVEL[own]:
        want = "an axis travels at least a turn of its handwheel, and at most "
        want += f"{LONGEST_TRAVEL[own]} {sign}"
        fields.doubt("travel", want, confirm)


def doubt_climbing(fields: Fields, climb: str, backlash: Quantity) -> None:
    """Refuse climbing on a screw with more backlash than goes with it; raises `BadFile`."""
    most = SNATCH.get(climb)
    if most is None:
        return
    own = system(backlash)
    lost, sign = in_unit(backlash, own), unit_symbol(own)
    if lost > most[own]:
        want = (
            f"with a backlash of {lost.normalize():f} {sign}, and it goes with {most[own]} {sign}"
        )
        fields.doubt("climb", f"{want} at most", f"{CONFIRM} to the axis")


def _meant_instead(turn: Decimal, own: str) -> str:
    """What an unlikely travel a turn may have been meant for: thou, or the other unit."""
    others = [(turn / 1000, "inch"), (turn, "mm")] if own == "inch" else [(turn, "inch")]
    for size, unit in others:
        low, high = TURN[unit]
        if low <= size <= high:
            return f'; is it "{size.normalize():f} {unit_symbol(unit)}"?'
    return ""


def doubt_gearbox(
    fields: Fields,
    *,
    unit: str,
    speeds: Iterable[Quantity],
    feeds: Iterable[Quantity],
    a_turn: bool,
    least_cut: Quantity,
    lead_screw: Quantity | None,
) -> None:
    """Refuse what no gearbox, lead screw or cutter is likely to be; raises `BadFile`."""
    sign = unit_symbol(unit)
    per = "a turn" if a_turn else "a minute"
    _within(fields, "speeds", (Decimal(s.magnitude) for s in speeds), SPEED, "rpm")
    band = (FEED_A_TURN if a_turn else FEED_A_MINUTE)[unit]
    other = f' (feed_per = "{"minute" if a_turn else "turn"}"?)'
    _within(fields, "feeds", (Decimal(f.magnitude) for f in feeds), band, f"{sign} {per}{other}")
    _within(fields, "least_cut", [in_unit(least_cut, unit)], LEAST_CUT[unit], sign)
    if lead_screw is not None:
        own = system(lead_screw)
        size = in_unit(lead_screw, own)
        _within(fields, "lead_screw", [size], TURN[own], f"{unit_symbol(own)} a turn")


def _within(fields: Fields, key: str, sizes: Iterable[Decimal], band: Band, of: str) -> None:
    low, high = band
    if not all(low <= size <= high for size in sizes):
        fields.doubt(key, f"wanted {low} to {high} {of}", CONFIRM)

"""What is asked about speeds, feeds and what else stands on the plates of a machine."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from itertools import chain

from assistant.calc.metric_limits import PREFERRED
from assistant.errors import Unlikely
from assistant.fields import Fields
from assistant.filling.machines.axes import AXES, FILE, OFF, key_of, sentence
from assistant.jobs.field import (
    Doubted,
    Each,
    Field,
    Kind,
    Known,
    Row,
    Value,
    count,
    number,
    pick,
    size,
    when,
    yes,
)
from assistant.likely import FEED_A_MINUTE, FEED_A_TURN, SPEED, doubt_gearbox
from assistant.machine import NO_MACHINE
from assistant.units import quantity

BELTS, GEARS, VARIABLE = "belts", "gears", "variable"
A_MINUTE, A_TURN, BY_HAND = "a minute", "a turn", "none"
NOT_TOLD = "not told"
SPINDLE = "kind=vertical mill|horizontal mill|lathe|drill press"
MILL = "kind=vertical mill|horizontal mill"
R20 = [one for one in PREFERRED if 100 <= one < 1000][::2]
DECADES = tuple(Decimal(10) ** power for power in range(-2, 3))
PLATES = 4
"""So many dividing plates are asked for."""


def gearbox_fields() -> tuple[Field, ...]:
    """Speeds and feeds, and a lathe's lead screw."""
    stepped = f"{SPINDLE} & ?drive={BELTS}|{GEARS}|{NOT_TOLD}"
    variable = f"{SPINDLE} & ?drive={VARIABLE}"
    fed = f"{SPINDLE} & ?feed={A_MINUTE}|{A_TURN}"
    turned = "kind=lathe & ?lead=yes"
    fields = (
        pick("?drive", "drive", "Are the speeds by belts, by gears, or variable?",
             "Of a variable one the lowest and the highest are told.",
             (BELTS, GEARS, VARIABLE), usual=NOT_TOLD, given=SPINDLE),
        _row("?speeds", "speeds", "What is the slowest speed?",
             "No other speed is ever asked for.", stepped, _speed,
             how="Read the speeds off the plate, slowest first, one after another."),
        _rate("?slowest", "slowest speed", "What is the slowest speed?", variable),
        _rate("?fastest", "fastest speed", "And the fastest?", variable),
        Field("speeds", "the speeds", "", "", Kind.ROW, when=when(SPINDLE),
              worked=_speeds, source="?speeds"),
        pick("?feed", "power feed", "Power feeds: a minute, a turn, or none?",
             "By hand the pace is given in seconds a turn.", (A_MINUTE, A_TURN, BY_HAND),
             given=SPINDLE),
        Field("feed_per", "feeds are", "", "", Kind.CHOICE, when=when(fed), worked=_feed_per),
        _row("feeds", "feeds", "What is the finest feed?", "No other feed is ever asked for.",
             fed, _feed, how="Read the feeds off the plate, finest first, one after another."),
        pick("feed_axis", "axis with power feed", "Which axis has the power feed?",
             "The feed is told for it.", _axes_there, given=SPINDLE, aside=True,
             offer=_fed_axis),
        yes("?lead", "lead screw", "Has it a lead screw, for threads?",
            "Threads are cut by it.", usual="", given="kind=lathe"),
        size("lead_screw", "a turn of the lead screw",
             "How far does the carriage go in one turn of the lead screw?",
             "An eighth of an inch is eight threads an inch.", "0.0196", "1", given=turned),
        yes("?thread_dial", "thread dial", "Has it a thread dial?",
            "The lines to close the half nuts at go by it.", usual="no", given=turned),
        count("thread_dial_gear", "teeth of the thread dial's gear",
              "How many teeth has the thread dial's gear?", "The gear on the lead screw.",
              4, 200, given=f"{turned} & ?thread_dial=yes"),
        count("thread_dial_marks", "lines of the thread dial",
              "How many lines has the thread dial?", "All round it.", 1, 48,
              given=f"{turned} & ?thread_dial=yes"),
        pick("compound_zero", "zero of the compound",
             "Where does the compound's scale read zero, axis or square?",
             "Along the lathe's axis, or square to it: tapers and threads are set by it.",
             ("axis", "square"), given="kind=lathe & ?compound=yes", usual="axis"),
        yes("depth_stop", "depth stop", "Has the quill a depth stop?",
            "Holes are then drilled to it.", usual="no",
            given="kind=vertical mill|drill press & ?quill=yes"),
        size("least_cut", "least cut", "Below what depth does a cut rub?",
             "No shallower cut is planned. On a lathe, the depth on one side.",
             "0.0002", "0.05", usual="four thou, or a tenth of a millimetre", aside=True,
             given=SPINDLE),
        *_divider(),
    )  # fmt: skip
    return tuple(replace(one, caution=OFF) for one in fields)


def _divider() -> tuple[Field, ...]:
    head = f"{MILL} & ?divider=dividing head"
    table = f"{MILL} & ?divider=rotary table"
    plates = [
        _row(f"?plate.{number_of}", f"dividing plate {number_of}",
             f"Plate {number_of}: what is its smallest hole circle?",
             "Divisions are counted in its holes.", head if number_of == 1 else
             f"{head} & ?plate.{number_of - 1}.more=yes", _holes,
             how="Read the hole circles off the plate, smallest first.", aside=True)
        for number_of in range(1, PLATES + 1)
    ]  # fmt: skip
    more = [
        yes(f"?plate.{number_of}.more", f"plates after {number_of}", "Is there another plate?",
            "Every plate gives other divisions.", usual="no", aside=True,
            given=head if number_of == 1 else f"{head} & ?plate.{number_of - 1}.more=yes")
        for number_of in range(1, PLATES)
    ]  # fmt: skip
    in_turn = [one for pair in zip(plates, more, strict=False) for one in pair]
    return (
        pick("?divider", "dividing", "Dividing head, rotary table, or skip?",
             "Divisions are told in turns of its crank.", ("dividing head", "rotary table"),
             usual="none", aside=True, given=MILL),
        Field("divider", "divider", "", "", Kind.CHOICE, worked=_divider_there,
              when=when(f"{MILL} & ?divider=dividing head|rotary table")),
        count("dividing_ratio", "dividing ratio",
              "How many turns of its crank are once round?", "Forty, as a rule, or ninety.",
              1, 360, usual="forty", aside=True,
              given=f"{MILL} & ?divider=dividing head|rotary table"),
        *in_turn,
        *plates[len(more):],
        Field("plates", "plates", "", "", Kind.ROW, when=when(head), worked=_plates,
              source="?plate.1"),
        number("divider_finest", "finest of the rotary table",
               "What is the finest that its dial shows, in arc seconds?",
               "A minute is sixty.", "1", "3600", usual="a minute", aside=True, given=table,
               kind=Kind.WHOLE),
    )  # fmt: skip


def closing_fields() -> tuple[Field, ...]:
    """A note, and what is odd about all that was told."""
    note = Field(
        "?note", "note", "Anything to be noted? Type it.", "It is shown before every job.",
        Kind.TEXT, usual="nothing", aside=True,
    )  # fmt: skip
    notes = Field("notes", "notes", "", "", Kind.ROW, worked=_notes, source="?note")
    sure = yes(
        "confirmed", "speeds and feeds confirmed", "Did you read it so, and is it so?",
        "What no gearbox is likely to be is taken only where it was looked at.", usual="",
    )  # fmt: skip
    return (note, notes, replace(sure, doubt=_odd))


def _row(
    key: str, name: str, ask: str, why: str, given: str, each: Callable[[Known], Each], *,
    how: str, aside: bool = False,
) -> Field:  # fmt: skip
    return Field(
        key, name, ask, why, Kind.ROW, when=when(given), each=each, how=how, aside=aside,
    )  # fmt: skip


def _rate(key: str, name: str, ask: str, given: str) -> Field:
    why = "Between the two any speed may be asked for."
    return Field(key, name, ask, why, Kind.RATE, when=when(given), each=_speed)


def _speed(known: Known) -> Each:
    return Each("rpm", *SPEED)


def _feed(known: Known) -> Each:
    turn = known.word("?feed") == A_TURN
    return Each(
        f"{known.unit}/{'turn' if turn else 'minute'}",
        *(FEED_A_TURN if turn else FEED_A_MINUTE)[known.unit],
    )


def _holes(known: Known) -> Each:
    return Each("", Decimal(3), Decimal(499))


# -- what is worked out --------------------------------------------------------------------------


def _row_of(known: Known, key: str) -> Row:
    value = known.value_of(key)
    return tuple(Decimal(str(one)) for one in value) if isinstance(value, tuple) else ()


def _speeds(known: Known) -> Value | None:
    """Those of the plate; of a variable drive preferred numbers between its ends, which are steps
    of an eighth (series R20 of ISO 3)."""
    if known.word("?drive") != VARIABLE:
        return _row_of(known, "?speeds") or None
    ends = [known.value_of(key) for key in ("?slowest", "?fastest")]
    low, high = (one if isinstance(one, Decimal) else Decimal(0) for one in ends)
    if not 0 < low < high:
        return None
    steps = (Decimal(one) * ten for ten in DECADES for one in R20)
    return (low, *(one.normalize() + 0 for one in steps if low < one < high), high)


def _feed_per(known: Known) -> Value | None:
    return "turn" if known.word("?feed") == A_TURN else "minute"


def _axes_there(known: Known) -> tuple[str, ...]:
    axes = AXES.get(known.machine_kind, ())
    return tuple(axis for axis in axes if known.word(f"?{key_of(axis)}") == "yes")


def _fed_axis(known: Known) -> tuple[str, ...]:
    """The axis that has the feed as a rule, where it is there."""
    usual = {"lathe": "carriage", "drill press": "quill"}.get(known.machine_kind, "table")
    there = _axes_there(known)
    return (usual,) if usual in there else there[:1]


def _odd(known: Known) -> Doubted | None:
    """What `likely` has against speeds, feeds, lead screw and least cut."""
    each = _feed(known)
    written = {key: known.value_of(key) for key in ("speeds", "feeds", "least_cut", "lead_screw")}
    try:
        doubt_gearbox(
            Fields(FILE, {key: value for key, value in written.items() if value is not None}),
            unit=known.unit,
            speeds=[quantity(one, "rpm") for one in _row_of(known, "speeds")],
            feeds=[quantity(one, each.unit) for one in _row_of(known, "feeds")],
            a_turn=known.word("?feed") == A_TURN,
            least_cut=known.size("least_cut") or NO_MACHINE.least_cut,
            lead_screw=known.size("lead_screw"),
        )
    except Unlikely as odd:
        wrong = ("?slowest", "?fastest") if known.word("?drive") == VARIABLE else ("?speeds",)
        anew = wrong if odd.key == "speeds" else (odd.key,)
        named = odd.key.replace("_", " ")
        return Doubted(sentence(f"{named} {odd.value}: {odd.reason}"), {"no": anew})
    return None


def _divider_there(known: Known) -> Value | None:
    return known.word("?divider")


def _plates(known: Known) -> Value | None:
    rows = (_row_of(known, f"?plate.{number_of}") for number_of in range(1, PLATES + 1))
    return tuple(row for row in rows if row) or None


def _notes(known: Known) -> Value | None:
    drive = {
        BELTS: "Speeds by belts: isolate the machine before a belt is moved.",
        GEARS: "Speeds by gears: shift them with the spindle stopped, as its manual says.",
    }.get(known.word("?drive"), "")
    if known.word("?drive") == VARIABLE and known.value_of("speeds") is not None:
        low, high = (known.value_of(key) for key in ("?slowest", "?fastest"))
        drive = f"Variable speed, {low} to {high} rpm; the speeds here are steps between."
    note = known.value_of("?note")
    lines = chain([note] if isinstance(note, str) else [], [drive] if drive else [])
    return tuple(lines) or None

"""What is asked about one handwheel and its dial, and the sums over the answers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from assistant.calc.dial import backlash_between
from assistant.calc.exact import as_unit, in_unit, system
from assistant.errors import BadFile, ImpossibleInput, Unlikely
from assistant.fields import Fields
from assistant.filling.said import size_words
from assistant.filling.values import written_size
from assistant.jobs.field import Doubted, Field, Kind, Known, Value, count, pick, size, yes
from assistant.machine import CLIMBS, FED, WAYS, read_axis
from assistant.units import Quantity, quantity

FILE = "this machine"
"""Stands for the path of a machine that is in no file yet."""
AXES = {
    "vertical mill": ("table", "saddle", "knee", "quill"),
    "horizontal mill": ("table", "saddle", "knee"),
    "lathe": ("cross slide", "compound", "carriage", "tailstock"),
    "drill press": ("quill",),
}
"""The handwheels that each kind of machine may have."""
OFF = "Spindle off, and the machine isolated, while you turn a handle or read a plate."
"""The usual caution; common practice, no source."""
MUCH = {"inch": Decimal("0.03"), "mm": Decimal("0.8")}
"""A backlash over this is asked about, as is one of more than a quarter of a turn. Common
practice, no source."""
MOVED, LINES, ONE, COUNTED = "the travel", "the lines", "one line", "what it counts"
"""What may be wrong where the sum doesn't fit."""
TURN_LOW, TURN_HIGH = "0.0196", "1"
"""Inches: what `likely` takes for a turn, in either unit."""


def sentence(reason: str) -> str:
    """A reason as a sentence."""
    whole = f"{reason[:1].upper()}{reason[1:]}"
    return whole if whole.endswith("?") else f"{whole}."


def key_of(axis: str) -> str:
    """As the file has it: `cross_slide`."""
    return axis.replace(" ", "_")


def axis_fields(axis: str) -> tuple[Field, ...]:
    """All that is asked about one handwheel, in the order in which it is done at the machine."""
    key = key_of(axis)
    kinds = "|".join(kind for kind, axes in AXES.items() if axis in axes)
    at = f"axes.{key}"
    there = f"?{key}=yes"
    measured = f"{there} & ?{key}.slack=measured"
    ways = WAYS[axis]
    crosswise = axis == "cross slide"
    fields = [
        yes(f"?{key}", f"{axis} has a dial", f"Has the {axis} a handle with a dial?",
            "Only what has a dial can be told in turns and divisions.", usual="",
            given=f"kind={kinds}"),
        *([_reads(at, there)] if crosswise else []),
        replace(
            size(f"?{key}.moved", f"a turn of the {axis}",
                 f"How far did the {axis} go in one turn?",
                 "Every move is counted in turns: it can't be known from the kind of machine.",
                 TURN_LOW, TURN_HIGH, given=there, offer=_by_the_dial(key),
                 offered="By its dial a turn is {offer}. Is that how far it went?"),
            how=f"Indicator on the {axis}, or a rule. Turn its handle one whole turn."),
        count(f"?{key}.lines", f"lines of the {axis}",
              "How many lines has its dial, all the way round?",
              "Lines, and what one is worth, have to make the travel of a turn.", 20, 500,
              given=there),
        size(f"{at}.graduation", f"one line of the {axis}", "What is one line worth?",
             "As the dial is marked: a thou, or two hundredths.", "0.0001", "0.05", given=there),
        replace(
            pick(f"?{key}.fit", f"sum of the {axis}",
                 f"Which is wrong: {MOVED}, {LINES}, or {ONE}?",
                 "Lines times one line have to be the travel of a turn.",
                 (MOVED, LINES, ONE, *([COUNTED] if crosswise else [])), given=there),
            doubt=_misfit(axis, key)),
        _worked(f"{at}.per_turn", f"travel a turn of the {axis}", _per_turn(axis, key), there,
                source=f"?{key}.moved"),
        replace(
            yes(f"{at}.confirmed", f"{axis} confirmed", "Did you measure it, and is it so?",
                "What no handwheel is likely to be is taken only where it was measured.",
                usual="", given=there),
            doubt=_unlikely(axis, key)),
        pick(f"{at}.rises", f"way of the {axis}",
             f"Which way does it go as the numbers rise, {ways[0]} or {ways[1]}?",
             "The way of every move goes by it.", ways, given=there),
        pick(f"{at}.clockwise", f"clockwise on the {axis}",
             "And turned clockwise, as you face it?",
             "The screen draws the wheel, and the way the hand goes.", ways, given=there,
             usual="not told, no hand is drawn"),
        pick(f"{at}.zero", f"ring of the {axis}", "Is the dial's ring settable, or fixed?",
             "One that can be set to zero is set at every touch; of a fixed one the reading "
             "is asked.", ("settable", "fixed"), given=there),
        pick(f"?{key}.slack", f"backlash of the {axis}",
             "Its backlash: measure it, is there none, or skip?",
             "Measured by coming to one place from both sides. None is for a knee, whose "
             "weight keeps the screw on one side.", ("measured", "none"), given=there,
             usual="not known, none is counted"),
        replace(
            _reading(f"?{key}.first", f"backlash, first reading of the {axis}",
                     "What does the dial read?", measured),
            how=f"Indicator on the {axis}. Come up to the needle's zero from one side, and stop."),
        replace(
            _reading(f"?{key}.second", f"backlash, second reading of the {axis}",
                     "What does the dial read now?", measured),
            how="Turn on past the zero. Then come back to it from the other side, and stop."),
        replace(
            yes(f"?{key}.much", f"backlash of the {axis} as measured", "Is it so?",
                "A slip of a line or of a side shows here.", usual="", given=measured),
            doubt=_odd_backlash(axis, key)),
        _worked(f"{at}.backlash", f"backlash worked out, {axis}", _backlash(key), there),
        size(f"?{key}.way", f"travel of the {axis}",
             f"How far does the {axis} go, from end to end?",
             "No longer move is given. A rule will do.", "0.5", "200", given=there,
             usual="not told, no move is held against it"),
        _worked(f"{at}.travel", f"travel by the dial of the {axis}", _travel(key), there,
                source=f"?{key}.way"),
        *(_climbing(axis, key, there) if axis in FED else ()),
    ]  # fmt: skip
    return tuple(replace(one, caution=OFF) for one in fields)


def _reads(at: str, there: str) -> Field:
    return pick(
        f"{at}.reads", "what the cross slide's dial counts",
        "Does its dial count the diameter, or the slide's travel?",
        "Ten on a dial that counts the diameter take ten off the diameter; the tool goes five. "
        "Taken for the other, every cut is twice as deep, or half.",
        ("diameter", "travel"), given=there,
    )  # fmt: skip


def _reading(key: str, name: str, ask: str, given: str) -> Field:
    why = "The two readings lie a backlash apart."
    return replace(size(key, name, ask, why, "0", TURN_HIGH, given=given), kind=Kind.READING)


def _climbing(axis: str, key: str, there: str) -> tuple[Field]:
    """Whether a cutter may climb where it is fed."""
    at = f"axes.{key}"
    known = f"{there} & ?{key}.slack=measured|none"
    one = pick(
        f"{at}.climb", f"climbing on the {axis}",
        "May a cutter climb on it: never, with drag, or by an eliminator?",
        "A climbing cutter pulls the work in by the backlash. With drag is its lock nipped up, for "
        "light passes; an eliminator takes the backlash up. As the machine's manual says.",
        CLIMBS, given=known, usual=CLIMBS[0], aside=True,
    )  # fmt: skip
    return (one,)


def _worked(
    key: str, name: str, worked: Callable[[Known], Value | None], given: str, *, source: str = ""
) -> Field:
    made = size(key, name, "", "", "0", "0", given=given)
    return replace(made, worked=worked, source=source)


# -- the sums ------------------------------------------------------------------------------------


def _by_lines(known: Known, key: str) -> Quantity | None:
    """What the lines of the dial come to, once round."""
    lines, one = known.value_of(f"?{key}.lines"), known.size(f"axes.{key}.graduation")
    if not isinstance(lines, int) or one is None:
        return None
    unit = system(one)
    return quantity(lines * in_unit(one, unit), unit)


def _twice(known: Known, key: str) -> int:
    """2 where the dial counts the diameter, and so twice what moves."""
    return 2 if known.value_of(f"axes.{key}.reads") == "diameter" else 1


def _misfit(axis: str, key: str) -> Callable[[Known], Doubted | None]:
    def doubt(known: Known) -> Doubted | None:
        turn, moved = _by_lines(known, key), known.size(f"?{key}.moved")
        lines, one = known.value_of(f"?{key}.lines"), known.size(f"axes.{key}.graduation")
        if turn is None or moved is None or one is None or not isinstance(lines, int):
            return None
        unit = system(turn)
        if in_unit(turn, unit) == in_unit(moved, unit) * _twice(known, key):
            return None
        went = f"the turn was {size_words(moved, known.unit)}"
        if system(moved) != unit:
            went += f", {size_words(as_unit(moved, unit), unit)}"
        if _twice(known, key) == 2:
            went += f", {size_words(moved * 2, known.unit)} on the diameter"
        sum_of = f"{lines} lines of {size_words(one, known.unit)} make "
        reason = f"{sum_of}{size_words(turn, known.unit)}, and {went}."
        wrong = {
            MOVED: (f"?{key}.moved",),
            LINES: (f"?{key}.lines",),
            ONE: (f"axes.{key}.graduation",),
            COUNTED: (f"axes.{key}.reads",),
        }
        return Doubted(reason, wrong)

    return doubt


def _by_the_dial(key: str) -> Callable[[Known], tuple[Quantity | int | str, ...]]:
    """Offered where the travel is told anew: a rule or a bent needle is a line or two off."""

    def offer(known: Known) -> tuple[Quantity | int | str, ...]:
        turn = _by_lines(known, key)
        if turn is None:
            return ()
        return (quantity(turn.magnitude / _twice(known, key), system(turn)),)

    return offer


def _per_turn(axis: str, key: str) -> Callable[[Known], Value | None]:
    misfit = _misfit(axis, key)

    def worked(known: Known) -> Value | None:
        turn = _by_lines(known, key)
        return None if turn is None or misfit(known) is not None else written_size(turn)

    return worked


def _travel(key: str) -> Callable[[Known], Value | None]:
    def worked(known: Known) -> Value | None:
        way = known.size(f"?{key}.way")
        return None if way is None else written_size(way * _twice(known, key))

    return worked


def _between(known: Known, key: str) -> Quantity | None:
    """The backlash by the two readings; None where one isn't told."""
    here, there = known.size(f"?{key}.first"), known.size(f"?{key}.second")
    turn = _by_lines(known, key)
    if here is None or there is None or turn is None:
        return None
    try:
        return backlash_between(here, there, turn)
    except ImpossibleInput:
        return None  # told by the sheet's own check


def _backlash(key: str) -> Callable[[Known], Value | None]:
    def worked(known: Known) -> Value | None:
        if known.word(f"?{key}.slack") == "none":
            return f"0 {'in' if known.unit == 'inch' else 'mm'}"
        apart = _between(known, key)
        return None if apart is None else written_size(apart)

    return worked


def _odd_backlash(axis: str, key: str) -> Callable[[Known], Doubted | None]:
    def doubt(known: Known) -> Doubted | None:
        apart, turn = _between(known, key), _by_lines(known, key)
        if apart is None or turn is None:
            return None
        anew = {"no": (f"?{key}.first", f"?{key}.second")}
        own = system(turn)
        lost = in_unit(apart, own)
        if not lost:
            return Doubted("Both sides read the same, as if the screw had no play.", anew)
        if lost > min(MUCH[own], in_unit(turn, own) / 4):
            words = size_words(apart, known.unit)
            return Doubted(f"That makes a backlash of {words}, which is much.", anew)
        return None

    return doubt


def _unlikely(axis: str, key: str) -> Callable[[Known], Doubted | None]:
    at = f"axes.{key}"

    def doubt(known: Known) -> Doubted | None:
        keys = ("per_turn", "graduation", "travel", "climb", "backlash")
        told = {one: known.value_of(f"{at}.{one}") for one in keys if axis in FED or one != "climb"}
        table = {one: value for one, value in told.items() if value is not None}
        table |= {"rises": WAYS[axis][0], "reads": "travel"}
        try:
            read_axis(Fields(FILE, table, f"{at}."), axis, known.unit)
        except Unlikely as odd:
            dial = (f"?{key}.lines", f"{at}.graduation")
            wrong = {"travel": (f"?{key}.way",), "graduation": dial, "climb": (f"{at}.climb",)}
            anew = wrong.get(odd.key.rsplit(".", 1)[-1], (f"?{key}.moved", *dial))
            return Doubted(sentence(odd.reason), {"no": anew})
        except BadFile:
            return None  # not told yet, or wrong: the reader's own word comes with it
        return None

    return doubt

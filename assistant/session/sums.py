"""Quick sums: what may be asked after the opening word, in any step, without losing the place.

Every sum is a formula of `calc`; the sizes that were heard are said back before the answer, since
a sum of a misheard size would be a wrong number. None of it is kept: no event, no change of state.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from assistant.calc import conversions, dial, drills, positions, speeds, tapping, thread_series
from assistant.errors import BadInput
from assistant.jobs.drilling.hole_tools import drill_words
from assistant.machine import Axis, Machine
from assistant.session.reply import Answer, Part, ReadBack, Reply, Say, Travel
from assistant.session.state import State
from assistant.spoken import Figure, Intent, Reason, Refused, Slot, SlotKind, Understood
from assistant.units import Quantity, quantity

SUM_SECONDS = 10.0
"""How long a quick sum stays open without an answer."""

HELP = (
    "Say half of, plus, less, decimal for, or to metric, with a size.",
    "Or tap drill for, turns for, speed for, or chord of. Or no.",
)

LARGEST_THREAD = {"inch": quantity("1.5", "inch"), "mm": quantity(36, "mm")}
"""Threads above it are cut, not tapped, in a small shop; the catalogue has them."""


LIKELY = {"inch": quantity("0.3", "inch"), "mm": quantity(8, "mm")}
"""About the size of what is worked on: of 0.150 and 1.50 in, or 1.75 in and a thou and three
quarters, the nearer to it by factor is the likelier meaning of bare words."""
LIKELY_CHIP = {"inch": quantity("0.003", "inch"), "mm": quantity("0.08", "mm")}


def _length(
    name: str, likely: Mapping[str, Quantity] = MappingProxyType(LIKELY)
) -> Callable[[str], Slot]:
    return lambda unit: Slot(name, SlotKind.LENGTH, unit, expected=likely[unit])


def _count(name: str) -> Callable[[str], Slot]:
    return lambda _unit: Slot(name, SlotKind.COUNT)


def _choice(name: str, choices: Callable[[], tuple[str, ...]] = tuple) -> Callable[[str], Slot]:
    return lambda _unit: Slot(name, SlotKind.CHOICE, choices=choices())


def _feed(unit: str) -> Slot:
    return Slot("rate", SlotKind.RATE, f"{unit}/minute")


def _slots(*makers: Callable[[str], Slot]) -> Callable[[str], tuple[Slot, ...]]:
    return lambda unit: tuple(make(unit) for make in makers)


@cache
def _threads() -> tuple[str, ...]:
    """The threads that a shop taps: coarse and fine, number sizes with their sign."""
    names = []
    for series in ("UNC", "UNF", "coarse", "fine"):
        for thread in thread_series.threads_of(series):
            if thread.major <= LARGEST_THREAD["mm" if thread.metric else "inch"]:
                numbered = not thread.metric and thread.major < quantity("0.25", "inch")
                names.append(f"#{thread.name}" if numbered else thread.name)
    return tuple(names)


@cache
def _drills() -> tuple[str, ...]:
    """Drills with a name of their own; a metric drill is called by its size."""
    return tuple(drill.name for kind in drills.INCH_KINDS for drill in drills.drills(kind))


SUMS: Mapping[str, Callable[[str], tuple[Slot, ...]]] = MappingProxyType(
    {
        "sum_speed": _slots(_length("diameter"), _choice("material")),
        "sum_feed": _slots(_count("teeth"), _length("chip", LIKELY_CHIP)),
        "sum_half": _slots(_length("size")),
        "sum_decimal": _slots(_length("size")),
        "sum_millimetres": _slots(_length("size")),
        "sum_inches": _slots(_length("size")),
        "sum_add": _slots(_length("size"), _length("other")),
        "sum_take": _slots(_length("size"), _length("other")),
        "sum_triangle": _slots(_length("size"), _length("other")),
        "sum_tap_drill": _slots(_choice("thread", _threads)),
        "sum_drill_size": _slots(_choice("drill", _drills)),
        "sum_turns": _slots(_length("size"), _choice("axis")),
        "sum_chord": _slots(_count("holes"), _length("diameter")),
        "sum_pace": _slots(_feed),
    }
)
"""Intent of each sum -> its slots, for the job's unit."""


def answer(state: State, intent: Intent) -> Reply:
    """The answer to one sum, with the sizes that it was worked out from."""
    try:
        return Reply(tuple(_ANSWERS[intent.name](state, intent)))
    except BadInput as bad:
        return Reply((Say(f"Can't be. {bad.field} {bad.value}: {bad.want}."),))


@dataclass(frozen=True, slots=True)
class SumReply:
    """What is answered while a sum is open, and whether it stays open."""

    reply: Reply
    stays_open: bool


_WITH_UNIT = "More than one size in that. Say the sum with inches or thou."


def reply_to(state: State, said: Understood | Refused) -> SumReply | None:
    """The answer to what was said in an open sum; None for what the job itself answers.

    Words that were not sure, or that mean more than one size, are asked for again: a question
    with yes and no would be kept in the journal, and a sum leaves no trace there.
    """
    if isinstance(said, Refused):
        words = {
            Reason.AMBIGUOUS: _WITH_UNIT,
            Reason.SCALE: _WITH_UNIT,
            Reason.UNSURE: "Say the sum again.",
            Reason.IMPLAUSIBLE: "Say the sum again.",
        }.get(said.reason)
        return SumReply(Reply((Say(words),) if words else ()), stays_open=True)
    name = said.intent.name
    if name in _ANSWERS:
        return SumReply(answer(state, said.intent), stays_open=False)
    if name == "no":
        return SumReply(Reply((Say("All right."),)), stays_open=False)
    if name == "help":
        return SumReply(Reply(tuple(Say(text) for text in HELP)), stays_open=True)
    return None


def settled(state: State, said: Understood | Refused) -> Understood | Refused:
    """A sum whose bare sizes may mean two things (`six twenty-five`) is taken as the likelier,
    since it is said back and nothing comes of it; but never a `mil`, or a tenth in metric."""
    if not isinstance(said, Refused) or said.reason is not Reason.AMBIGUOUS:
        return said
    doubtful = {"mil", "mils"} | ({"tenth", "tenths"} if state.unit == "mm" else set())
    if said.candidate is None or doubtful.intersection(said.heard.words.lower().split()):
        return said
    return Understood(said.candidate, said.heard)


def _unit_of(size: Quantity) -> str:
    return "mm" if "meter" in str(size.units) else "inch"


def _back(size: Quantity) -> ReadBack:
    """A size said back in the unit that it was said in."""
    return ReadBack(size, unit=_unit_of(size))


def _size(value: Quantity, what: str, places: int = 4) -> Answer:
    return Answer(Figure(value, what, places), _unit_of(value))


def _rate(value: Quantity, what: str, places: int = 0) -> Answer:
    return Answer(Figure(value, what, places))


def _speed(state: State, intent: Intent) -> list[Part]:
    machine, diameter, material = state.machine, intent.size("diameter"), str(intent["material"])
    cut = {"lathe": "rough turning", "drill press": "drilling"}.get(machine.kind, "milling")
    surface = speeds.speed_range(material, "HSS", cut)
    wanted = speeds.spindle_speed(surface.low, diameter)
    parts: list[Part] = [
        _back(diameter),
        Say(f"{material.capitalize()}, high-speed tool, low end."),
        _rate(wanted, "worked out"),
    ]
    if machine.speeds:
        pick = speeds.nearest_below(wanted, machine.speeds)
        parts.append(_rate(pick.value, "your lowest is" if pick.above else "on the machine"))
    return parts


def _feed_of(state: State, intent: Intent) -> list[Part]:
    teeth, chip = int(str(intent["teeth"])), intent.size("chip")
    speed = state.plan.result("speed")
    lead: list[Part] = [Say(f"{teeth} teeth."), _back(chip)]
    if speed is None:
        return [*lead, _size(chip * teeth, "feed a turn")]
    feed = speeds.feed_rate(speed.value, teeth, chip)
    return [*lead, _rate(speed.value, "at this job's speed"), _rate(feed, "feed", 2)]


def _half(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [_back(size), _size(conversions.half(size), "halved")]


def _decimal(state: State, intent: Intent) -> list[Part]:
    size = conversions.to_inches(intent.size("size"))
    near = conversions.nearest_fraction(size)
    name = _mixed(near.fraction)
    if near.difference.magnitude:
        return [_size(size, "decimal"), Say(f"Nearest, {name}.")]
    return [Say(f"{name}."), _size(size, "decimal")]


def _mixed(size: Fraction) -> str:
    """A fraction as it is written in the shop: `1-3/8`."""
    whole, part = divmod(size, 1)
    return f"{whole}-{part}" if whole and part else str(size)


def _millimetres(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [_back(size), _size(conversions.to_mm(size), "millimetres", 3)]


def _inches(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [_back(size), _size(conversions.to_inches(size), "inches")]


def _add(state: State, intent: Intent) -> list[Part]:
    size, other = intent.size("size"), intent.size("other")
    return [_back(size), _back(other), _size(conversions.add(size, other), "together")]


def _take(state: State, intent: Intent) -> list[Part]:
    size, other = intent.size("size"), intent.size("other")
    left = conversions.take_away(size, other)
    return [_back(size), _back(other), _size(left, "one less the other")]


def _triangle(state: State, intent: Intent) -> list[Part]:
    size, other = intent.size("size"), intent.size("other")
    made = positions.right_triangle(base=size, rise=other)
    return [
        _back(size),
        _back(other),
        _size(made.hypotenuse, "long side"),
        _rate(made.angle, "angle at the first side", 2),
    ]


def _tap_drill(state: State, intent: Intent) -> list[Part]:
    thread = thread_series.find_thread(str(intent["thread"]))
    if thread.metric:
        found = tapping.metric_tap_drill(thread.major, thread.pitch)
    else:
        found = tapping.tap_drill(thread.major, thread.pitch)
    words = drill_words(found.drill)
    return [
        Say(f"{words[0].upper()}{words[1:]}, for {thread.name}."),
        _size(found.dia, "size"),
        Say(f"{found.percent_classic:.0f} percent of thread, on the three quarters H basis."),
    ]


def _drill_size(state: State, intent: Intent) -> list[Part]:
    found = drills.named_size(str(intent["drill"]))
    words = drill_words(found.name)
    return [Say(f"{words[0].upper()}{words[1:]}."), _size(found.inch, "")]


def _turns(state: State, intent: Intent) -> list[Part]:
    machine, size = state.machine, intent.size("size")
    said = intent.get("axis")
    axis = machine.axis(str(said)) if said else _axis_in_hand(state, machine)
    on_dial = dial.settle(size, axis.graduation)
    counted = dial.split(on_dial, axis.per_turn, axis.graduation)
    part = quantity(counted.part, str(axis.per_turn.units))
    return [_back(size), Travel(axis.name, counted.turns, part)]


def _axis_in_hand(state: State, machine: Machine) -> Axis:
    """The wheel that is meant where none is named: that of the step, else the feed's."""
    if not machine.axes:
        raise BadInput("handwheel", "none", f"{machine.name} has no handwheels")
    in_hand = (getattr(state.step, "axis", ""), state.plan.depth_axis, machine.feed_axis)
    wanted = (*in_hand, *machine.axes)
    return machine.axes[next(name for name in wanted if name in machine.axes)]


def _chord(state: State, intent: Intent) -> list[Part]:
    holes, diameter = int(str(intent["holes"])), intent.size("diameter")
    apart = positions.chord(diameter, holes)
    return [Say(f"{holes} holes."), _back(diameter), _size(apart, "chord")]


def _pace(state: State, intent: Intent) -> list[Part]:
    machine, rate = state.machine, intent.size("rate")
    axis = machine.axes.get(machine.feed_axis) or _axis_in_hand(state, machine)
    seconds = speeds.seconds_a_turn(rate, axis.per_turn)
    return [
        ReadBack(rate, SlotKind.RATE),
        _rate(seconds, f"a turn of the {axis.name}", 1),
    ]


_ANSWERS: Mapping[str, Callable[[State, Intent], list[Part]]] = MappingProxyType(
    {
        "sum_speed": _speed,
        "sum_feed": _feed_of,
        "sum_half": _half,
        "sum_decimal": _decimal,
        "sum_millimetres": _millimetres,
        "sum_inches": _inches,
        "sum_add": _add,
        "sum_take": _take,
        "sum_triangle": _triangle,
        "sum_tap_drill": _tap_drill,
        "sum_drill_size": _drill_size,
        "sum_turns": _turns,
        "sum_chord": _chord,
        "sum_pace": _pace,
    }
)

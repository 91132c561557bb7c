"""Quick sums: what may be asked after the opening word, in any step, without losing the place.

Every sum is a formula of `calc`; the sizes that were heard are said back before the answer, since
a sum of a misheard size would be a wrong number. None of it is kept: no event, no change of state.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from types import MappingProxyType

from assistant.calc import conversions, dial, drills, positions, speeds, tapping, thread_series
from assistant.errors import BadInput
from assistant.machine import Axis, Machine
from assistant.session.reply import Answer, Part, ReadBack, Reply, Say, Travel
from assistant.session.state import State
from assistant.spoken import Figure, Intent, Slot, SlotKind
from assistant.units import Quantity, quantity

SUM_SECONDS = 10.0
"""How long a quick sum stays open without an answer."""

LARGEST_THREAD = {"inch": quantity("1.5", "inch"), "mm": quantity(36, "mm")}
"""Threads above it are cut, not tapped, in a small shop; the catalogue has them."""


def _length(name: str) -> Callable[[str], Slot]:
    return lambda unit: Slot(name, SlotKind.LENGTH, unit)


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
        "sum_feed": _slots(_count("teeth"), _length("chip")),
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


def _machine(state: State) -> Machine:
    assert state.machine is not None
    return state.machine


def _figure(value: Quantity, what: str, places: int = 4) -> Answer:
    return Answer(Figure(value, what, places))


def _speed(state: State, intent: Intent) -> list[Part]:
    machine, diameter = _machine(state), intent.size("diameter")
    cut = {"lathe": "rough turning", "drill press": "drilling"}.get(machine.kind, "milling")
    surface = speeds.speed_range(str(intent["material"]), "HSS", cut)
    wanted = speeds.spindle_speed(surface.low, diameter)
    parts: list[Part] = [
        ReadBack(diameter),
        Say(f"High-speed steel in {intent['material']}, the low end."),
        _figure(wanted, "worked out", 0),
    ]
    if machine.speeds:
        pick = speeds.nearest_below(wanted, machine.speeds)
        parts.append(_figure(pick.value, "your lowest" if pick.above else "you have", 0))
    return parts


def _feed_of(state: State, intent: Intent) -> list[Part]:
    teeth, chip = int(str(intent["teeth"])), intent.size("chip")
    speed = state.plan.result("speed") if state.plan is not None else None
    lead = [ReadBack(quantity(teeth, "dimensionless"), SlotKind.COUNT), ReadBack(chip)]
    if speed is None:
        return [*lead, Answer(Figure(chip * teeth, "a turn of the cutter"))]
    feed = speeds.feed_rate(speed.value, teeth, chip)
    return [*lead, _figure(speed.value, "at", 0), Answer(Figure(feed, "feed", 2))]


def _half(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [ReadBack(size), _figure(conversions.half(size), "half")]


def _decimal(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [ReadBack(size), Answer(Figure(size, "decimal"), _unit_of(size))]


def _millimetres(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [ReadBack(size), Answer(Figure(conversions.to_mm(size), "", 3), "mm")]


def _inches(state: State, intent: Intent) -> list[Part]:
    size = intent.size("size")
    return [ReadBack(size), Answer(Figure(conversions.to_inches(size), ""), "inch")]


def _add(state: State, intent: Intent) -> list[Part]:
    size, other = intent.size("size"), intent.size("other")
    total = conversions.add(size, other)
    return [ReadBack(size), ReadBack(other), _figure(total, "together")]


def _take(state: State, intent: Intent) -> list[Part]:
    size, other = intent.size("size"), intent.size("other")
    left = conversions.take_away(size, other)
    return [ReadBack(size), Say("Less:"), ReadBack(other), _figure(left, "leaves")]


def _triangle(state: State, intent: Intent) -> list[Part]:
    size, other = intent.size("size"), intent.size("other")
    made = positions.right_triangle(base=size, rise=other)
    return [
        ReadBack(size),
        ReadBack(other),
        _figure(made.hypotenuse, "the long side"),
        _figure(made.angle, "angle at the first side", 2),
    ]


def _tap_drill(state: State, intent: Intent) -> list[Part]:
    thread = thread_series.find_thread(str(intent["thread"]))
    if thread.metric:
        found = tapping.metric_tap_drill(thread.major, thread.pitch)
    else:
        found = tapping.tap_drill(thread.major, thread.pitch)
    percent = f"{found.percent_classic:.0f} percent of thread, of three quarters H."
    return [
        Say(f"{thread.name}: {drill_words(found.drill)}."),
        Answer(Figure(found.dia, "tap drill"), _unit_of(found.dia)),
        Say(percent),
    ]


def _drill_size(state: State, intent: Intent) -> list[Part]:
    found = drills.named_size(str(intent["drill"]))
    words = drill_words(found.name)
    return [Say(f"{words[0].upper()}{words[1:]}."), _figure(found.inch, "")]


def drill_words(name: str) -> str:
    """A drill's name as it is said: `number 7 drill`, `letter F drill`, `6.8 millimetre drill`."""
    if name.startswith("#"):
        return f"number {name[1:]} drill"
    if len(name) == 1:
        return f"letter {name} drill"
    return f"{name.replace(' mm', ' millimetre')} drill"


def _turns(state: State, intent: Intent) -> list[Part]:
    machine, size = _machine(state), intent.size("size")
    said = intent.get("axis")
    axis = machine.axis(str(said)) if said else _axis_in_hand(state, machine)
    on_dial = dial.settle(size, axis.graduation)
    counted = dial.split(on_dial, axis.per_turn, axis.graduation)
    part = quantity(counted.part, str(axis.per_turn.units))
    return [ReadBack(size), Travel(axis.name, counted.turns, part)]


def _axis_in_hand(state: State, machine: Machine) -> Axis:
    """The wheel that is meant where none is named: that of the step, else the feed's."""
    step = state.step
    name = getattr(step, "axis", "") or (state.plan.depth_axis if state.plan else "")
    if not machine.axes:
        raise BadInput("handwheel", "none", f"{machine.name} has no handwheels")
    return machine.axes.get(name) or machine.axes.get(machine.feed_axis) or _first(machine)


def _first(machine: Machine) -> Axis:
    return next(iter(machine.axes.values()))


def _chord(state: State, intent: Intent) -> list[Part]:
    holes, diameter = int(str(intent["holes"])), intent.size("diameter")
    apart = positions.chord(diameter, holes)
    count = ReadBack(quantity(holes, "dimensionless"), SlotKind.COUNT)
    return [count, ReadBack(diameter), _figure(apart, "chord")]


def _pace(state: State, intent: Intent) -> list[Part]:
    machine, rate = _machine(state), intent.size("rate")
    axis = machine.axes.get(machine.feed_axis) or _axis_in_hand(state, machine)
    seconds = speeds.seconds_a_turn(rate, axis.per_turn)
    return [
        ReadBack(rate, SlotKind.RATE),
        Answer(Figure(seconds, f"seconds a turn of the {axis.name}", 1)),
    ]


def _unit_of(size: Quantity) -> str:
    return "mm" if "meter" in str(size.units) else "inch"


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

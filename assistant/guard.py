"""The guard: sees every answer before it is spoken; what it can't show harmless it holds back.

It shares no formula with the operations: it looks at what is commanded, at what is believed of the
axes and at the machine's dials, and at the page and the sentences that were made. On the plain way,
and wherever the rest is right, it never speaks up. A wrong formula it can't find.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from assistant.calc import dial
from assistant.machine import Axis
from assistant.session.belief import AxisState
from assistant.session.commanded import Commanded, commanded
from assistant.session.state import State
from assistant.spoken import DialMove
from assistant.units import Quantity, quantity, unit_name


class Rule(StrEnum):
    """What was broken."""

    DEPTH = "a cut past the last limit"
    PASS = "more than a pass may take"
    AXIS = "a move of an axis that nobody knows the place of"
    REACH = "a move out of the axis' reach"
    STANDS = "a cut with an axis elsewhere than it has to stand"
    SLACK = "a setting with the backlash on the wrong side"
    NUMBER = "turns and dial that don't come to the target"


@dataclass(frozen=True, slots=True)
class Fault:
    """Why an answer is held back."""

    rule: Rule
    axis: str
    surface: str = ""


def check(state: State) -> Fault | None:
    """The first thing that is wrong with what is commanded in a state; None where nothing is."""
    given = commanded(state)
    return None if given is None else next(_faults(state, given), None)


def _faults(state: State, given: Commanded) -> Iterator[Fault]:
    yield from _axis(state, given)
    yield from _depth(state, given)
    yield from _stands(state, given)
    move = state.figure.move if state.figure is not None else None
    if move is not None and given.target is not None and given.axis:
        wheel, now = state.machine.axis(given.axis), state.axes[given.axis]
        if not _comes_to(wheel, now, given.target, move):
            yield Fault(Rule.NUMBER, given.axis)


def _axis(state: State, given: Commanded) -> Iterator[Fault]:
    """No axis is moved without its zero and its turn, nor further than it reaches."""
    if not given.axis or given.target is None:
        return
    now, wheel = state.axes[given.axis], state.machine.axis(given.axis)
    if state.belief.lost(given.axis) is not None:
        yield Fault(Rule.AXIS, given.axis, given.surface)
    if wheel.travel is not None and abs(given.target - now.position) > wheel.travel:
        yield Fault(Rule.REACH, given.axis)


def _depth(state: State, given: Commanded) -> Iterator[Fault]:
    """No cut goes past the last limit, nor takes more than a pass may."""
    if not given.set_by or given.set_to is None:
        return
    if given.set_by != given.axis and state.belief.lost(given.set_by) is not None:
        yield Fault(Rule.AXIS, given.set_by, given.surface)
    line = state.machine.axis(given.set_by).graduation
    if given.limit is not None and _beyond(given.set_to - given.limit, given) > line / 2:
        yield Fault(Rule.DEPTH, given.set_by, given.surface)
    if given.cutting:
        there = state.axes[given.set_by].position
        if given.limit is not None and _beyond(there - given.limit, given) > line / 2:
            yield Fault(Rule.DEPTH, given.set_by, given.surface)
    if given.floor is not None and given.most is not None:
        bite = _beyond(given.set_to - given.floor, given)
        if bite > given.most + line * 3 / 2:
            yield Fault(Rule.PASS, given.set_by, given.surface)


def _beyond(travel: Quantity, given: Commanded) -> Quantity:
    """A travel counted the way that goes deeper."""
    deeper: Quantity = travel * given.deeper
    return deeper


def _stands(state: State, given: Commanded) -> Iterator[Fault]:
    """In a cut every other axis stands where it has to, come to from the side of its slack."""
    for stand in given.stands:
        if stand.fed or stand.axis == given.set_by:
            continue
        now, wheel = state.axes[stand.axis], state.machine.axis(stand.axis)
        if state.belief.lost(stand.axis) is not None:
            yield Fault(Rule.AXIS, stand.axis, given.surface)
        elif abs(now.position - stand.target) > wheel.graduation:
            yield Fault(Rule.STANDS, stand.axis)
        elif wheel.backlash.magnitude and now.came not in (0, stand.approach):
            yield Fault(Rule.SLACK, stand.axis)


def check_move(
    wheel: Axis, now: AxisState, target: Quantity, approach: int, move: DialMove
) -> Rule | None:
    """What is wrong with one handwheel move to a target from where its axis is known to stand,
    where no job is open; None where nothing is."""
    if wheel.travel is not None and abs(target - now.position) > wheel.travel:
        return Rule.REACH
    if not _comes_to(wheel, now, target, move):
        return Rule.NUMBER
    way = 1 if move.direction == wheel.way(1) else -1
    if wheel.backlash.magnitude and way != approach and move.back_off is None:
        return Rule.SLACK
    return None


def _comes_to(wheel: Axis, now: AxisState, target: Quantity, move: DialMove) -> bool:
    """Whether turns and part from where the axis stands give the target, and the dial reads so
    there."""
    counted = wheel.per_turn * move.turns + quantity(move.part, unit_name(wheel.per_turn))
    way = 1 if move.direction == wheel.way(1) else -1
    arrived = now.position + counted * way
    near = bool(abs(arrived - target) <= wheel.graduation / 2)
    return near and _reads(wheel, now, target, move.reading)


def _reads(wheel: Axis, now: AxisState, target: Quantity, reading: Quantity) -> bool:
    expected = dial.reading(target, wheel.per_turn, wheel.rises, now.zero_reading)
    return bool(abs(expected - reading) <= wheel.graduation / 2)

"""Which dials may be read out or asked about now, and how far their readings may go."""

from __future__ import annotations

from assistant.jobs.steps import Move, Touch
from assistant.session.state import Phase, State
from assistant.spoken import Expected, Slot, SlotKind
from assistant.units import Quantity

CONSEQUENT = 0.6
"""Confidence wanted of commands that a slip would make expensive."""


def working_axis(state: State) -> str:
    """The axis that "the dial" means now: the step's own, else the depth axis, else any; one
    that was zeroed before one that wasn't, since only its dial tells where it stands."""
    step = state.step
    own = step.axis if isinstance(step, Move | Touch) else ""
    if state.phase is Phase.READ and own:
        return own
    depth = state.plan.depth_axis
    zeroed = [name for name in (own, depth, *state.axes) if name and state.axes[name].zeroed]
    return zeroed[0] if zeroed else own or (depth if depth in state.axes else "")


def zeroed(state: State) -> tuple[str, ...]:
    """The axes that have a zero: only their dials tell where they stand."""
    return tuple(name for name in state.axes if state.axes[name].zeroed)


def dial_reads(state: State, axis: str, *, within_a_turn: bool = False) -> Expected:
    """What the dial of an axis may be told to read; `within_a_turn` where a zero is taken: whole
    turns tell nothing there."""
    wheel = state.machine.axis(axis)
    turn = wheel.per_turn
    slots = [
        Slot(
            "reading",
            SlotKind.READING,
            str(wheel.per_turn.units),
            low=turn * 0,
            high=turn if within_a_turn else dial_limit(state, axis, turn),
        )
    ]
    named = tuple(dict.fromkeys((*zeroed(state), axis)))
    slots.append(Slot("axis", SlotKind.CHOICE, choices=named))
    return Expected("dial_reads", tuple(slots), CONSEQUENT)


def dial_limit(state: State, axis: str, per_turn: Quantity) -> Quantity:
    """Readings with whole turns reach as far as the axis was ever sent, and one turn more."""
    here = state.axes[axis].position
    furthest: Quantity = max(per_turn, here, here * -1, state.plan.furthest.get(axis, here))
    reach: Quantity = per_turn + furthest
    return reach


def dial_should(state: State) -> Expected:
    """What a dial should read; that of a named axis only where it was zeroed."""
    named = zeroed(state)
    axis = (Slot("axis", SlotKind.CHOICE, choices=named),) if named else ()
    return Expected("dial_should", axis)

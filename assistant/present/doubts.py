"""What is asked while something is in doubt."""

from __future__ import annotations

from assistant.jobs.steps import Touch
from assistant.machine import WAYS
from assistant.session.metal import what_tells, what_was_cut
from assistant.session.state import Doubt, DoubtKind, State


def doubt_text(doubt: Doubt, state: State) -> str:
    """The doubt as a short request, in shop words."""
    axis = doubt.axis or "dial"
    match doubt.kind:
        case DoubtKind.DIAL:
            return f"Read me the {axis} dial. Same turn?" if doubt.axis else "Read me the dial."
        case DoubtKind.TURN:
            return f"Read me the {axis} dial, with its whole turns from zero."
        case DoubtKind.METAL:
            return f"Spindle off. Measure {what_tells(state)}, and tell me."
        case DoubtKind.FLOOR:
            what = what_was_cut(state)
            return f"Come to {what}, just touching. What does the {axis} dial read there?"
        case DoubtKind.MOVED:
            return "Anything moved, unclamped or bumped?"
        case DoubtKind.TOUCH:
            # past zero and back to it the way it was touched, so that the backlash is taken up
            came = _touched_going(state, axis)
            if axis not in WAYS or not came:
                return f"Back to the touch. Touch off the {axis} again."
            come, away = WAYS[axis] if came > 0 else WAYS[axis][::-1]
            return f"Back to the touch: {axis} {away} past zero, {come} to zero. Count again."


def _touched_going(state: State, axis: str) -> int:
    """+1 or -1: the way the axis went when it was touched off; moves since don't matter."""
    steps = state.plan.steps if state.plan is not None else ()
    here = state.plan.index(state.step_id) if state.plan is not None and state.step_id else 0
    touches = [s.toward for s in steps[: here + 1] if isinstance(s, Touch) and s.axis == axis]
    if touches:
        return touches[-1]
    return state.axes[axis].came if axis in state.axes else 0

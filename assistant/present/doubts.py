"""What is asked while something is in doubt."""

from __future__ import annotations

from assistant.session.state import Doubt, DoubtKind, State


def doubt_text(doubt: Doubt, state: State) -> str:
    """The doubt as a short request, in shop words."""
    axis = doubt.axis or "dial"
    match doubt.kind:
        case DoubtKind.DIAL:
            return f"Read me the {axis} dial." if doubt.axis else "Read me the dial."
        case DoubtKind.METAL:
            return "Spindle off. Measure it, and tell me."
        case DoubtKind.MOVED:
            return "Anything moved, unclamped or bumped?"
        case DoubtKind.TOUCH:
            return f"Back to the touch. Touch off the {axis} again."

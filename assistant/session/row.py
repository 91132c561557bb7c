"""What a step of the row moves, and what it belongs to."""

from __future__ import annotations

from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut, Index, Move, Step, Touch


def belongs_to_a_touch(step: Touch | Move) -> bool:
    """The second of two touches, and a move that is zeroed where it ends."""
    return bool(step.keeps) if isinstance(step, Touch) else step.zero_after


def is_counted(move: Move) -> bool:
    """Whether its axis then stands where it was set: not where it is zeroed there, nor where it is
    only run clear."""
    return move.target is not None and not move.zero_after


def axes_of(step: Step) -> tuple[str, ...]:
    """The axes that a step moves by their dials."""
    if isinstance(step, Move):
        return (step.axis,) if step.target is not None else ()
    if isinstance(step, Cut) and step.feed_target is not None:
        return (step.feed_axis,)
    return ()


def is_divided(plan: Plan) -> bool:
    """Whether the job divides: then a crank is counted, beside the axes."""
    return any(isinstance(step, Index) for step in plan.steps)

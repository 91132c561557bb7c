"""A told size against what was known of its surface: by how much it is deeper, and how much of that
nobody can tell."""

from __future__ import annotations

from decimal import Decimal

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.steps import Measure, Move, SurfaceKey
from assistant.session.cuts import last_cut
from assistant.session.state import State
from assistant.units import Quantity, magnitude

GIVES = Decimal("0.25")
"""Share of a pass by which what it left may be off, cutter, work and gauge together: common
practice, no source."""
PLAIN = {"inch": Decimal("0.003"), "mm": Decimal("0.08")}
"""What nobody wonders about: common practice, no source."""


def cut_unknown(state: State, surface: SurfaceKey, size: Quantity) -> bool:
    """Whether a size tells of a cut that the job knows nothing of: it is deeper than what was told
    last, or than what was there before any, and no cut is known that did it."""
    step = state.ahead.measure_of(surface)
    if step is None or not step.slope or last_cut(state, surface) is not None:
        return False
    most, more = most_of(state, surface), deeper_by(state, step, size)
    return most is not None and more is not None and more > width_of(state, most)


def deeper_by(state: State, step: Measure, size: Quantity) -> Decimal | None:
    """By how much a size is deeper than the one told last, else than what is uncut."""
    told = told_sizes(state.facts, step.surface)
    before = told[-1].size if told else step.at_none
    return None if before is None else deeper_than(before, size, step, state.plan.unit)


def deeper_than(before: Quantity, size: Quantity, step: Measure, unit: str) -> Decimal:
    """By how much a size is deeper than another of its surface, counted the way of the cutting."""
    return (magnitude(size, unit) - magnitude(before, unit)) / step.slope


def width_of(state: State, taken: Decimal) -> Decimal:
    """What nobody can tell of a size, where that much was taken."""
    return max(PLAIN[state.plan.unit], taken * GIVES)


def most_of(state: State, surface: SurfaceKey) -> Decimal | None:
    """The most that any pass of a surface may take, in the unit of the plan."""
    limits = [
        magnitude(one.pass_limit, state.plan.unit)
        for one in state.plan.steps
        if isinstance(one, Move) and one.surface == surface and one.pass_limit is not None
    ]
    return max(limits, default=None)

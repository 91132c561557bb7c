"""A told size held against what is believed: asked about where both can't be true.

After a cut a surface is as the dial says, to the width of what nobody can tell: the gauge, the hand
and what the cutter gave way. A size that is further off is asked about before it is taken: most
often it is the one from before the last cut, read off the note or said by habit, and the next cut
would be that cut once more.
"""

from __future__ import annotations

from enum import StrEnum

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.steps import NO_SURFACE, Cut, Measure
from assistant.session import between
from assistant.session.against import PLAIN, deeper_by, deeper_than, most_of, width_of
from assistant.session.already import counted_on_it, tells_of_it
from assistant.session.cuts import being_cut, last_cut, measured_since
from assistant.session.state import State
from assistant.spoken import Intent
from assistant.units import Quantity, magnitude


class Contradiction(StrEnum):
    """How a told size can't be, as it is asked about."""

    BEFORE = "as before the last cut"
    GROWN = "more metal than before the last cut"
    DEEPER = "deeper than the dial says by more than a pass"
    MORE = "more metal than was measured last"
    LESS = "less metal than was measured last, by more than a pass"
    TOUCHED = "and touched where nothing was cut"
    UNCUT = "more metal than before any cut"


def contradicts(state: State, intent: Intent) -> Contradiction | None:
    """How a told size can't be, by what was cut; None where it can, and for all that isn't a size
    of a surface."""
    if intent.name == "already_cut":
        return _already(state, intent)
    if intent.name not in ("measured", "over_under"):
        return None
    step = _measure(state)
    size = _size(step, intent) if step is not None else None
    if step is None or size is None or step.surface == NO_SURFACE or not step.slope:
        return None
    begun = being_cut(state, step.surface)
    cut = begun or last_cut(state, step.surface)
    if begun is None and (cut is None or measured_since(state, cut)):
        return _against_the_last(state, step, size)
    if cut is None or cut.leaves is None or not cut.taken.magnitude:
        return None
    return _off(state, step, cut, size, begun is not None)


def _against_the_last(state: State, step: Measure, size: Quantity) -> Contradiction | None:
    """How a size is off one that was told since the last cut, or in doubt off what was there
    before any: of a pass that was taken back, or was begun, it may be deeper by that."""
    known = bool(told_sizes(state.facts, step.surface))
    if not known and not state.doubts:
        return None  # it came to be while something else was cut, as a shoulder
    most, more = most_of(state, step.surface), deeper_by(state, step, size)
    if most is None or more is None:
        return None
    width = width_of(state, most)
    if more > max(most + width, width * 4):
        return Contradiction.LESS if known else Contradiction.DEEPER
    if more < -width * 2:
        return Contradiction.MORE if known else Contradiction.UNCUT
    return None


def _already(state: State, intent: Intent) -> Contradiction | None:
    """What is told to stand cut: never with more metal than it has uncut; and depth is counted from
    a touch on metal that nobody cut, which may have been made on what is cut."""
    step = tells_of_it(state.ahead)
    if step is not None and step.at_none is not None and step.slope:
        unit = state.plan.unit
        if deeper_than(step.at_none, intent.size("size"), step, unit) < -PLAIN[unit]:
            return Contradiction.UNCUT
    return Contradiction.TOUCHED if counted_on_it(state) else None


def _off(
    state: State, step: Measure, cut: Cut, size: Quantity, begun: bool
) -> Contradiction | None:
    """How far the size is from what the cut should have left, counted the way of the cutting."""
    assert cut.leaves is not None
    unit = state.plan.unit
    taken = magnitude(cut.taken, unit)
    more = deeper_than(cut.leaves, size, step, unit)
    width = width_of(state, taken)
    if more > max(taken, width * 4):
        return Contradiction.DEEPER
    if more < -taken - width * 2:
        return Contradiction.GROWN
    if not begun and taken > width * 2 and abs(more + taken) <= width:
        return Contradiction.BEFORE
    return None


def _measure(state: State) -> Measure | None:
    """The measurement that a size is told for now."""
    if state.doubts:
        return state.ahead.measure_of(state.doubts[0].surface)
    if isinstance(state.step, Measure):
        return state.step
    return None if between.why_not(state) else between.told_unasked(state)


def _size(step: Measure, intent: Intent) -> Quantity | None:
    if intent.name == "measured":
        return intent.size("size")
    if step.nominal is None:
        return None
    told: Quantity = step.nominal + intent.size("deviation").to(step.nominal.units)
    return told

"""Which pass it is and how deep: the depth bar and `pass 2 of 4`, from plan and state."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.moment import coming_cut
from assistant.jobs.plan import Plan, Seat
from assistant.jobs.steps import IN_ONE_GO, Cut, Measure, Move, Note, Step
from assistant.present.glance import Bar
from assistant.session.state import State
from assistant.units import Quantity, magnitude


def pass_place(plan: Plan, step: Step) -> str:
    """`pass 2 of 4`, with its kind where it is not plain roughing; '' away from the passes."""
    cut = coming_cut(plan, step)
    if cut is None or cut.kind in IN_ONE_GO:
        return ""
    kind = "" if cut.kind == "roughing" else f", {cut.kind}"
    return f"pass {cut.number} of {cut.of}{kind}"


def depth_bar(state: State) -> Bar | None:
    """What is to be cut, what is cut, and what is after the pass at hand, in the plan's unit.

    For the passes of a depth that is the depth; for those of a wall at full depth what is taken
    from the wall. What is cut is told by the passes said to be through, not by where the dial
    stands; a row beside the one at hand, at the same depth, does not count.
    """
    plan, step = state.plan, state.step
    if step is None or plan.full_depth is None or plan.full_depth.magnitude <= 0:
        return None
    seat = _seat(plan, step)
    if seat is None:
        return None
    cuts = seat.cuts
    full = float(magnitude(plan.full_depth, plan.unit))
    reached = seat.depths
    if is_wall(cuts, state):
        full = _length(cuts[0].taken + cuts[0].left, plan)
        reached = tuple(full - left for left in seat.left)
    at_hand = coming_cut(plan, step)
    here = at_hand is not None and any(cut is at_hand for cut in cuts)
    done = [
        depth
        for cut, depth in zip(cuts, reached, strict=True)
        if cut.id in state.confirmed and not (here and _same_pass(cut, at_hand))
    ]
    if not done and state.belief.sizes.get(cuts[0].surface):  # cut before the job came to it
        done = [reached[0] - _length(cuts[0].taken, plan)]
    now = max(done, default=0.0)
    after = now
    if here:
        after = max(now, next(d for cut, d in zip(cuts, reached, strict=True) if cut is at_hand))
    return Bar(full, now, after, tuple(sorted(set(reached))))


def depths_now(state: State, bar: Bar | None) -> tuple[tuple[str, float], ...]:
    """`depth_now` and `depth_after` for the drawing: at a wall the floor is there already."""
    plan, step = state.plan, state.step
    if bar is None or step is None:
        return ()
    seat = _seat(plan, step)
    if seat is not None and is_wall(seat.cuts, state):
        depth = seat.depths[0]
        return ("depth_now", depth), ("depth_after", depth)
    return ("depth_now", bar.now), ("depth_after", bar.after)


def is_wall(cuts: Sequence[Cut], state: State) -> bool:
    """Whether passes widen what has its depth: the first of them takes less than it is deep, and
    not because some of that was cut before the job came to it."""
    if not cuts:
        return False
    first = cuts[0]
    if first.number != 1 or first.taken >= first.depth * Decimal("0.99"):
        return False
    told = told_sizes(state.facts, first.surface)
    if not told or told[0].cuts != 0:
        return True
    moves = (step for step in state.plan.steps if isinstance(step, Move))
    return not any(move.surface == first.surface and move.depth_after is not None for move in moves)


def _length(size: Quantity, plan: Plan) -> float:
    return float(magnitude(size, plan.unit))


def _same_pass(one: Cut, other: Cut | None) -> bool:
    """The same pass in another row, or its spring pass."""
    return other is not None and one.number == other.number and other.kind != "spring"


def _seat(plan: Plan, step: Step) -> Seat | None:
    """The passes that belong together with this step. What is measured or noted belongs to the
    passes before it, everything else to those that come."""
    place = plan.index(step.id)
    chosen = next((seat for seat in reversed(plan.seats) if seat.first < place), None)
    if chosen is None and plan.seats:
        chosen = plan.seats[0]
    if isinstance(step, Measure | Note):
        return chosen
    return next((seat for seat in plan.seats if seat.last >= place), chosen)

"""Which pass it is and how deep: the depth bar and `pass 2 of 4`, from plan and state."""

from __future__ import annotations

from assistant.jobs.steps import IN_ONE_GO, Cut, Measure, Move, Note, Plan, Step
from assistant.present.glance import Bar
from assistant.session.state import State
from assistant.units import magnitude


def coming_cut(plan: Plan, step: Step) -> Cut | None:
    """The cut at hand, or the one that a depth move is for."""
    if isinstance(step, Cut):
        return step
    if not isinstance(step, Move) or step.depth_after is None:
        return None
    for later in plan.steps[plan.index(step.id) + 1 :]:
        if isinstance(later, Cut):
            return later
    return None


def pass_place(plan: Plan, step: Step) -> str:
    """`pass 2 of 4`, with its kind where it is not plain roughing; '' away from the passes."""
    cut = coming_cut(plan, step)
    if cut is None or cut.kind in IN_ONE_GO:
        return ""
    kind = "" if cut.kind == "roughing" else f", {cut.kind}"
    return f"pass {cut.number} of {cut.of}{kind}"


def depth_bar(state: State) -> Bar | None:
    """Full depth, the depth that is cut, and the depth after the pass at hand, in the plan's unit.

    The depth now is that of the last pass that was said to be through, not where the dial stands.
    """
    plan, step = state.plan, state.step
    if plan is None or step is None or plan.full_depth is None or plan.full_depth.magnitude <= 0:
        return None
    cuts = _seat(plan, step)
    if not cuts:
        return None

    def length(cut: Cut) -> float:
        return float(magnitude(cut.depth, plan.unit))

    now = max((length(cut) for cut in cuts if cut.id in state.confirmed), default=0.0)
    cut = coming_cut(plan, step)
    after = max(now, length(cut)) if cut is not None else now
    full = float(magnitude(plan.full_depth, plan.unit))
    return Bar(full, now, after, tuple(sorted({length(cut) for cut in cuts})))


def _seat(plan: Plan, step: Step) -> list[Cut]:
    """The passes that belong together with this step: with several seats, those of one.

    Passes are numbered from 1 in every seat. What is measured or noted belongs to the passes
    before it, everything else to those that come.
    """
    place = plan.index(step.id)
    seats: list[list[Cut]] = []
    chosen: list[Cut] = []
    for number, one in enumerate(plan.steps):
        if not isinstance(one, Cut):
            continue
        if one.number == 1 or not seats:
            seats.append([])
        seats[-1].append(one)
        if number < place or not chosen:
            chosen = seats[-1]
    if not isinstance(step, Measure | Note):
        coming = next((one for one in plan.steps[place:] if isinstance(one, Cut)), None)
        chosen = next((seat for seat in seats if coming in seat), chosen)
    return chosen

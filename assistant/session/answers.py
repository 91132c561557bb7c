"""Questions about the job: answered from the state, without changing it."""

from __future__ import annotations

from assistant.jobs.plan import Plan
from assistant.jobs.steps import IN_ONE_GO, Cut, Index, Measure, Touch
from assistant.replacing import replace
from assistant.session.instruct import dial_at
from assistant.session.reply import Answer, Instruction, Why
from assistant.session.state import State
from assistant.session.work import Work
from assistant.spoken import Figure, Intent
from assistant.units import Quantity, unit_name


def what_now(work: Work, intent: Intent) -> None:
    """The instruction of the step, in full."""
    work.say(Instruction())


def where(work: Work, intent: Intent) -> None:
    """Which step of how many, and which pass."""
    plan, step = work.state.plan, work.state.step
    if work.state.finished or step is None:
        work.say("The job is finished.")
        return
    work.say(f"Step {plan.index(step.id) + 1} of {len(plan.steps)}: {step.title}.")
    if isinstance(step, Cut) and step.kind not in IN_ONE_GO:
        work.say(f"{step.kind.capitalize()} pass {step.number} of {step.of}.")
    if work.state.doubts:
        work.say(Instruction())


def depth_reached(state: State) -> Figure | None:
    """The depth cut so far, or being cut; None before the first cut.

    What was measured counts for more than what was planned: the next pass starts from it.
    """
    last, following = _cuts_around(state)
    if last is None and following is not None and _stands(state, following):
        return _depth(state, following.depth - following.taken, "deep")
    if last is None:
        return None
    if last.id == state.step_id:
        return _depth(state, last.depth, "deep, after this cut")
    if following is not None and following.number > last.number and following.depth > last.depth:
        return _depth(state, following.depth - following.taken, "deep")
    return _depth(state, last.depth, "deep")


def _depth(state: State, depth: Quantity, label: str) -> Figure:
    """A depth in the places in which the job gives its full depth."""
    full = state.plan.result("full depth")
    if full is not None:
        return replace(full, value=depth, what=label, low=None, high=None)
    return Figure(depth, label, places=3 if unit_name(depth) == "inch" else 2)


def left_to_cut(state: State) -> Quantity | None:
    """What is left to full depth, after the cut at hand where there is one; None where the job
    has no depth.

    Counted from the cuts that are still to come, since those follow what was measured.
    """
    plan = state.plan
    last, following = _cuts_around(state)
    if plan.full_depth is None:
        return _left_of_a_size(state, last, following)
    if last is None and not (following is not None and _stands(state, following)):
        return plan.full_depth
    if last is not None and (last.id == state.step_id or _still_to_measure(state)):
        return last.left
    if following is None:
        nothing: Quantity = plan.full_depth * 0
        return nothing
    if (
        last is not None and following.number == last.number and following.depth == last.depth
    ):  # the next row of it
        return last.left
    left: Quantity = following.taken + following.left
    return left


def _left_of_a_size(state: State, last: Cut | None, following: Cut | None) -> Quantity | None:
    """What is left to the size at hand, in a job of several; None where there is none."""
    made = last is not None and (last.id == state.step_id or _still_to_measure(state))
    cut = last if made else following
    if cut is None or cut.remaining is None:
        return None
    coming: Quantity = cut.left if made else cut.taken + cut.left
    return coming


def _same_pass(one: Cut, other: Cut) -> bool:
    return one.number == other.number and one.depth == other.depth


def _stands(state: State, cut: Cut) -> bool:
    """Whether something of a cut's surface was told to be cut already."""
    return bool(state.belief.sizes.get(cut.surface))


def _cuts_around(state: State) -> tuple[Cut | None, Cut | None]:
    """The last cut made or being made that has a depth, and the next one."""
    here = state.plan.index(state.step_id) if state.step_id else len(state.plan.steps) - 1
    cuts = [
        (place, step)
        for place, step in enumerate(state.plan.steps)
        if isinstance(step, Cut) and step.depth.magnitude
    ]
    before = [cut for place, cut in cuts if place <= here]
    after = [cut for place, cut in cuts if place > here]
    return (before[-1] if before else None), (after[0] if after else None)


def _still_to_measure(state: State) -> bool:
    """Whether the depth that was cut is measured before the next cut, so that it isn't known."""
    here = state.plan.index(state.step_id) if state.step_id else len(state.plan.steps) - 1
    for step in state.plan.steps[here:]:
        if isinstance(step, Measure) and step.at_axis:
            return True
        if isinstance(step, Cut):
            return False
    return False


def how_much_left(work: Work, intent: Intent) -> None:
    """What remains to full depth."""
    left = left_to_cut(work.state)
    if left is None:
        work.say("This job has no depth to count down.")
        return
    last, following = _cuts_around(work.state)
    step = work.state.step
    cut = step if isinstance(step, Cut) else following or last
    label = f"to full depth {cut.left_on if cut is not None else ''}".rstrip()
    if isinstance(step, Cut) and step.remaining is not None:
        label += ", after this cut"
    work.say(Answer(_depth(work.state, left, label)))


def how_deep(work: Work, intent: Intent) -> None:
    """The depth reached."""
    reached = depth_reached(work.state)
    if reached is None or not reached.value.magnitude:  # none is: a next hole is only spotted
        plan = work.state.plan
        cuts = [step for step in plan.steps if isinstance(step, Cut)]
        deep = any(cut.depth.magnitude for cut in cuts)
        work.say("Nothing cut yet." if deep else "This job cuts to no depth.")
        return
    work.say(Answer(reached))


def how_many_turns(work: Work, intent: Intent) -> None:
    """Turns and divisions of the move at hand, or of the division."""
    if isinstance(work.state.step, Index):
        work.say(Instruction())
        return
    _about_the_move(work)


def which_way(work: Work, intent: Intent) -> None:
    """The direction of the move at hand."""
    move = work.state.figure.move if work.state.figure else None
    if move is None:
        work.say("No move to make now.")
        return
    work.say(f"{move.wheel.axis.capitalize()} {move.direction}.")


def dial_should(work: Work, intent: Intent) -> None:
    """The reading to stop at, or where the dial of a named axis should stand now."""
    move = work.state.figure.move if work.state.figure else None
    named = str(intent.get("axis") or "")
    if named and (move is None or move.wheel.axis != named):
        wheel, now = work.state.machine.axis(named), work.state.axes[named]
        reading = dial_at(wheel, now, now.position)
        work.say(Answer(Figure(reading, f"on the {named} dial"), unit_name(reading)))
        return
    if move is None:
        work.say("No move to make now.")
        return
    figure = Figure(move.reading, f"on the {move.wheel.axis} dial", move=move)
    work.say(Answer(figure))


def _about_the_move(work: Work) -> None:
    if work.state.figure is None or work.state.figure.move is None:
        work.say("No move to make now.")
        return
    work.say(Instruction(short=True, named=True))


def _result(work: Work, name: str, none: str) -> None:
    figure = work.state.plan.result(name)
    if figure is None:
        work.say(none)
        return
    work.say(Answer(figure))


def what_speed(work: Work, intent: Intent) -> None:
    """The spindle speed."""
    _result(work, "speed", "This job gives no speed.")


def what_feed(work: Work, intent: Intent) -> None:
    """The feed, or seconds a turn for hand feed."""
    _result(work, "feed", "This job gives no feed.")


def what_size(work: Work, intent: Intent) -> None:
    """The size to measure at the end."""
    _result(work, _size_name(work.state.plan), "This job gives no size.")


def _size_name(plan: Plan) -> str:
    return next((name for name, figure in plan.results if figure.high is not None), "size")


def why(work: Work, intent: Intent) -> None:
    """The derivation of the number shown."""
    figure = work.state.figure
    if work.state.doubts:
        work.say("I have to know where things stand before I give a number.")
        work.say(Instruction())
        return
    if figure is None or not (figure.terms or figure.formula):
        work.say("No sum behind this step.")
        return
    work.say(Why(figure))


def how_far_to_run(work: Work, intent: Intent) -> None:
    """How far to run the table for the keyseat's full length."""
    _result(work, "run", "This job gives no length to run.")


def where_touched(work: Work, intent: Intent) -> None:
    """Which axes were zeroed, and on what paper."""
    zeroed = [name for name, axis in work.state.axes.items() if axis.zeroed]
    if not zeroed:
        work.say("Nothing touched yet.")
        return
    for step in work.state.plan.steps:
        if isinstance(step, Touch) and step.axis in zeroed:
            work.say(f"{step.axis.capitalize()}: zero at {step.surface}.")


def own_question(work: Work, intent: Intent) -> None:
    """A question of the operation's own, answered by the step at hand or by the plan."""
    answer = own_answers(work.state)[intent.name]
    work.say(answer if isinstance(answer, str) else Answer(answer))


def own_answers(state: State) -> dict[str, Figure | str]:
    """The operation's own questions that can be answered now."""
    here = state.ahead.place_of(state.step) if state.at_work else None
    return dict(state.plan.answers) | dict(here.answers if here is not None else ())

"""What is still to be cut and can't be, or isn't any more: it is left out, which stands in the
record, and the job goes on with what comes after."""

from __future__ import annotations

from itertools import takewhile

from assistant.jobs.steps import NO_SURFACE, Cut, Ground, Move, OneOfMany, Step, SurfaceKey
from assistant.session import events as ev
from assistant.session.state import Question, State
from assistant.session.trouble import touch_again
from assistant.session.work import Work
from assistant.spoken import Intent

LEAVE_ONE_OUT = "leave_one_out"
LEAVE_OUT = "leave_out"
"""What yes means where a cut can't be given."""


def cut_too_far(work: Work) -> None:
    """What nothing measures was looked at: there is nothing left to come off. What was still to be
    cut of it is left out, and whether the part serves is for who knows what it is for."""
    surface = work.state.doubts[0].surface
    work.find(Ground.METAL, surface)
    work.record("cut too far", str(surface))
    _without(work, _rest_of(surface, work.state))
    work.say("Then it's cut too far, and in the record.", "The rest of that cut is left out.")
    work.say("See whether the part will still do before you go on.")
    work.go_on()


def _without(work: Work, steps: list[Step]) -> None:
    for step in steps:
        work.emit(ev.Confirmed(step.id, skipped=True))


def _rest_of(surface: SurfaceKey, state: State) -> list[Step]:
    """The cut at hand, where it is of that surface, and all later passes of it, each with its own
    way back: the way back from the one at hand is still to go."""
    steps, here = state.plan.steps, state.plan.index(state.step_id)
    of_it = [place for place, step in enumerate(steps) if getattr(step, "surface", "") == surface]
    later = [place for place in of_it if place > here]
    row = steps[later[0] : later[-1] + 1] if later else ()
    back = takewhile(_runs_clear, steps[later[-1] + 1 :] if later else ())
    at_hand = [steps[here]] if here in of_it else []
    rest = [*at_hand, *row, *back]
    own = (surface, NO_SURFACE)
    return [
        s for s in rest if getattr(s, "surface", NO_SURFACE) in own and s.id not in state.ahead.done
    ]


def _runs_clear(step: Step) -> bool:
    return isinstance(step, Move) and step.target is None


def leave_out(work: Work, intent: Intent) -> None:
    """The cut at hand can't be given: it is left out, and the passes that would follow it."""
    step = work.state.step
    assert step is not None
    surface = getattr(step, "surface", NO_SURFACE)
    rest = _rest_of(surface, work.state) if surface != NO_SURFACE else _to_its_cut(work.state)
    if surface != NO_SURFACE:
        work.find(Ground.METAL, surface)
    work.record("left out", step.title)
    _without(work, rest)
    work.say("Left out. It's in the record.", "See whether the part will still do.")
    work.go_on()


def one_of_many(state: State) -> OneOfMany | None:
    """What the job is at, where that can be left out by itself."""
    here = state.ahead.place_of(state.step) if state.at_work else None
    return here.one_of_many if here is not None else None


def which_is_left_out(state: State, intent: Intent) -> Question | None:
    """Asked before one is left out: said twice, or late, it may be the next one that is at hand."""
    one = one_of_many(state)
    if intent.name != LEAVE_ONE_OUT or one is None or intent.get("one") == one.called:
        return None
    candidate = Intent(intent.name, (("one", one.called),))
    return Question(
        "with all that is still to come of it", candidate, words=f"{one.called} left out"
    )


def leave_one_out(work: Work, intent: Intent) -> None:
    """One of many is left out, with all that is still to come of it; a piece that is stuck in it
    stays there, and the others are as they were."""
    one, broke = one_of_many(work.state), work.state.belief.unsure(Ground.PIECE)
    assert one is not None
    if broke:
        work.find(Ground.PIECE)
    work.record("left out", f"{one.called}, from the {one.since} on")
    work.tell(one.fact, one.since)
    work.replan(f"{one.called} left out")
    work.say(f"{one.called[:1].upper()}{one.called[1:]} is left out, and in the record.")
    if broke:
        work.place()
        work.say("Fit a sound one.")
        touch_again(work)
        work.instruct()
    else:
        work.go_on()


def _to_its_cut(state: State) -> list[Step]:
    """The setting at hand and the cut that it is for."""
    found: list[Step] = []
    for step in state.plan.steps[state.plan.index(state.step_id) :]:
        found.append(step)
        if isinstance(step, Cut):
            break
    return found

"""What holds in every operation's demo, at every step: checks before cuts, stop, limits."""

from __future__ import annotations

import pytest

from assistant.jobs.steps import Check, Cut, Move
from assistant.phrases import saying
from assistant.present.glance_of import glance
from assistant.session.instruct import dial_at
from assistant.session.state import DoubtKind, Phase, State
from assistant.spoken import Reason, Refused, Understood
from assistant.units import Quantity, magnitude
from tests.factories import answer
from tests.session.walks import DEMOS, said, unmoved, walked

pytestmark = pytest.mark.parametrize("demo", DEMOS)


def moves(demo: str) -> list[tuple[State, Move]]:
    """The moves of a job at which its number is given, and the state there."""
    return [
        (state, state.step)
        for state in walked(demo)
        if isinstance(state.step, Move) and state.step.target is not None
        if state.phase is Phase.ACT and state.axes[state.step.axis].zeroed
    ]


def withheld(state: State) -> bool:
    """Whether no number to move to is given, to the eye or on asking."""
    if glance(state).move is not None:
        return False
    asked = said(state, "what now").state
    return glance(asked).move is None


def test_no_cut_begins_before_its_checks_and_none_is_passed_silently(demo: str) -> None:
    states = walked(demo)
    plan = states[-1].plan
    assert any(isinstance(step, Check) for step in plan.steps), "nothing is checked"
    for state in states[:-1]:  # the last is after the end
        step = state.step
        if isinstance(step, Check):
            for words in ("that's through", "touched", "what now", "no", "clear of the end"):
                after = said(state, words).state
                assert after.step_id == step.id, f"{words!r} passed {step.id}"
                assert step.id not in after.confirmed | after.skipped
            skipped = said(state, "skip that check")
            assert step.id in skipped.state.skipped
            assert any(told.name == "skipped" and told.at for told in skipped.state.told)
            assert "in the record" in answer(skipped)
        if isinstance(step, Cut):
            before = plan.steps[: plan.index(step.id)] if step.id in _ids(plan.steps) else ()
            wanted = {one.id for one in before if isinstance(one, Check)}
            assert wanted <= state.done.keys(), step.id


def _ids(steps: tuple[object, ...]) -> set[str]:
    return {getattr(step, "id", "") for step in steps}


def test_stop_is_answered_by_the_button_and_silence_at_every_step(demo: str) -> None:
    for state in walked(demo):
        stopped = said(state, "stop")
        assert answer(stopped) == "Hit your stop button. I can't."
        assert stopped.reply.hush or stopped.sentences, "what was being said is cut off"
        assert stopped.state.stopped
        assert stopped.state.question is None, "nothing is asked back"
        assert unmoved(state, stopped.state)
        # silence, until the operator speaks on
        assert said(stopped.state, "the radio said it rains").silent


def test_nothing_is_ever_called_safe_and_no_move_is_claimed(demo: str) -> None:
    for state in walked(demo):
        text = " ".join(state.last_reply).lower()
        assert "safe" not in text.replace("safety", "")
        assert "i've moved" not in text
        assert "i moved" not in text


def test_past_the_finished_depth_every_number_is_withheld_until_told(demo: str) -> None:
    for state, move in moves(demo):
        if move.limit is None or not move.deeper:  # none, or of nothing finished: a skim, a trial
            continue
        wheel = state.machine.axis(move.axis)
        lines = round((move.limit / wheel.graduation).to("dimensionless").magnitude)
        beyond = wheel.graduation * (lines + 20 * move.deeper)
        words = f"{move.axis} dial reads {_reading(state, move.axis, beyond)}"
        outcome = said(state, words, "typed")
        if isinstance(outcome.said, Refused):  # further than this dial is ever sent
            assert outcome.said.reason is Reason.IMPLAUSIBLE, words
            assert withheld(outcome.state)
            outcome = said(outcome.state, "yes")
        if outcome.state.question is not None:
            # the turn before reads the same: the one past the depth is asked for first
            assert withheld(outcome.state), words
            assert unmoved(state, outcome.state), words
            outcome = said(outcome.state, "yes")
        taken = outcome.state
        assert taken.doubts, f"{move.id}: {words}"
        assert taken.doubts[0].kind in (DoubtKind.METAL, DoubtKind.LOOK)
        assert taken.figure is None
        assert withheld(taken)


def _reading(state: State, axis: str, position: Quantity) -> str:
    wheel, now = state.machine.axis(axis), state.axes[axis]
    turns = int(abs(position / wheel.per_turn).to("dimensionless").magnitude)
    return saying.say_turns(turns, dial_at(wheel, now, position)).replace("-", " ")


def test_a_pass_beyond_the_cutters_limit_is_asked_back_and_no_number_given(demo: str) -> None:
    for state, move in moves(demo):
        if not move.pass_fact or move.pass_limit is None:
            continue
        inch = state.unit == "inch"
        twice = magnitude(move.pass_limit * 2, state.unit)
        size = f"{round(twice, 3 if inch else 2)} {'in' if inch else 'mm'}"
        outcome = said(state, f"cut {size} this pass", "typed")
        assert isinstance(outcome.said, Refused), f"{move.id}: {size}"
        assert outcome.said.reason is Reason.IMPLAUSIBLE
        assert answer(outcome).endswith("Yes or no.")
        assert unmoved(state, outcome.state)
        assert withheld(outcome.state)
        back = said(outcome.state, "no").state
        assert unmoved(state, back)


def test_against_the_take_up_the_way_round_is_told_before_any_number(demo: str) -> None:
    for state, move in moves(demo):
        past = said(state, "i went past")
        assert isinstance(past.said, Understood), move.id
        after = past.state
        if after.figure is None or after.figure.move is None:
            assert withheld(after), move.id
            continue
        backlash = state.machine.axis(move.axis).backlash
        told = after.figure.move.back_off
        assert told is not None, f"{move.id}: straight back, against the take-up"
        assert told > backlash, f"{move.id}: less than the backlash"
        assert "back off" in answer(past).lower()

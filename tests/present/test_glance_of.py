"""What the screen holds at each kind of moment."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.present.glance import STOPPED, Ear, Moment
from assistant.present.glance_of import LEVEL_STEPS, glance
from assistant.session.state import Doubt, DoubtKind, Phase, Question, State
from assistant.spoken import Intent
from assistant.units import inches
from tests.factories import Job
from tests.present.doubting import in_doubt


@pytest.fixture(scope="module")
def moving() -> State:
    job = Job()
    job.to_step("roughing-3-set")
    return job.state


@pytest.fixture(scope="module")
def touching() -> State:
    job = Job()
    job.to_step("touch-side")
    return job.state


def test_a_move_shows_number_dial_pass_and_drawing(moving: State) -> None:
    shown = glance(moving, heard="heard: that's through", trouble=("No sound card: ...",))
    assert shown.moment is Moment.MOVE
    assert (shown.number, shown.unit, shown.what) == ("0.058", "in", "knee up")
    assert shown.widest == "0.0000"
    assert shown.dial.startswith("under a turn: 58")
    assert shown.pass_place == "pass 3 of 6"
    assert shown.bar is not None
    assert shown.bar.now < shown.bar.after < shown.bar.full
    assert shown.trouble == ("No sound card: ...",)
    assert shown.heard == "heard: that's through"
    assert dict(shown.drawing)["depth_now"] == shown.bar.now


def test_stop_comes_before_everything(moving: State) -> None:
    question = Question("", Intent("measured", (("size", inches("1.109")),)))
    stopped = replace(moving, stopped=True, question=question, listening=False)
    shown = glance(stopped)
    assert shown.moment is Moment.TROUBLE
    assert shown.phase == STOPPED
    assert shown.instruction == "Hit your stop button. I can't."
    assert shown.number == ""


def test_a_question_shows_the_number_that_yes_takes(moving: State) -> None:
    question = Question("2.5 in is outside", Intent("measured", (("size", inches("1.109")),)))
    asking = in_doubt(replace(moving, question=question), Doubt(DoubtKind.DIAL, "knee"))
    shown = glance(asking)
    assert shown.moment is Moment.ASK
    assert (shown.number, shown.unit) == ("1.109", "in")
    assert shown.choices == ("yes", "no")
    assert shown.instruction == "One one oh nine? Yes or no."
    assert shown.detail == ("2.5 in is outside",)
    plain = glance(replace(moving, question=Question("", Intent("through"), words="that's it")))
    assert plain.number == ""
    assert plain.instruction == "That's it? Yes or no."


def test_a_doubt_withholds_the_move(moving: State) -> None:
    doubts = (Doubt(DoubtKind.DIAL, "knee"), Doubt(DoubtKind.MOVED))
    shown = glance(in_doubt(moving, *doubts))
    assert shown.moment is Moment.ASK
    assert shown.number == ""
    assert shown.move is None
    assert shown.instruction.startswith("Read me the knee dial.")
    assert "No moves until I know." in shown.detail


def test_cautions_stay_though_they_were_given(touching: State) -> None:
    step = touching.step
    assert step is not None
    assert len(step.cautions) > 1
    given = replace(touching, cautioned=frozenset(step.cautions[:1]))
    assert glance(given).cautions == step.cautions


def test_what_a_caution_begins_with_is_not_said_twice() -> None:
    job = Job("keyseat-inch")
    job.to_step("measure-size-1")
    shown = job.glance
    assert any(caution.startswith("Spindle off") for caution in shown.cautions)
    assert "Spindle off" not in shown.instruction
    assert shown.instruction


def test_a_move_that_is_none_has_no_arrow(moving: State) -> None:
    job = Job("keyseat-inch")
    job.to_step("to-centre")
    job.say("i'm set")
    shown = job.glance
    assert shown.dial.startswith("stays, at")
    assert shown.way == ""
    assert glance(moving).way == "up"


def test_not_listening_keeps_the_number(moving: State) -> None:
    shown = glance(replace(moving, listening=False), ear=Ear.LISTENING)
    assert shown.moment is Moment.QUIET
    assert shown.ear is Ear.NOT_LISTENING
    assert shown.number == "0.058"
    # the voice may still be speaking then, and a missing microphone stays missing
    assert glance(replace(moving, listening=False), ear=Ear.SPEAKING).ear is Ear.SPEAKING
    assert glance(replace(moving, listening=False), ear=Ear.NO_MICROPHONE).ear is Ear.NO_MICROPHONE


def test_phases_of_a_touch(touching: State) -> None:
    shown = glance(touching)
    assert shown.moment is Moment.TOUCH
    assert dict(shown.drawing)["touch_side"] == 1
    assert shown.cautions  # they stay in sight
    paper = glance(replace(touching, phase=Phase.PAPER))
    assert paper.instruction.startswith("Paper?")
    reading = glance(replace(touching, phase=Phase.READ))
    assert "What does it read?" in reading.instruction


def test_metric_and_inch_on_request(moving: State) -> None:
    shown = glance(replace(moving, unit="mm"))
    assert (shown.number, shown.unit) == ("1.473", "mm")
    assert shown.dial == glance(moving).dial  # the dial is marked as it is marked


def test_before_and_after_the_job(moving: State) -> None:
    assert glance(State()).instruction == "No job yet."
    broken = glance(State(), trouble=("No journal.",))
    assert broken.moment is Moment.TROUBLE
    done = glance(replace(moving, finished=True))
    assert done.moment is Moment.DONE
    assert done.number == ""


def test_level_comes_in_steps(moving: State) -> None:
    levels = {glance(moving, level=n / 100).level for n in range(-10, 120)}
    assert len(levels) == LEVEL_STEPS + 1
    assert min(levels) == 0
    assert max(levels) == 1


def test_it_is_a_pure_function_of_the_state(moving: State) -> None:
    assert glance(moving) == glance(moving)
    assert hash(glance(moving).bar) == hash(glance(moving).bar)


@pytest.mark.parametrize(
    ("demo", "step", "number", "what", "dial"),
    [
        ("keyseat-inch", "to-centre", "0.1375", "saddle in to", "back off ½ turn, stop at 137½"),
        ("keyseat-metric", "to-centre", "1.00", "saddle out to", "back off ½ turn, stop at 1.00"),
    ],
)
def test_gone_past_by_nobody_knows_how_much_the_reading_is_shown(
    demo: str, step: str, number: str, what: str, dial: str
) -> None:
    job = Job(demo)
    job.to_step(step)
    job.say("i went past")
    shown = job.glance
    assert (shown.number, shown.what, shown.dial) == (number, what, dial)
    assert f"Then back off, and {what.split()[1]} to it." in shown.instruction

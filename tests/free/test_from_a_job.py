"""Free moves from within a job: its place is kept, its zeros stay, what was moved is asked for."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.app.beside import JobAndFreeMoves
from assistant.app.free_file import FreeFile
from assistant.app.free_moves import free_book
from assistant.jobs.steps import Ground, Move, Touch
from assistant.present.glance import Moment
from assistant.session.belief import DoubtKind
from assistant.session.reduce import replay
from assistant.session.state import Phase
from assistant.spoken import Heard
from tests.factories import Job, expected_words
from tests.shop.handwheels import Handwheel, read_move


class Beside:
    """A job with free moves beside it, over fakes."""

    def __init__(self, folder: Path, name: str = "step-inch") -> None:
        self.job = Job(name)
        self.folder = folder
        self.talker = self.beside()

    def beside(self) -> JobAndFreeMoves:
        return JobAndFreeMoves(
            self.job.assistant, free_book, lambda name: FreeFile(name, self.folder)
        )

    def say(self, *lines: str) -> str:
        """What is said to the last of them."""
        before = 0
        for line in lines:
            before = len(self.job.speaker.texts)
            self.talker.hear(Heard(line, engine="typed"))
        return " ".join(self.job.speaker.texts[before:])

    def to_a_move(self, axis: str) -> Beside:
        """Go on as planned to a move of that axis, which has its zero by then."""
        for _ in range(100):
            step = self.job.state.step
            counted = isinstance(step, Move) and step.axis == axis and step.target is not None
            if counted and self.job.state.phase is Phase.ACT:
                return self
            self.talker.hear(Heard(expected_words(self.job.state), engine="typed"))
        raise AssertionError(f"never came to a move of the {axis}")


def test_nothing_moved_leaves_the_job_as_it_was(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("saddle")
    before, number = at.job.state, at.job.glance
    assert "The job stands." in at.say("free moves")
    assert "Saddle at zero." in at.say("where am i")
    assert "Back to the job." in at.say("back to the job")
    after = at.job.state
    assert (after.step_id, after.belief, after.done) == (before.step_id, before.belief, before.done)
    assert at.job.glance.dial == number.dial
    assert at.talker.free is None


def test_what_was_moved_is_asked_for_before_the_next_number_and_nothing_else(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("knee")
    state = at.job.state
    assert state.axes["saddle"].zeroed
    answer = at.say("free moves", "saddle out one inch")
    assert "Saddle out" in answer
    assert at.job.state.belief.lost("saddle") is Ground.AWAY, "before it is made, and for good"
    assert at.job.state.belief.lost("knee") is None
    at.say("I'm there", "that's all")
    # the cut that the knee is set for stands on the saddle's place
    assert at.job.state.step.axis == "saddle"
    doubt = at.job.state.doubts[0]
    assert (doubt.kind, doubt.axis) == (DoubtKind.TURN, "saddle")
    assert at.job.glance.number == ""
    assert len(at.job.state.doubts) == 1
    answer = at.say("saddle dial reads 8 turns and zero", "no", "yes")
    assert "In, nine turns and eighty. Stop at forty-five." in answer
    assert at.job.state.doubts == ()
    at.say("I'm set", "yes")
    assert at.job.state.step_id == state.step_id, "back at the knee"


def test_a_dial_that_the_job_stands_on_is_left_as_it_is(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("saddle")
    zero = at.job.state.axes["saddle"]
    answer = at.say("free moves", "saddle in half an inch", "I'm there", "zero the saddle")
    assert "The saddle has a zero. What does its dial read?" in answer
    assert "Leave its dial as it is." in at.say("it reads zero")
    at.say("back to the job")
    now = at.job.state.axes["saddle"]
    assert (now.zero_reading, now.zeroed_at) == (zero.zero_reading, zero.zeroed_at)
    assert at.job.state.doubts, "and where it stands is asked for"


def test_the_operator_lands_on_the_jobs_own_target(tmp_path: Path):
    """With a real screw: moved away, read with its turns, and moved on as the page says."""
    at = Beside(tmp_path).to_a_move("saddle")
    axis = at.job.state.machine.axis("saddle")
    step = at.job.state.step
    assert isinstance(step, Move)
    assert step.target is not None
    wheel = Handwheel(axis, slack=0.0)
    wheel.turn(-0.3)
    wheel.turn(0.3)
    wheel.count_from_here()
    zero = wheel.nut
    at.say("free moves", "saddle out 1.3 in")
    assert at.talker.free is not None
    wheel.follow(read_move(at.talker.free.page(), axis))
    at.say("I'm there", "back to the job")
    counted, read = wheel.counted()
    answer = at.say(f"saddle dial reads {counted} turns and {round(read * 1000)}")
    for _ in range(2):
        if "from zero?" in answer:
            answer = at.say("yes" if "out from zero" in answer else "no")
    told = read_move(at.job.glance, axis)
    wheel.follow(told)
    assert wheel.nut - zero == pytest.approx(float(step.target.magnitude), abs=0.0006)


def test_a_power_cut_in_the_middle_leaves_it_asking(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("knee")
    at.say("free moves", "saddle out one inch", "I'm there", "mark this one")
    kept = replay(at.job.journal.read(at.job.assistant.job_id))
    assert kept.belief.lost("saddle") is Ground.AWAY
    at.job.resume()
    assert at.job.state.belief.lost("saddle") is Ground.AWAY
    # and what was marked is there again, once the dial is read
    at.talker = at.beside()
    at.say("nothing moved", "free moves")
    if at.talker.free is None:
        at.job.say("dial reads zero")
        at.say("nothing moved", "free moves")
    assert at.talker.free is not None
    assert "a" in at.talker.free.talk.places.marks
    assert "Whole turns" in at.say("saddle to a")


def test_scratch_that_in_the_job_does_not_settle_it(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("knee")
    at.say("free moves", "saddle out one inch", "I'm there", "back to the job", "scratch that")
    assert at.job.state.belief.lost("saddle") is Ground.AWAY


def test_one_that_touched_touches_again_once_it_was_moved(tmp_path: Path):
    at = Beside(tmp_path)
    for _ in range(60):
        step = at.job.state.step
        if isinstance(step, Touch) and at.job.state.phase is not Phase.ACT:
            break
        at.say(expected_words(at.job.state))
    step = at.job.state.step
    assert isinstance(step, Touch)
    answer = at.say("free moves", f"zero the {step.axis}")
    for _ in range(3):
        if "read?" in answer:
            answer = at.say("zero")
        elif "go last" in answer:
            answer = at.say("in")
    at.say(f"{step.axis} out one inch", "I'm there", "back to the job")
    assert at.job.state.phase is Phase.ACT, "where it stood is no touch any more"
    assert at.job.state.step_id == step.id
    assert at.job.glance.moment is Moment.TOUCH


def test_not_in_a_cut(tmp_path: Path):
    at = Beside(tmp_path)
    for _ in range(100):
        if at.job.glance.phase == "cutting":
            break
        at.say(expected_words(at.job.state))
    assert "Not in a cut." in at.say("free moves")
    assert at.talker.free is None


def test_one_that_the_job_has_no_zero_on_is_to_be_brought_back(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("knee")
    answer = at.say(
        "free moves", "zero the table", "zero", "right", "two inches left", "back to the job"
    )
    assert "The table was moved: bring it back as it was." in answer


def test_what_can_not_be_written_is_not_said(tmp_path: Path):
    at = Beside(tmp_path).to_a_move("saddle")
    at.say("free moves")
    (tmp_path / "kept").write_text("no folder", encoding="utf-8")
    assert at.talker.free is not None
    at.talker.free._file = FreeFile("x", tmp_path / "kept")
    answer = at.say("saddle out one inch")
    assert answer == "I couldn't write that down. Nothing is changed."
    assert at.talker.free.talk.places.leg is None
    assert any("Free moves" in line for line in at.talker.trouble)

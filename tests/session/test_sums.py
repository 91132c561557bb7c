"""Quick sums, typed, in the middle of a job: the answer, and the place that isn't lost."""

from __future__ import annotations

import pytest

from assistant.app.turn import sum_is_open, ways
from assistant.phrases.matcher import match
from assistant.present.move_words import LONGEST, seconds
from assistant.session.allowed import CONSEQUENT, allowed_sum
from assistant.session.sums import SUM_SECONDS, SUMS
from assistant.spoken import Heard, Reason, Refused, Understood
from assistant.units import inches
from tests.factories import BOOK, Job


@pytest.fixture
def job():
    made = Job()
    made.to_step("roughing-2-cut")
    return made


SAID = [
    # plain arithmetic
    ("half of one point three seven five", "Halved, six eighty-seven and a half."),
    ("six twenty-five plus three thou", "Together, six twenty-eight."),
    ("seven fifty less three thou", "One less the other, seven forty-seven."),
    # 11/16 = 0.6875; 2.5 mm = 0.0984 in, next to 3/32 = 0.09375
    ("decimal for eleven sixteenths", "Eleven sixteenths. Decimal, six eighty-seven and a half."),
    ("2.5 mm as a decimal", "ninety-eight and four tenths. Nearest, three thirty seconds."),
    # an inch is 25.4 mm exactly: 0.625 x 25.4 = 15.875; 22 / 25.4 = 0.8661
    ("five eighths to metric", "Millimetres, fifteen point eight seven five."),
    ("twenty-two millimetres to inches", "Inches, eight sixty-six and one tenth."),
    # 1.75 x 25.4 = 44.45
    ("1-3/4 to metric", "Millimetres, forty-four point four five."),
    # 3, 4, 5; atan(4/3) = 53.13 degrees
    ("triangle three inches by four inches", "Long side, five inches. Angle at the first side, "
     "fifty-three point one three degrees."),
    # a regular hexagon's side is its radius
    ("chord of six holes on two inches", "Chord, one inch."),
    # number drill sizes: ASME B94.11M; 0.250 - 1.299 x 0.75 / 20 = 0.2013, and #7 is 0.201
    ("tap drill for quarter twenty", "Number 7 drill, for a quarter-20 UNC. Size, two oh one. "
     "75 percent of thread, on the three quarters H basis."),
    ("tap drill for 10-32", "Number 21 drill"),
    # ISO 2306: 6.8 mm for M8
    ("tap drill for M8", "6.8 millimetre drill, for M8. Size, six point eight."),
    ("size of a number seven drill", "Number 7 drill. Two oh one."),
    ("drill letter f", "Letter F drill. Two fifty-seven."),
    ("drill 29/64", "Twenty nine sixty fourths drill. Four fifty-three and one tenth."),
    # this machine's knee: 0.100 a turn; its table: 0.200
    ("turns for three hundred thou on the knee", "Knee, three turns."),
    ("turns for six twenty five on the table", "Table, three turns and twenty-five."),
    ("turns for a quarter inch", "Knee, two turns and fifty."),
    # 0.200 / 2.25 x 60 = 5.33
    ("pace for two and a quarter", "Five point three seconds a turn of the table."),
    # the job runs at 65: 65 x 4 x 0.002 = 0.52
    ("feed for four teeth at two thou", "At this job's speed, sixty-five revs. Feed, "),
    # 12 x 70 / (pi x 0.5) = 535 rev/min; the gearbox has 530
    ("speed for half an inch in mild steel", "Worked out, five thirty-five revs. "
     "Five thirty revs on the machine."),
]  # fmt: skip


@pytest.mark.parametrize(("words", "wanted"), SAID)
def test_a_sum_is_answered_and_nothing_of_the_job_changes(job, words, wanted):
    before = job.state
    assert job.say("quick sum") == "Go ahead."
    assert wanted in job.say(words)
    after = job.state
    assert (after.seq, after.step_id, after.figure, after.facts) == (
        before.seq, before.step_id, before.figure, before.facts
    )  # fmt: skip
    assert not sum_is_open(after, job.clock.monotonic())


def test_every_sum_is_in_the_table_above(job):
    seen = set()
    for words, _ in SAID:
        job.say("quick sum")
        seen.add(job.try_saying(words).said.intent.name)
    assert seen == set(SUMS)


def test_the_sizes_are_said_back(job):
    job.say("quick sum")
    assert job.say("six twenty-five plus three thou").startswith("Six twenty-five. Three thou.")


def test_every_answer_is_in_short_sentences(job):
    for words, _ in SAID:
        job.say("quick sum")
        for sentence in job.try_saying(words).sentences:
            assert seconds(sentence.text) <= LONGEST, sentence.text


def test_a_sum_wants_the_opening_word(job):
    refused = job.try_saying("half of one point three seven five").said
    assert isinstance(refused, Refused)
    assert refused.reason is Reason.NOT_NOW


def test_it_is_left_after_one_answer(job):
    job.says("quick sum", "half of one inch")
    assert isinstance(job.try_saying("half of one inch").said, Refused)


def test_it_lapses_by_itself(job):
    job.say("quick sum")
    job.clock.advance(SUM_SECONDS - 0.1)
    assert job.say("half of one inch").endswith("five hundred.")
    job.say("quick sum")
    job.clock.advance(SUM_SECONDS + 0.1)
    assert not sum_is_open(job.state, job.clock.monotonic())
    assert isinstance(job.try_saying("half of one inch").said, Refused)
    job.say("that's through")


def test_words_begun_in_time_count_when_they_end_later(job):
    job.say("quick sum")
    began = job.clock.monotonic() + SUM_SECONDS - 0.5
    outcome = job.assistant.hear(Heard("half of one inch", 1.0, began, began + 2, engine="test"))
    assert isinstance(outcome.said, Understood)
    job.say("quick sum")
    late = job.clock.monotonic() + SUM_SECONDS + 0.5
    outcome = job.assistant.hear(Heard("half of one inch", 1.0, late, late + 2, engine="test"))
    assert isinstance(outcome.said, Refused)


def test_the_ear_is_held_to_sums_only_while_one_is_open(job):
    job.say("quick sum")
    now = job.clock.monotonic()
    inside = {expected.intent for expected in ways(BOOK, job.state, now).expected}
    assert "sum_half" in inside
    assert "through" not in inside
    outside = {e.intent for e in ways(BOOK, job.state, now + SUM_SECONDS + 1).expected}
    assert "sum_half" not in outside
    assert "through" in outside


def test_a_key_or_a_typed_command_closes_it_and_is_taken(job):
    job.say("quick sum")
    job.say("that's through")
    assert job.state.step_id != "roughing-2-cut"
    assert not sum_is_open(job.state, job.clock.monotonic())


def test_no_leaves_it_and_stop_stops(job):
    seq = job.state.seq
    assert job.says("quick sum", "no") == "All right."
    assert job.state.seq == seq
    job.say("quick sum")
    assert job.say("stop") == "Hit your stop button. I can't."
    assert job.state.stopped
    assert not sum_is_open(job.state, job.clock.monotonic())


def test_say_again_and_help_keep_it_open(job):
    job.say("quick sum")
    assert job.say("say again") == "Go ahead."
    assert "half of" in job.say("help")
    job.clock.advance(SUM_SECONDS - 1)
    job.say("half of one inch")
    assert job.say("say again").startswith("One inch")


def test_a_sum_hardly_heard_is_asked_for_again_without_a_question(job):
    seq = job.state.seq
    job.say("quick sum")
    outcome = job.assistant.hear(Heard("half of one inch", 0.3, 0, 1, engine="test"))
    assert [s.text for s in outcome.sentences] == ["Say the sum again."]
    assert job.state.question is None
    assert job.state.seq == seq
    assert job.say("half of one inch")


def test_noise_does_not_hold_it_open(job):
    job.say("quick sum")
    until = job.state.sum_until
    outcome = job.assistant.hear(Heard("", 0.0, 5, 6, engine="test"))
    assert outcome.silent
    assert job.state.sum_until == until


@pytest.mark.parametrize(
    ("words", "taken"),
    [
        ("half of one fifty", "0.150"),
        ("half of one and three quarters", "1.750"),
        ("half of nine seventy-five", "0.975"),
        ("half of forty", "0.040"),
    ],
)
def test_bare_sizes_are_taken_as_the_shop_means_them(job, words, taken):
    job.say("quick sum")
    said = job.try_saying(words).said
    assert isinstance(said, Understood)
    assert said.intent.size("size") == inches(taken)


def test_a_mil_is_never_guessed(job):
    job.say("quick sum")
    assert "More than one size" in job.try_saying("half of two mils").sentences[0].text


def test_an_impossible_sum_says_what_is_wrong(job):
    job.say("quick sum")
    assert job.say("chord of 1 holes on two inches") == (
        "Can't be. holes 1: a chord needs two holes or more."
    )
    job.say("quick sum")
    assert "has table, saddle, knee" in job.say("turns for one inch on the compound")


def test_no_sum_while_a_question_is_open():
    job = Job()
    job.to_step("roughing-2-set")
    job.say("quick sum")
    job.clock.advance(SUM_SECONDS + 1)
    job.try_saying("cut forty thou this pass", confidence=0.3)
    assert job.state.question is not None
    assert isinstance(job.try_saying("quick sum").said, Refused)
    assert not sum_is_open(job.state, job.clock.monotonic())


def test_metric_sums_are_answered_in_millimetres():
    job = Job("keyseat-metric")
    job.say("quick sum")
    assert "Halved, six point two five." in job.say("half of twelve point five")


def test_a_sum_is_held_to_the_certainty_of_a_measured_size(job):
    """Talk after the opening word that sounds a little like a sum is asked back."""
    expected = allowed_sum(job.state)
    heard = "half of one point three seven five"
    unsure = match(BOOK, expected, Heard(heard, CONSEQUENT - 0.01))
    assert isinstance(unsure, Refused)
    assert unsure.reason is Reason.UNSURE
    assert isinstance(match(BOOK, expected, Heard(heard, CONSEQUENT)), Understood)

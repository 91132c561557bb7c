"""What is said, in the words of the shop."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc import dial
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut, Measure, Move, Note, Step, Touch
from assistant.present.move_words import LONGEST, move_sentence, seconds
from assistant.present.questions import question_text
from assistant.present.sentences import (
    figure_answer,
    instruction_sentences,
    reply_sentences,
    spoken,
    told_sentence,
    verdict,
    why_sentences,
)
from assistant.session.reply import Answer, Ask, Instruction, ReadBack, Reply, Say, Verdict, Why
from assistant.session.state import Doubt, DoubtKind, Phase, Question, State
from assistant.spoken import DialMove, Figure, Intent, SlotKind, Term, Urgency, Wheel
from assistant.spoken.limits import Limits
from assistant.units import Quantity, inches, mm, quantity
from tests.devices.glances import KNEE, KNEE_MM, KNEE_UP, KNEE_UP_MM, SADDLE, SADDLE_IN
from tests.present.doubting import in_doubt

TO_CENTRE = Figure(
    inches("0.9405"),
    "saddle in",
    terms=(
        Term("half the shaft", inches("0.75")),
        Term("half the cutter", inches("0.1875")),
        Term("paper", inches("0.003")),
    ),
    move=SADDLE_IN,
)
WITNESS = DialMove(KNEE, "up", inches("0.003"), 0, Decimal("0.003"), Decimal(3), inches("0.003"))


MEASURED = Intent("measured", (("size", inches("1.109")),))


def in_step(step: Step, figure: Figure | None = None, **more: object) -> State:
    plan = Plan("a shaft", "keyseat", "inch", (step,))
    return replace(State(plan=plan, step_id=step.id, figure=figure), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("move", "long", "short"),
    [
        (
            SADDLE_IN,
            "Saddle in, four turns and one forty and a half.",
            "In, four turns and one forty and a half.",
        ),
        (WITNESS, "Knee up three. Under a turn.", "Up three, to three."),
        (KNEE_UP, "Knee up six, to seventeen.", "Up six, to seventeen."),
        (KNEE_UP_MM, "Knee up, one turn and one point two four.", None),
        (
            DialMove(KNEE, "down", inches(1), 10, Decimal(0), Decimal(0), inches(0)),
            "Knee down, ten turns.",
            "Down, ten turns.",
        ),
        (
            DialMove(
                SADDLE, "in", inches("0.34"), 1, Decimal("0.14"), Decimal(140), inches("0.151")
            ),
            "Saddle in, one turn and one forty. Stop at one fifty-one.",
            "In, one turn and one forty. Stop at one fifty-one.",
        ),
        (
            DialMove(KNEE, "up", inches("0.04"), 0, Decimal("0.04"), Decimal(40), inches("0.012")),
            "Knee up forty, past zero, to twelve.",
            "Up forty, past zero, to twelve.",
        ),
        (
            DialMove(KNEE, "up", inches(0), 0, Decimal(0), Decimal(0), inches("0.012")),
            "Knee stays: twelve on the dial.",
            None,
        ),
    ],
)
def test_moves(move: DialMove, long: str, short: str | None) -> None:
    assert move_sentence(move) == long
    if short is not None:
        assert move_sentence(move, short=True) == short


def test_backing_off_first() -> None:
    move = replace(KNEE_UP, back_off=inches("0.05"))
    assert move_sentence(move) == "Knee down half a turn first, then up to seventeen."
    down = replace(move, direction="down")
    assert (
        move_sentence(down, arriving="up") == "Knee down half a turn past seventeen, then up to it."
    )
    far = replace(down, turns=3)
    assert move_sentence(far, arriving="up") == (
        "Knee down, three turns and on. Go half a turn past seventeen, then up to it."
    )


def test_why_and_answers() -> None:
    assert [s.text for s in why_sentences(TO_CENTRE)] == [
        "Half the shaft, seven fifty.",
        "Half the cutter, one eighty-seven and a half.",
        "Paper, three.",
    ]
    assert [s.text for s in why_sentences(Figure(inches("0.25"), "key", source="ASME B17.1"))] == [
        "From ASME B17.1."
    ]
    assert (
        figure_answer(Figure(inches("0.077"), "to full depth, after this cut"))
        == "Seventy-seven to full depth, after this cut."
    )
    assert figure_answer(Figure(inches(0), "left after this cut")) == "Nothing left after this cut."
    assert figure_answer(Figure(quantity(180, "rpm"), "speed")) == "Speed, one eighty revs."
    assert figure_answer(Figure(mm("4.12"), "deep"), "mm") == "Four point one two deep."


@pytest.mark.parametrize(
    ("measured", "words"),
    [
        ("1.666", "two over the limit"),
        ("1.6645", "half a thou over the limit"),
        ("1.664", "bang on the limit"),
        ("1.660", "four inside"),
        ("1.649", "fifteen inside"),
        ("1.646", "three under: too deep"),
    ],
)
def test_verdict(measured: str, words: str) -> None:
    assert verdict(inches(measured), Limits(inches("1.649"), inches("1.664"), 3), "inch") == words


def test_verdict_of_a_bore_and_of_open_limits() -> None:
    low, high = mm("20.00"), mm("20.02")
    bore = Limits(low, high, 2, grows=True, too_far="too big")
    assert verdict(mm("19.95"), bore, "mm") == "five hundredths under the limit"
    assert verdict(mm("20.01"), bore, "mm") == "one hundredth inside"
    assert verdict(mm("20.03"), bore, "mm") == "one hundredth over: too big"
    assert verdict(inches(1), Limits(None, None, 3)) == ""
    assert verdict(inches(1), Limits(inches("0.9"), None, 3)) == "inside the limit"


def test_read_backs_are_unambiguous() -> None:
    assert told_sentence(inches("0.003")) == "Three thou."
    assert told_sentence(inches("1.666")) == "One six six six."
    assert question_text(inches("1.109")) == "One one oh nine? Yes or no."
    assert told_sentence(inches("0.002"), SlotKind.DEVIATION) == "Two over."
    assert told_sentence(inches("0.1405"), SlotKind.READING) == "One forty and a half."
    assert told_sentence(quantity("2.5", "turn"), SlotKind.TURNS) == "Two and a half turns."


def test_questions_say_what_yes_would_take() -> None:
    def ask(candidate: Intent | None, words: str = "") -> list[str]:
        state = State(question=Question("", candidate, words=words))
        return [s.text for s in instruction_sentences(state)]

    reading = Intent("dial_reads", (("reading", inches("0.1405")), ("axis", "saddle")))
    assert ask(MEASURED) == ["One one oh nine?", "Yes or no."]
    assert ask(reading) == ["One forty and a half?", "Yes or no."]
    over = Intent("over_under", (("deviation", inches("-0.003")),))
    assert ask(over) == ["Three under?", "Yes or no."]
    assert ask(Intent("through"), "that's through") == ["That's through?", "Yes or no."]


def test_verdict_in_the_places_of_the_limits() -> None:
    """A limit that was worked out is the one that is shown; a size is the one that was measured:
    half a thou past the limit is past it."""
    low, high = mm("25.8"), mm("25.96")
    assert verdict(mm("26.0"), Limits(low, high, 1), "mm") == "bang on the limit"
    assert verdict(mm("26.0"), Limits(low, high, 2), "mm") == "four hundredths over the limit"
    whole = Limits(low, mm("26"), 1)
    assert verdict(mm("26.04"), whole, "mm") == "four hundredths over the limit"
    width = Limits(inches("0.500"), inches("0.502"), 3, grows=True, too_far="too wide")
    assert verdict(inches("0.4995"), width, "inch") == "half a thou under the limit"
    assert verdict(inches("0.5024"), width, "inch") == "four tenths over: too wide"


def test_cautions_come_first_and_once() -> None:
    step = Touch(
        id="t",
        title="touch",
        axis="saddle",
        toward=1,
        surface="the side of the shaft",
        say=("Touch the side.",),
        cautions=("Hands nowhere near.", "Oiled paper only."),
    )
    first = instruction_sentences(in_step(step))
    assert [s.text for s in first] == [*step.cautions, "Touch the side."]
    assert [s.urgency for s in first] == [Urgency.CAUTION, Urgency.CAUTION, Urgency.ANSWER]
    again = in_step(step, cautioned=frozenset(step.cautions))
    assert [s.text for s in instruction_sentences(again)] == ["Touch the side."]
    # the command that entered the step has already marked them as given
    assert instruction_sentences(again, cautioned=frozenset()) == first
    given = Instruction(cautions=step.cautions)
    assert reply_sentences(Reply((given,)), again) == first
    assert len(reply_sentences(Reply((Instruction(),)), again)) == 1
    paper = in_step(step, phase=Phase.PAPER, cautioned=frozenset(step.cautions))
    assert [s.text for s in instruction_sentences(paper)] == ["Paper, or bare?"]


def test_instruction_of_a_move() -> None:
    step = Move(
        id="m",
        title="to the centre",
        axis="saddle",
        target=inches("0.9405"),
        say=("Drop the knee ten turns.",),
        after=("Lock it.",),
    )
    state = in_step(step, TO_CENTRE)
    assert [s.text for s in instruction_sentences(state)] == [
        "Drop the knee ten turns.",
        "Saddle in, four turns and one forty and a half.",
        "Lock it.",
    ]
    check = Figure(inches("0.1405"), "saddle dial should read", move=SADDLE_IN)
    assert [
        s.text for s in instruction_sentences(replace(state, phase=Phase.VERIFY, figure=check))
    ] == ["Lock it.", "Read it again: one forty and a half?"]
    assert [s.text for s in instruction_sentences(state, short=True)] == [
        "In, four turns and one forty and a half.",
        "Lock it.",
    ]


def test_doubt_question_stop_and_end_silence_the_step() -> None:
    step = Note(id="n", title="speed", say=("Set the speed.",))
    state = in_step(step)
    doubting = in_doubt(state, Doubt(DoubtKind.DIAL, "knee"))
    assert instruction_sentences(doubting)[0].text == "Read me the knee dial."
    asking = replace(doubting, question=Question("outside", MEASURED))
    assert [s.text for s in instruction_sentences(asking)] == ["One one oh nine?", "Yes or no."]
    assert reply_sentences(Reply((Ask(),)), asking) == instruction_sentences(asking)
    assert instruction_sentences(replace(asking, stopped=True)) == []
    assert instruction_sentences(replace(state, finished=True))[0].text == "That's the job."
    assert instruction_sentences(State())[0].text == "No job is open."


def test_measure_says_the_limits_that_it_did_not_say() -> None:
    step = Measure(
        id="q",
        title="over the key",
        fact="size.1",
        gauge="micrometer",
        low=inches("1.649"),
        high=inches("1.664"),
        nominal=inches("1.664"),
        say=("Spindle off. Measure over the key.",),
    )
    figure = Figure(inches("1.664"), "over the key", low=step.low, high=step.high)
    assert [s.text for s in instruction_sentences(in_step(step, figure))] == [
        "Spindle off.",
        "Measure over the key.",
        "Over the key, one six six four.",
        "Low limit, one six four nine.",
    ]


def test_cut_says_what_is_left() -> None:
    step = Cut(
        id="c",
        title="pass 2",
        number=2,
        of=4,
        depth=inches("0.1"),
        taken=inches("0.04"),
        remaining=inches("0.077"),
    )
    figure = Figure(step.remaining, "left after this cut")
    assert [s.text for s in instruction_sentences(in_step(step, figure))] == [
        "Seventy-seven left after this cut."
    ]


def test_parts_of_a_reply() -> None:
    reply = Reply(
        (
            Say("That's your side. Paper?"),
            ReadBack(inches("0.003")),
            Answer(Figure(inches("0.077"), "to full depth")),
            Verdict(inches("1.666"), Limits(inches("1.649"), inches("1.664"), 3)),
            Why(TO_CENTRE),
        )
    )
    assert [s.text for s in reply_sentences(reply, State())] == [
        "That's your side.",
        "Paper?",
        "Three thou.",
        "Seventy-seven to full depth.",
        "One six six six: two over the limit.",
        "Half the shaft, seven fifty.",
        "Half the cutter, one eighty-seven and a half.",
        "Paper, three.",
    ]


WHEELS = (SADDLE, KNEE, KNEE_MM, Wheel("table", inches("0.125"), inches("0.001"), -1))


@given(
    st.sampled_from(WHEELS),
    st.integers(-7999, 7999),
    st.integers(0, 99),
    st.booleans(),
    st.sampled_from([0, 1]),
)
def test_every_move_is_short_enough_to_say(
    wheel: Wheel, halves: int, start: int, short: bool, back: int
) -> None:
    half = wheel.graduation / 2
    travel, begin = half * halves, (wheel.graduation * start) % wheel.per_turn
    made = dial.move(travel, wheel.per_turn, wheel.graduation, wheel.rises, begin)
    ways = {"saddle": ("in", "out"), "knee": ("up", "down"), "table": ("right", "left")}
    way = ways[wheel.axis][0 if halves >= 0 else 1]
    arriving = ways[wheel.axis][0]
    size: Quantity = abs(travel)
    move = DialMove(
        wheel, way, size, made.turns, made.part, made.divisions, made.reading,
        wheel.per_turn / 2 if back else None,
    )  # fmt: skip
    for sentence in spoken(move_sentence(move, short=short, arriving=arriving)):
        assert seconds(sentence.text) <= LONGEST, sentence.text

"""Numbers that can't be, in every slot that takes one, typed and spoken: each is refused or asked
back, and none changes a job; what is taken lies inside the plausible band and is the very number
that was told."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

import pytest

from assistant.phrases.typed import in_words
from assistant.present.glance_of import glance
from assistant.session.allowed import allowed
from assistant.session.state import State
from assistant.spoken import Reason, Refused, Slot, SlotKind, Understood
from assistant.units import Quantity, is_quantity, magnitude
from tests.factories import Job, answer
from tests.session.walks import said, unmoved, walked

SENTENCES = {
    "paper": "paper {}", "measured": "measured {}", "over_under": "measured {} over",
    "left_wall": "left wall {}", "right_wall": "right wall {}", "cut_this_pass": "cut {} this pass",
    "dial_reads": "dial reads {}", "speed_is": "speed is {}", "feed_is": "feed is {}",
    "went_past": "went past by {}", "new_cutter": "new cutter is {}",
    "already_cut": "already cut to {}",
}  # fmt: skip
"""How each command that takes a number is said."""
NUMBERS = (SlotKind.LENGTH, SlotKind.DEVIATION, SlotKind.TURNS, SlotKind.READING, SlotKind.COUNT,
           SlotKind.RATE, SlotKind.ANGLE)  # fmt: skip
JOBS = ("keyseat-inch", "keyseat-metric", "turn-shaft", "angle-sine-bar", "face-metric",
        "part-ring", "drill-counterbore", "woodruff-inch")  # fmt: skip
"""Between them every command with a number, in inches and in millimetres."""

NEVER = {
    "not a number": ("nan", "not a number"),
    "infinity": ("inf", "infinity"),
    "minus infinity": ("-inf", "minus infinity"),
    "negative": ("-5", "minus five"),
    "a negative size": ("-0.25 in", "minus two fifty"),
    "absurd": ("99 in", "ninety nine inches"),
    "absurd in metric": ("9000 mm", "nine thousand millimetres"),
    "beyond any figure": ("1e400", "nine million million million"),
    "a row of nines": ("999999999999", "nine nine nine nine nine nine nine nine nine nine"),
    "divided by nothing": ("1/0", "one zeroth"),
    "a speed, or for a speed a size": ("5000000 rpm", "fifty thousand rpm"),
    "an angle": ("30 degrees", "thirty degrees"),
    "an unknown unit": ("3 parsecs", "three parsecs"),
}
"""What no slot of any job takes, typed and spoken."""
SOMETIMES = {
    "zero": ("0", "zero"),
    "figures of another script": ("\u0665\u0665\u0665", "five five five"),
    "three inches": ("3 in", "three inches"),
    "more places than any gauge has": ("0.123456789", "point one two three four five six seven"),
    "more places than this gauge has": ("0.03125", "point oh three one two five"),
    "a metric size": ("5.5 mm", "five point five millimetres"),
    "thou": ("40 thou", "forty thou"),
}
"""What some slots take: then it must be in the band."""


def numbered(demo: str) -> Iterator[tuple[State, str, Slot]]:
    """The first state of a job for each command that takes a number."""
    seen: set[tuple[str, str]] = set()
    for state in walked(demo)[:-1]:
        for expected in allowed(state):
            if expected.intent == "correct":
                continue  # takes what the command before it took: tests/session/test_told_anew.py
            for slot in expected.slots:
                if slot.kind in NUMBERS and (expected.intent, slot.unit) not in seen:
                    seen.add((expected.intent, slot.unit))
                    yield state, expected.intent, slot


PLACES = [(demo, *place) for demo in JOBS for place in numbered(demo)]


def test_every_command_with_a_number_is_in_the_table() -> None:
    assert {intent for _, _, intent, _ in PLACES} == set(SENTENCES)
    assert len(PLACES) > 30


def value_of(said: Understood | Refused, slot: Slot) -> Quantity | None:
    intent = said.intent if isinstance(said, Understood) else said.candidate
    value = intent.get(slot.name) if intent is not None else None
    return value if is_quantity(value) else None


def inside(value: Quantity, slot: Slot) -> bool:
    return (slot.low is None or value >= slot.low) and (slot.high is None or value <= slot.high)


@pytest.mark.parametrize("engine", ["typed", "moonshine"])
@pytest.mark.parametrize("kind", [*NEVER, *SOMETIMES])
def test_an_odd_number_is_refused_or_asked_back_and_changes_nothing(kind: str, engine: str) -> None:
    number = (NEVER | SOMETIMES)[kind][engine != "typed"]
    taken = 0
    for demo, state, intent, slot in PLACES:
        words = SENTENCES[intent].format(number)
        outcome = said(state, words, engine)
        where = f"{demo}, {state.step_id}: {words}"
        if isinstance(outcome.said, Understood):
            assert kind not in NEVER or outcome.said.intent.name != intent, where
            if outcome.said.intent.name != intent:
                # "measured minus five" is five under, and is heard back as a size
                assert outcome.said.intent.name == "over_under", where
                assert answer(outcome), where
                continue
            value = value_of(outcome.said, slot)
            assert value is not None, where
            assert inside(value, slot), where
            taken += 1
            continue
        assert unmoved(state, outcome.state), where
        if engine == "typed":
            assert answer(outcome), f"{where}: refused without a word"
        if outcome.said.reason is Reason.IMPLAUSIBLE:
            assert outcome.state.question is not None, where
            assert outcome.said.detail, f"{where}: it isn't said what would be plausible"
            assert glance(outcome.state).move is None, f"{where}: a number is shown meanwhile"
            refused = said(outcome.state, "no", engine)
            assert unmoved(state, refused.state), where
    assert not taken or kind in SOMETIMES


@pytest.mark.parametrize("text", ["1.4987", "1.498", "1.5"])
def test_places_beyond_those_planned_are_neither_lost_nor_rounded(text: str) -> None:
    job = Job("turn-shaft")
    job.to_step("measure-clean-up")
    heard_back = job.say(f"measured {text}")
    values = [value for value in job.state.facts.values() if is_quantity(value)]
    lengths = [value for value in values if value.check("[length]")]
    assert Decimal(text) in [magnitude(value, "inch") for value in lengths]
    figures = in_words(text).replace("zero", "oh").split()
    read_back = heard_back.lower().replace("-", " ").split(".")[0].split()
    assert [word for word in figures if word != "point"][-1] in read_back or text == "1.5"


@pytest.mark.parametrize("kind", NEVER)
def test_a_quick_sum_of_an_odd_number_is_refused_in_words(kind: str) -> None:
    state = walked("keyseat-inch")[3]
    opened = said(state, "quick sum", "typed").state
    number = NEVER[kind][0]
    for sentence in (f"half of {number}", f"{number} plus {number}", f"turns for {number}",
                     f"speed for {number} steel", f"chord of {number} holes on {number}",
                     f"triangle {number} by {number}", f"{number} to metric"):  # fmt: skip
        outcome = said(opened, sentence, "typed")
        assert unmoved(state, outcome.state), sentence
        assert "nan" not in answer(outcome).lower().replace(sentence, "")

"""Every step of every demo job, start to end: what the ear gets against what the eye gets.

The sentences are read back by the phrase book's own reader of numbers, which knows nothing of how
they were made; what it reads has to be the number on the screen.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from assistant.phrases import numbers
from assistant.present.answer_lines import answer_lines
from assistant.present.drawings import draw
from assistant.present.formatting import MINUS
from assistant.present.glance import LEADS, Glance, Moment
from assistant.present.glance_of import glance
from assistant.present.move_words import seconds
from assistant.present.sentences import instruction_sentences
from assistant.session.reply import Reply, Why
from assistant.session.state import Doubt, DoubtKind, Question, State
from assistant.spoken import Intent, SlotKind
from assistant.units import magnitude, quantity
from tests.devices.whole import HELD, MISSING, SEEN, faults
from tests.present.doubting import in_doubt
from tests.session.walks import DEMOS, walked

ABOUT_FOUR_SECONDS = 4.2
read_number = cache(numbers.read_number)
"""Steps say much the same."""
UNITS = {"in": "inch", "mm": "mm", "rpm": "rpm", "in/min": "inch/minute", "mm/min": "mm/minute",
         "s": "mm", "turns": "turn", "turn": "turn", "°": "degree",
         "mm/turn": "mm", "in/turn": "inch"}  # fmt: skip
KINDS = {"turns": SlotKind.TURNS, "turn": SlotKind.TURNS, "°": SlotKind.ANGLE}


@pytest.fixture(scope="module", params=DEMOS)
def states(request: pytest.FixtureRequest) -> list[State]:
    return list(walked(request.param))


def of_a_keyseat(states: list[State]) -> bool:
    """The job that has every kind of moment."""
    plan = states[0].plan
    return plan.operation == "keyseat"


def spans(texts: list[str], longest: int = 12) -> Iterator[str]:
    """Every run of words inside the sentences."""
    for text in texts:
        words = text.lower().replace("-", " ").rstrip(".?").replace(",", " ,").split()
        for first in range(len(words)):
            for last in range(first + 1, min(len(words), first + longest) + 1):
                yield " ".join(words[first:last])


def heard_lengths(texts: list[str], shown: Glance) -> set[Decimal]:
    """Every number that the sentences can be read as, in the unit on the screen."""
    if shown.unit in ("turns", "turn", "holes", "°", ""):
        return counted(texts, shown.unit)
    unit = UNITS[shown.unit]
    kind = KINDS.get(shown.unit, SlotKind.LENGTH)
    if "min" in shown.unit or shown.unit == "rpm":
        kind = SlotKind.RATE
    found = set()
    for span in spans(texts):
        for part in (span, span.removesuffix(" revs").removesuffix(" a minute")):
            found |= {reading.value for reading in read_number(part, kind, unit)}
            if kind is SlotKind.LENGTH:
                # below an inch sizes are said as on a dial
                found |= {r.value for r in read_number(part, SlotKind.READING, unit) if not r.turns}
    if "nothing" in " ".join(texts).lower():
        found.add(Decimal(0))
    return found


def counted(texts: list[str], unit: str) -> set[Decimal]:
    """Every count of turns, holes or degrees in the sentences."""
    kind = {"°": SlotKind.ANGLE, "turn": SlotKind.TURNS, "turns": SlotKind.TURNS}.get(
        unit, SlotKind.COUNT
    )
    found = set()
    for span in spans(texts):
        found |= {r.value for r in read_number(span.removesuffix(" holes"), kind)}
    return found


def test_ear_and_eye_get_the_same_number(states: list[State]) -> None:
    numbers = 0
    for state in states:
        shown = glance(state)
        if not shown.number:
            continue
        texts = [sentence.text for sentence in instruction_sentences(state)]
        value = Decimal(shown.number.replace(MINUS, "-"))
        if shown.move is None:
            assert value in heard_lengths(texts, shown), (shown.what, shown.number, texts)
        else:
            check_move(shown, value, texts)
        numbers += 1
    assert numbers > (15 if of_a_keyseat(states) else 0)


def check_move(shown: Glance, value: Decimal, texts: list[str]) -> None:
    """Turns and dial as spoken make the distance, and end at the reading, on the screen."""
    move = shown.move
    assert move is not None
    unit = str(move.wheel.per_turn.units)
    unit = "inch" if unit == "inch" else "mm"
    turn = magnitude(move.wheel.per_turn, unit)
    stop = magnitude(move.reading, unit)
    travels, readings = set(), set()
    for span in spans(texts):
        for reading in read_number(span, SlotKind.READING, unit):
            travels.add((reading.turns or 0) * turn + reading.value)
            readings.add(reading.value)
        travels |= {r.value * turn for r in read_number(span, SlotKind.TURNS)}
    if shown.what.endswith(("should read", "stays at")):
        assert value in readings, texts
        return
    if value and move.back_off is None:
        assert value in travels, (shown.number, texts)
    said_whole = stop == move.part  # from zero the reading is the part: it is said once
    assert stop in readings or (said_whole and value in travels), (shown.dial, texts)


def test_sentences_are_short(states: list[State]) -> None:
    for state in states:
        for sentence in instruction_sentences(state, cautioned=()):
            assert seconds(sentence.text) <= ABOUT_FOUR_SECONDS, sentence.text


def test_pages_say_where_and_draw(states: list[State]) -> None:
    if of_a_keyseat(states):
        shown_moments = {glance(state).moment for state in states}
        assert {Moment.CHECK, Moment.TOUCH, Moment.MOVE, Moment.CUT, Moment.MEASURE,
                Moment.NOTE} <= shown_moments  # fmt: skip
    for state in states:
        shown = glance(state)
        if state.finished:
            assert shown.moment is Moment.DONE
            continue
        assert shown.place.startswith("step ")
        assert shown.instruction
        # a check is read word by word, and some notes are not about the work: they have no drawing
        wanted = of_a_keyseat(states) and shown.moment not in {Moment.CHECK, Moment.NOTE}
        if shown.drawing_kind or wanted:
            assert draw(shown.drawing_kind, shown.drawing) is not None, shown.instruction
        if shown.moment is Moment.CUT and (of_a_keyseat(states) or shown.pass_place):
            assert shown.pass_place
            if state.plan.full_depth is None:
                continue
            assert shown.bar is not None
            # a spring pass and the rows of a wide cut go no deeper
            deeper = shown.bar.now < shown.bar.after
            assert deeper or not of_a_keyseat(states)
            assert shown.bar.now <= shown.bar.after <= shown.bar.full * 1.05


def test_nothing_is_ever_dropped_from_a_page(states: list[State]) -> None:
    """Windows of 800x480 to 3840x2160, from half a metre to six, with nothing missing, one device,
    and all of them: every warning, number, turns, dial and way on every leaf, every word on one.
    Each page is looked at in some of the ways, each way on many pages."""
    often = 3 if of_a_keyseat(states) else 23
    for place, shown in enumerate(dict.fromkeys(glance(state) for state in states)):
        for way, seen in enumerate(SEEN):
            if (place + way) % often:
                continue
            turn = (place + way) // often
            missing = ((), MISSING[:1], MISSING)[turn % 3]
            told = replace(shown, trouble=missing, heard="heard: that's through")
            found = list(faults(told, seen, LEADS[turn % 2]))
            assert not found, (seen, shown.instruction, found)


def test_nor_from_the_page_of_a_second_screen(states: list[State]) -> None:
    often = 2 if of_a_keyseat(states) else 11
    for place, shown in enumerate(dict.fromkeys(glance(state) for state in states)):
        for way, held in enumerate(HELD):
            if (place + way) % often:
                continue
            missing = ((), MISSING[:1], MISSING)[(place + way) // often % 3]
            told = replace(shown, trouble=missing, heard="heard: that's through")
            found = list(faults(told, held))
            assert not found, (held, shown.instruction, found)


def test_every_answer_is_shown_whole(states: list[State]) -> None:
    """The longest "why" of a plan, at every size and distance."""
    plan = states[0].plan
    whys = [Why(figure) for _, figure in plan.results if figure.terms]
    if not whys:
        return
    longest = max(whys, key=lambda why: len(why.figure.terms))
    for state in (states[len(states) // 3], states[len(states) // 2]):
        answer = answer_lines(Reply((longest,)), state)
        for seen in SEEN[:: 1 if of_a_keyseat(states) else 6]:
            told = replace(glance(state, answer=answer), trouble=MISSING[:1])
            assert not list(faults(told, seen)), (seen, answer)


ASKED = {
    "inch": {"measured": "1.109 in", "cut": "0.045 in", "dial_reads": "0.0405 in"},
    "mm": {"measured": "26.23 mm", "cut": "0.8 mm", "dial_reads": "1.24 mm"},
}
"""Invented values that are asked back."""


def test_what_is_asked_back_is_asked_alike(states: list[State]) -> None:
    """At every step: the number of the question, its unit and its words."""
    for state in states[:: max(1, len(states) // 12)]:
        for name, text in ASKED[state.unit].items():
            value = quantity(Decimal(text.split()[0]), "inch" if text.endswith("in") else "mm")
            slot = "reading" if name == "dial_reads" else "size"
            candidate = Intent(name, ((slot, value),))
            asking = replace(state, question=Question("not heard well", candidate, "unsure"))
            shown = glance(asking)
            texts = [sentence.text for sentence in instruction_sentences(asking)]
            assert shown.moment is Moment.ASK
            assert shown.choices == ("yes", "no")
            assert " ".join(texts) == shown.instruction
            assert Decimal(shown.number) in heard_lengths(texts, shown), (shown.number, texts)
            assert shown.unit == ("in" if state.unit == "inch" else "mm")


@pytest.mark.parametrize("kind", DoubtKind)
def test_in_doubt_ear_and_eye_ask_the_same_and_give_no_number(
    states: list[State], kind: DoubtKind
) -> None:
    for state in states[:: max(1, len(states) // 8)]:
        for axis in state.axes:
            doubtful = in_doubt(replace(state, finished=False), Doubt(kind, axis))
            shown = glance(doubtful)
            texts = [sentence.text for sentence in instruction_sentences(doubtful)]
            assert shown.moment is Moment.ASK
            assert shown.number == ""
            assert shown.move is None
            assert " ".join(texts) == shown.instruction
            assert all(seconds(text) <= ABOUT_FOUR_SECONDS for text in texts)


def test_no_label_says_its_unit_again(states: list[State]) -> None:
    """`16 turns of the tap`, never `16 turns turns of the tap`; nor `5.9 s seconds a turn`."""
    in_full = {"s": "seconds", "turns": "turns", "turn": "turn", "rpm": "revs"}
    for state in states:
        shown = glance(state)
        if shown.number:
            assert not shown.what.startswith(in_full.get(shown.unit, shown.unit) + " "), shown.what

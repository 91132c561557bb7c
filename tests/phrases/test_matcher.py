"""What is taken, what is asked back and what is refused: one table."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.phrases.book import FREE_NUMBER, PhraseBook, load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import match
from assistant.phrases.typed import in_words
from assistant.phrases.words import normal
from assistant.spoken import (
    Expected,
    Heard,
    Intent,
    Reason,
    Refused,
    Slot,
    SlotKind,
    SlotValue,
    Understood,
)
from assistant.units import Quantity, inches, magnitude, mm, quantity

BOOK = load_book()
EVERYTHING = BOOK.expected()
LENGTH, DEVIATION, READING = SlotKind.LENGTH, SlotKind.DEVIATION, SlotKind.READING


def measured(low: str, high: str, expected: str | None = None, unit: str = "inch") -> Expected:
    nominal = None if expected is None else quantity(expected, unit)
    slot = Slot("size", LENGTH, unit, quantity(low, unit), quantity(high, unit), nominal)
    return Expected("measured", (slot,), 0.6)


PAPER = Expected("paper", (Slot("size", LENGTH, "inch", inches(0), inches("0.030")),), 0.6)
DIAL = Expected(
    "dial_reads",
    (
        Slot("reading", READING, "inch", inches(0), inches("0.1")),
        Slot("axis", SlotKind.CHOICE, choices=("knee", "saddle")),
    ),
)
METRIC_DIAL = Expected("dial_reads", (Slot("reading", READING, "mm", mm(0), mm(4), mm("0.4")),))
TWENTY = inches("0.020")
OVER = Expected("over_under", (Slot("deviation", DEVIATION, "inch", -TWENTY, TWENTY),))
SPEED = Expected("speed_is", (Slot("rate", SlotKind.RATE, "rpm"),))
FEED = Expected("feed_is", (Slot("rate", SlotKind.RATE, "inch / minute"),))
NO_BAND = Expected("measured", (Slot("size", LENGTH, "inch"),))
PLAIN = (Expected("yes"), Expected("no"), Expected("stop"))


class Case(NamedTuple):
    """Words, what is allowed, and what must come of it."""

    words: str
    allowed: tuple[Expected, ...]
    outcome: str
    """The intent taken, or the reason."""
    slots: tuple[tuple[str, SlotValue], ...] = ()
    """Of the intent, or of the candidate."""


AT_ONE_INCH = (measured("0.9", "1.3", "1.109"), OVER, *PLAIN)
AT_TEN = (measured("8", "12"), *PLAIN)
CASES = [
    # one plausible reading is taken
    Case("measured one point one oh nine", AT_ONE_INCH, "measured", (("size", inches("1.109")),)),
    Case("one one oh nine", AT_ONE_INCH, "measured", (("size", inches("1.109")),)),
    Case("1.109", AT_ONE_INCH, "measured", (("size", inches("1.109")),)),
    Case("one inch one-oh-nine", AT_ONE_INCH, "measured", (("size", inches("1.109")),)),
    Case("twenty-eight millimetres", AT_ONE_INCH, "measured", (("size", mm(28)),)),
    Case("three thou", (PAPER, *PLAIN), "paper", (("size", inches("0.003")),)),
    Case("three", (PAPER, *PLAIN), "paper", (("size", inches("0.003")),)),
    Case("paper is three", (*PLAIN, PAPER), "paper", (("size", inches("0.003")),)),
    Case("two over", AT_ONE_INCH, "over_under", (("deviation", inches("0.002")),)),
    Case("bang on", AT_ONE_INCH, "over_under", (("deviation", inches(0)),)),
    Case("dial reads forty", (DIAL,), "dial_reads", (("reading", inches("0.040")),)),
    Case("two turns and eleven", (DIAL,), "dial_reads",
         (("reading", inches("0.011")), ("turns", 2))),
    Case("the knee dial reads eleven", (DIAL,), "dial_reads",
         (("axis", "knee"), ("reading", inches("0.011")))),
    Case("one eighty", (SPEED,), "speed_is", (("rate", quantity(180, "rpm")),)),
    Case("feed is two and a quarter", (FEED,), "feed_is",
         (("rate", quantity("2.25", "inch/minute")),)),
    Case("no, forty five", (Expected("correct", PAPER.slots), *PLAIN), "implausible",
         (("size", inches("0.045")),)),
    Case("no, four", (Expected("correct", PAPER.slots), *PLAIN), "correct",
         (("size", inches("0.004")),)),
    Case("no", (Expected("correct", PAPER.slots), *PLAIN), "no"),
    Case("note: Cutter 3 squealed", (Expected("note"), *PLAIN), "note",
         (("text", "Cutter 3 squealed"),)),
    Case("nine three seven five", FREE_NUMBER, "number", (("number", "9375"),)),
    # what the plan foresees settles it
    Case("one fifty", (measured("0.1", "2", "0.150"),), "measured", (("size", inches("0.150")),)),
    Case("one fifty", (measured("0.1", "2", "1.5"),), "measured", (("size", inches("1.50")),)),
    Case("forty", (METRIC_DIAL,), "dial_reads", (("reading", mm("0.40")),)),
    # more than one plausible reading is asked back, the likeliest offered
    Case("one fifty", (measured("0.1", "2"),), "ambiguous", (("size", inches("0.150")),)),
    Case("one fifty", (measured("0.1", "2", "0.5"),), "ambiguous", (("size", inches("1.50")),)),
    Case("forty two", (NO_BAND,), "ambiguous", (("size", inches("0.042")),)),
    # never taken without asking, whatever the band
    Case("two mil", (measured("0", "0.03"),), "ambiguous", (("size", inches("0.002")),)),
    Case("two tenths", (measured("0", "5", unit="mm"),), "ambiguous", (("size", mm("0.2")),)),
    # out of the band is asked back
    Case("measured two and a half", AT_ONE_INCH, "implausible", (("size", inches("2.5")),)),
    Case("six twenty-five", AT_TEN, "implausible", (("size", inches("6.25")),)),
    Case("forty thou", (PAPER,), "implausible", (("size", inches("0.040")),)),
    Case("minus three thou", (PAPER,), "implausible", (("size", inches("-0.003")),)),
    Case("fifty over", AT_ONE_INCH, "implausible", (("deviation", inches("0.050")),)),
    Case("dial reads one forty", (DIAL,), "implausible", (("reading", inches("0.140")),)),
    # phrases of another step
    Case("touched", PLAIN, "not now"),
    Case("measured one point one oh nine", PLAIN, "not now"),
    Case("three thou", (*PLAIN, PAPER), "not now"),
    Case("quit listening", PLAIN, "not now"),
    # no phrase at all
    Case("finished", PLAIN, "unknown"),
    Case("yes no", PLAIN, "unknown"),
    Case("measured", AT_ONE_INCH, "unknown"),
    Case("measured one point", AT_ONE_INCH, "unknown"),
    Case("measured 1.2.3", AT_ONE_INCH, "unknown"),
    Case("measured nan", AT_ONE_INCH, "unknown"),
    Case("measured -1e999", AT_ONE_INCH, "unknown"),
    Case("", PLAIN, "nothing"),
    Case("...", PLAIN, "nothing"),
    Case("yes", (), "not now"),
]  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.words or "silence")
def test_outcomes(book: PhraseBook, case: Case) -> None:
    said = match(book, case.allowed, Heard(case.words))
    if isinstance(said, Understood):
        outcome, intent = said.intent.name, said.intent
    else:
        outcome, intent = said.reason.value, said.candidate or Intent("")
    assert outcome == case.outcome
    assert set(intent.slots) == set(case.slots)
    for name, value in case.slots:
        got = intent[name]
        assert type(got) is type(value)
        if isinstance(value, Quantity):
            assert isinstance(got, Quantity)
            assert isinstance(got.magnitude, Decimal)
            assert magnitude(got, str(value.units)) == value.magnitude  # exactly


def test_a_command_under_its_floor_is_asked_back(book: PhraseBook) -> None:
    for confidence, floor, taken in ((0.59, 0.6, False), (0.6, 0.6, True), (0.0, 0.0, True)):
        said = match(
            book, [Expected("touched", (), floor)], Heard("touched", confidence, engine="vosk")
        )
        if taken:
            assert isinstance(said, Understood)
        else:
            assert isinstance(said, Refused)
            assert said.reason is Reason.UNSURE
            assert said.candidate == Intent("touched")
            assert "0.59" in said.detail


def test_what_is_implausible_is_said_to_be_so_even_where_the_ear_is_unsure(
    book: PhraseBook,
) -> None:
    said = match(book, AT_ONE_INCH, Heard("measured two and a half", 0.1, engine="vosk"))
    assert isinstance(said, Refused)
    assert said.reason is Reason.IMPLAUSIBLE


def test_words_of_an_ear_that_are_no_phrase_are_nothing(book: PhraseBook) -> None:
    said = match(book, PLAIN, Heard("yes no", engine="vosk"))
    assert isinstance(said, Refused)
    assert said.reason is Reason.NOTHING


def test_details_tell_value_and_band(book: PhraseBook) -> None:
    said = match(book, AT_ONE_INCH, Heard("measured two and a half"))
    assert isinstance(said, Refused)
    assert said.detail == "2.5 in is outside 0.9 to 1.3 in"
    said = match(book, [measured("0.1", "2")], Heard("one fifty"))
    assert isinstance(said, Refused)
    assert said.detail == "0.15 in or 1.5 in"
    said = match(book, PLAIN, Heard("touched"))
    assert isinstance(said, Refused)
    assert said.detail == "touched"


def test_bands_may_be_in_another_unit_or_open(book: PhraseBook) -> None:
    in_mm = Expected("measured", (Slot("size", LENGTH, "inch", mm(25), mm(30)),))
    assert isinstance(match(book, [in_mm], Heard("one one oh nine")), Understood)
    assert isinstance(match(book, [in_mm], Heard("two inches")), Refused)
    least = Expected("measured", (Slot("size", LENGTH, "inch", low=inches(1)),))
    said = match(book, [least], Heard("half an inch"))
    assert isinstance(said, Refused)
    assert said.detail == "0.5 in is outside 1 in and up"
    most = Expected("measured", (Slot("size", LENGTH, "inch", high=inches("0.1")),))
    said = match(book, [most], Heard("half an inch"))
    assert isinstance(said, Refused)
    assert said.detail == "0.5 in is outside up to 0.1 in"


def test_a_band_holds_its_own_limits(book: PhraseBook) -> None:
    band = measured("0.9", "1.109")
    assert isinstance(match(book, [band], Heard("one point one oh nine")), Understood)
    assert isinstance(match(book, [band], Heard("point nine")), Understood)
    assert isinstance(match(book, [band], Heard("one point one one")), Refused)


def test_two_sizes_in_a_sum(book: PhraseBook) -> None:
    slots = tuple(Slot(name, LENGTH, "inch", high=inches(2)) for name in ("size", "other"))
    said = match(book, [Expected("sum_add", slots)], Heard("one point five plus three thou"))
    assert isinstance(said, Refused)  # one point five may be a thou and a half
    assert said.candidate == Intent(
        "sum_add", (("size", inches("1.5")), ("other", inches("0.003")))
    )
    said = match(book, [Expected("sum_add", slots)], Heard("add seven eighths and three thou"))
    assert isinstance(said, Understood)
    assert said.intent.size("size") == inches("0.875")


def test_threads_and_drills_by_their_designation(book: PhraseBook) -> None:
    threads = ("1/4-20", "#10-32", "M6x1", "1-1/8-7")
    allowed = [Expected("sum_tap_drill", (Slot("thread", SlotKind.CHOICE, choices=threads),))]
    for words, thread in (
        ("tap drill for quarter twenty", "1/4-20"),
        ("tap drill for a quarter twenty", "1/4-20"),
        ("tap drill for number ten thirty two", "#10-32"),
        ("tap drill for m six", "M6x1"),
        ("tap drill for m six by one", "M6x1"),
        ("tap drill for one and an eighth seven", "1-1/8-7"),
    ):
        said = match(book, allowed, Heard(words))
        assert isinstance(said, Understood), words
        assert said.intent["thread"] == thread
    assert isinstance(match(book, allowed, Heard("tap drill for half thirteen")), Refused)


@given(st.text(max_size=60))
@example("1" * 6000)
@example("1/" + "9" * 5000)
@example("one " * 3000)
@example("\u0663 thou")
@example("no, \x00")
def test_whatever_is_typed_there_is_an_answer_and_no_error(text: str) -> None:
    said = match(BOOK, EVERYTHING, Heard(text))
    if isinstance(said, Understood) and said.intent.name != "note":
        assert compile_grammar(BOOK, EVERYTHING).accepts(normal(in_words(text)).split())


@pytest.mark.parametrize(
    ("candidate", "words", "slot", "value"),
    [
        (PAPER, "no, four", "size", inches("0.004")),
        (DIAL, "no, it's forty", "reading", inches("0.040")),
        (OVER, "no, two under", "deviation", inches("-0.002")),
        (SPEED, "I said one eighty", "rate", quantity(180, "rpm")),
    ],
)
def test_a_correction_holds_what_was_asked(
    book: PhraseBook, candidate: Expected, words: str, slot: str, value: Quantity
) -> None:
    said = match(book, [*PLAIN, Expected("correct", candidate.slots)], Heard(words))
    assert isinstance(said, Understood)
    assert said.intent == Intent("correct", ((slot, value),))

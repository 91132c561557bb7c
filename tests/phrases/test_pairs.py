"""Words that are all but the same in sound: by ear, never taken for each other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import match
from assistant.phrases.opinion import weigh_opinions
from assistant.phrases.pairs import twins
from assistant.spoken import Expected, Heard, Opinion, Reason, Refused, Slot, SlotKind, Understood
from assistant.units import inches, mm, quantity

BOOK = load_book()
ONES = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")


def size(low: str, high: str, unit: str = "inch") -> list[Expected]:
    slot = Slot("size", SlotKind.LENGTH, unit, quantity(low, unit), quantity(high, unit))
    return [Expected("measured", (slot,), 0.6)]


def by_ear(
    words: str,
    allowed: list[Expected],
    other: str = "",
    other_sure: float = 0.99,
    **more: object,
) -> Understood | Refused:
    """As both ears heard it, both of them sure."""
    opinion = Opinion(other or words, other_sure, "vosk")
    heard = Heard(words, 0.99, engine="moonshine", opinion=opinion, **more)  # type: ignore[arg-type]
    return weigh_opinions(BOOK, allowed, match(BOOK, allowed, heard))


@given(
    st.sampled_from(ONES),
    st.sampled_from((("ten", "tenth"), ("thousand", "thousandth"))),
    st.booleans(),
    st.sampled_from((("0", "0.03"), ("0.1", "0.3"), ("0.9", "1.2"), ("0", "10"))),
)
def test_no_ear_is_sure_of_ten_and_tenth(one, pair, turned: bool, band) -> None:
    words = f"measured {one} {pair[turned]}"
    said = by_ear(words, size(*band))
    assert isinstance(said, Refused), words
    assert said.candidate is not None
    typed = match(BOOK, size("0", "10"), Heard(words))
    # "one ten" may be 0.110 and 1.10, which is asked of whoever types it
    assert isinstance(typed, Understood) or typed.reason is Reason.AMBIGUOUS


def test_ten_and_tenth_are_both_named_the_likely_one_first() -> None:
    said = by_ear("measured one tenth", size("0.1", "0.3"))
    assert isinstance(said, Refused)
    assert said.reason is Reason.SCALE
    assert said.candidate is not None
    assert said.otherwise is not None
    assert said.candidate.size("size") == inches("0.110")
    assert said.otherwise.size("size") == inches("0.0001")


@pytest.mark.parametrize(
    "words", ["a tenth", "a hundred and ten thou", "ten thou", "three tenths", "half a tenth",
              "one thou", "a thou", "forty thou", "five hundred thou"],
)  # fmt: skip
def test_what_has_no_twin_is_taken(words: str) -> None:
    assert isinstance(by_ear(f"measured {words}", size("0", "0.9")), Understood)


def test_one_thousand_is_an_inch_and_heard_as_a_thou_it_is_asked() -> None:
    typed = match(BOOK, size("0.9", "1.1"), Heard("measured one thousand"))
    assert isinstance(typed, Understood)
    said = by_ear("measured one thou", size("0.9", "1.1"))
    assert isinstance(said, Refused)
    assert said.candidate is not None
    assert said.candidate.size("size") == inches("1.000")


@pytest.mark.parametrize(
    ("words", "other"),
    [("fifteen thou", "fifty thou"), ("sixty thou", "sixteen thou"), ("two tenths", "two ten")],
)  # fmt: skip
def test_a_pair_is_asked_about_where_either_ear_heard_the_other(words: str, other: str) -> None:
    allowed = size("0", "2.5")
    words, other = f"measured {words}", f"measured {other}"
    assert isinstance(by_ear(words, allowed), Understood)
    assert isinstance(by_ear(words, allowed, other), Refused)
    near, far = ((other, 0.1),), ((other, 0.01),)
    assert isinstance(by_ear(words, allowed, other_sure=0.5, others=near), Refused)
    assert isinstance(by_ear(words, allowed, other_sure=0.5, others=far), Understood)
    assert isinstance(by_ear(words, allowed, others=near), Understood)  # the second ear is sure


@pytest.mark.parametrize("first", ["five thou", "five thousandth"])
def test_what_the_second_ear_hears_as_thousandth_may_be_thousand(first: str) -> None:
    allowed = size("0", "0.03")
    assert not compile_grammar(BOOK, allowed).accepts(["measured", "five", "thousand"])
    said = by_ear(f"measured {first}", allowed, "measured five thousandth")
    assert isinstance(said, Refused)
    assert said.candidate is not None
    assert said.otherwise is not None
    assert said.candidate.size("size") == inches("0.005")
    assert said.otherwise.size("size") == inches("5")
    plural = by_ear("measured five thou", allowed, "measured five thousandths")
    assert isinstance(plural, Understood)


def test_hundred_and_hundredth_on_a_metric_machine() -> None:
    said = by_ear("measured five hundredth", size("0", "1", "mm"))
    assert isinstance(said, Refused)
    assert said.otherwise is not None
    assert said.otherwise.size("size") == mm(500)
    assert isinstance(by_ear("measured five hundredths", size("0", "1", "mm")), Understood)


def test_twins_go_both_ways() -> None:
    for words in ("fifteen", "one ten", "a thou", "two hundredths"):
        for twin, _ in twins(words):
            assert words in [back for back, _ in twins(twin)]
    assert not list(twins("touched"))


@pytest.mark.parametrize(
    ("free", "taken"),
    [("Yes.", True), ("Yeah", True), ("", True), ("Less.", False), ("There.", False),
     ("Yes, sir, day.", False), ("No.", False)],
)  # fmt: skip
def test_a_yes_that_was_only_nearest_is_asked_again(free: str, taken: bool) -> None:
    for sure in (0.99, 0.6):
        opinion = Opinion("yes", 1.0, "vosk")
        heard = Heard("yes", sure, engine="moonshine", opinion=opinion, free=free)
        assert isinstance(weigh_opinions(BOOK, YES, match(BOOK, YES, heard)), Understood) == taken
        plain = [Expected("yes"), Expected("no")]  # a check is done: nothing hangs on it
        assert isinstance(weigh_opinions(BOOK, plain, match(BOOK, plain, heard)), Understood)


YES = [Expected("yes", (), 0.8), Expected("no")]


@pytest.mark.parametrize(
    ("sure", "other", "other_sure", "taken"),
    [
        (0.85, "yes", 0.9, True),
        (0.6, "yes", 0.9, True),  # both ears agree
        (0.6, "yeah", 0.9, True),
        (0.6, "", 0.0, False),
        (0.6, "no", 0.9, False),
        (0.9, "no", 0.9, False),
        (0.3, "yes", 0.9, False),
        (0.99, "no", 0.9, True),  # as sure as it gets
    ],
)
def test_a_yes_to_a_number_wants_a_sure_ear_or_both(
    sure: float, other: str, other_sure: float, taken: bool
) -> None:
    heard = Heard("yes", sure, engine="moonshine", opinion=Opinion(other, other_sure, "vosk"))
    said = weigh_opinions(BOOK, YES, match(BOOK, YES, heard))
    assert isinstance(said, Understood) == taken

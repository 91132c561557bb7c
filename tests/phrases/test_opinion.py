"""What a second ear's opinion, and a plausible runner-up, make of a number."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.phrases.book import load_book
from assistant.phrases.matcher import match
from assistant.phrases.opinion import weigh_opinions
from assistant.spoken import (
    Expected,
    Heard,
    Intent,
    Opinion,
    Reason,
    Refused,
    Slot,
    SlotKind,
    Understood,
)
from assistant.units import inches, magnitude

BOOK = load_book()
SIZE = Slot("size", SlotKind.LENGTH, "inch", inches("1.4"), inches("1.7"))
ALLOWED = (
    Expected("measured", (SIZE,), 0.6),
    Expected("touched"),
    Expected("say_again"),
)
SAID = "measured one point six seven two"


def weighed(heard: Heard) -> Understood | Refused:
    return weigh_opinions(BOOK, ALLOWED, match(BOOK, ALLOWED, heard))


def heard(
    words: str,
    other: str | None = None,
    sure: float = 0.75,
    other_sure: float = 0.9,
    better: bool = False,
    **more: object,
) -> Heard:
    opinion = None if other is None else Opinion(other, other_sure, "vosk", better)
    return Heard(words, sure, engine="moonshine", opinion=opinion, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "other",
    [
        SAID,
        "measured one six seven two",  # other words for the same size
        "one point six seven two",
        None,
    ],
)
def test_the_same_number_is_taken(other: str | None) -> None:
    assert isinstance(weighed(heard(SAID, other)), Understood)


@pytest.mark.parametrize(
    ("other", "sure", "other_sure", "taken"),
    [
        (SAID, 0.45, 0.6, True),
        ("measured one six seven two", 0.45, 0.6, True),
        (SAID, 0.39, 0.9, False),  # too doubtful, whoever agrees
        (SAID, 0.55, 0.49, False),  # the second isn't sure either
        ("measured one point six seven three", 0.55, 0.9, False),
        ("", 0.55, 0.9, False),
        (None, 0.55, 0.9, False),
    ],
)
def test_a_doubtful_number_is_taken_where_both_heard_it(
    other: str | None, sure: float, other_sure: float, taken: bool
) -> None:
    said = weighed(heard(SAID, other, sure=sure, other_sure=other_sure))
    assert isinstance(said, Understood) == taken
    intent = said.intent if isinstance(said, Understood) else said.candidate
    assert intent is not None
    assert magnitude(intent.size("size"), "inch") == Decimal("1.672")


def test_agreement_makes_no_size_plausible_and_no_command_sure() -> None:
    too_large = "measured two point six seven two"
    said = weighed(heard(too_large, too_large, sure=0.55))
    assert isinstance(said, Refused)
    assert said.reason is Reason.IMPLAUSIBLE
    plain = weighed(heard("touched", "touched", sure=0.45))
    assert isinstance(plain, Refused)


@pytest.mark.parametrize(
    "other", ["measured one point six seven three", "measured one point six two", "touched", ""]
)
def test_another_number_is_asked_back(other: str) -> None:
    said = weighed(heard(SAID, other))
    assert isinstance(said, Refused)
    assert said.reason is Reason.UNSURE
    assert said.candidate is not None
    assert magnitude(said.candidate.size("size"), "inch") == Decimal("1.672")
    assert (other or "nothing") in said.detail


@pytest.mark.parametrize(
    ("sure", "other_sure", "better", "taken"),
    [
        (0.79, 0.1, False, False),  # the first ear doubts: any difference counts
        (0.81, 0.6, False, True),
        (0.81, 0.8, False, False),  # the second is sure
        (0.96, 0.8, False, False),
        (0.98, 1.0, False, True),  # the first is as sure as it gets
        (0.98, 0.3, True, False),  # the second is the better ear
    ],
)
def test_how_sure_both_are_decides(
    sure: float, other_sure: float, better: bool, taken: bool
) -> None:
    other = "measured one point six seven three"
    said = weighed(heard(SAID, other, sure, other_sure, better))
    assert isinstance(said, Understood) == taken
    assert isinstance(weighed(heard(SAID, SAID, sure, other_sure, better)), Understood)


def test_a_second_ear_that_heard_nothing_counts_for_little() -> None:
    assert isinstance(weighed(heard(SAID, "", 0.81, 0.0)), Understood)
    assert isinstance(weighed(heard(SAID, "", 0.98, 0.0, better=True)), Refused)


def test_commands_without_a_number_are_none_of_its_business() -> None:
    assert isinstance(weighed(heard("touched", "say again")), Understood)


def test_of_a_number_that_cannot_be_the_plausible_runner_up_is_asked() -> None:
    others = (("measured nine point six seven two", 0.3), (SAID, 0.2))
    said = weighed(heard("measured two point six seven two", others=others))
    assert isinstance(said, Refused)
    assert said.reason is Reason.IMPLAUSIBLE
    assert said.candidate is not None
    assert magnitude(said.candidate.size("size"), "inch") == Decimal("1.672")
    assert "2.672" in said.detail
    assert SAID in said.detail


def test_a_far_off_runner_up_is_not_put_into_the_operators_mouth() -> None:
    said = weighed(heard("measured two point six seven two", others=((SAID, 0.01),)))
    assert isinstance(said, Refused)
    assert said.candidate is not None
    assert magnitude(said.candidate.size("size"), "inch") == Decimal("2.672")


def test_nor_is_a_command_of_another_kind() -> None:
    said = weighed(heard("measured two point six seven two", others=(("touched", 0.5),)))
    assert isinstance(said, Refused)
    assert said.candidate is not None
    assert magnitude(said.candidate.size("size"), "inch") == Decimal("2.672")


def test_the_second_ear_may_name_the_plausible_number() -> None:
    said = weighed(heard("measured two point six seven two", SAID))
    assert isinstance(said, Refused)
    assert said.candidate is not None
    assert magnitude(said.candidate.size("size"), "inch") == Decimal("1.672")


def test_a_number_may_stand_in_a_designation() -> None:
    assert Intent("sum_tap_drill", (("thread", "1/4-20"),)).has_number
    assert Intent("measured", (("size", inches("1")),)).has_number
    assert not Intent("dial_should", (("axis", "knee"),)).has_number
    assert not Intent("touched").has_number

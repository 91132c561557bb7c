"""A number that may mean ten times as much, or as little, is asked about: never taken for the one
that is likely when what was said is not."""

from __future__ import annotations

import random
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.phrases.book import load_book
from assistant.phrases.expression import Choice, Meaning, Node, Run, Typed, Word
from assistant.phrases.matcher import match
from assistant.phrases.numbers import number_phrase, read_number
from assistant.phrases.saying import say_apart, say_plain
from assistant.spoken import Expected, Heard, Reason, Refused, Slot, SlotKind, Understood
from assistant.units import inches, magnitude, mm, quantity

BOOK = load_book()
FIGURES = ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
SCALES = tuple(Decimal(10) ** power for power in (-3, -2, -1, 1, 2, 3))


def one_by_one(figures: str) -> str:
    return " ".join(FIGURES[int(figure)] for figure in figures)


def ways_to_say(thou_or_hundredths: int, unit: str) -> list[str]:
    """How a shop says so many thou, or hundredths of a millimetre, below an inch or ten of them;
    made here, without the program's own words."""
    places = 3 if unit == "inch" else 2
    figures = f"{thou_or_hundredths:0{places + 1}d}"
    whole, part = figures[:-places], figures[-places:]
    ways = [f"point {one_by_one(part)}"] if not int(whole) else []
    before = say_plain(Decimal(whole)) if int(whole) else "oh"
    ways.append(f"{before} point {one_by_one(part)}")
    if unit == "inch" and not int(whole):
        ways.append(f"{say_plain(Decimal(int(part)))} thou")
        if part[0] == "0":
            ways.append(one_by_one(part))  # oh oh three
    if unit == "mm" and not int(whole):
        ways.append(one_by_one(f"0{part}"))  # oh oh five
    return ways


def slot_around(kind: SlotKind, unit: str, value: Decimal) -> Slot:
    low, high = (quantity(value * share, unit) for share in (Decimal("0.8"), Decimal("1.25")))
    return Slot("size", kind, unit, low, high)


@given(st.integers(1, 9_999), st.sampled_from(("inch", "mm")), st.sampled_from(SCALES))
@example(3, "inch", Decimal(10))
@example(5, "mm", Decimal(10))
def test_what_was_said_is_never_taken_ten_times_off(n: int, unit: str, scale: Decimal) -> None:
    said = Decimal(n) / (1000 if unit == "inch" else 100)
    expected = Expected("measured", (slot_around(SlotKind.LENGTH, unit, said * scale),))
    for way in ways_to_say(n, unit):
        taken = match(BOOK, [expected], Heard(f"measured {way}", engine="moonshine"))
        assert isinstance(taken, Refused), f"{way} was taken as {taken}"
        plain = match(
            BOOK,
            [Expected("measured", (slot_around(SlotKind.LENGTH, unit, said),))],
            Heard(f"measured {way}"),
        )
        assert isinstance(plain, Understood), f"{way}: {plain}"
        assert magnitude(plain.intent.size("size"), unit) == said


def a_sentence(node: Node, rng: random.Random) -> str:
    """Some words that a tree reads."""
    match node:
        case Word(text=text):
            return text
        case Run(parts=parts):
            return " ".join(filter(None, (a_sentence(part, rng) for part in parts)))
        case Choice(options=options):
            return a_sentence(rng.choice(options), rng)
        case Meaning(body=body) | Typed(body=body):
            return a_sentence(body, rng)
    raise TypeError(node)


KINDS = {
    SlotKind.LENGTH: ("measured", "size", "measured {}"),
    SlotKind.READING: ("dial_reads", "reading", "dial reads {}"),
    SlotKind.DEVIATION: ("over_under", "deviation", "{}"),
}


@st.composite
def something_said(draw: st.DrawFn) -> tuple[str, SlotKind, str]:
    """A number in words, of some kind, at an inch or a metric machine."""
    kind, unit = draw(st.sampled_from(list(KINDS))), draw(st.sampled_from(("inch", "mm")))
    rng = random.Random(draw(st.integers(0, 1_000_000)))
    return a_sentence(number_phrase(kind, unit), rng), kind, unit


@given(something_said(), st.integers(0, 5))
@example(("point one", SlotKind.LENGTH, "inch"), 1)
@example(("half under", SlotKind.DEVIATION, "mm"), 1)
@example(("oh oh five", SlotKind.LENGTH, "mm"), 1)
def test_whatever_is_taken_is_in_its_band_and_so_is_what_was_plainly_said(
    number: tuple[str, SlotKind, str], which: int
) -> None:
    said, kind, unit = number
    readings = read_number(said, kind, unit)
    assert readings, said
    aim = abs(magnitude(readings[which % len(readings)].quantity, unit))
    name, slot_name, form = KINDS[kind]
    low = -aim if kind is SlotKind.DEVIATION else aim / 2
    slot = Slot(slot_name, kind, unit, quantity(low, unit), quantity(aim, unit))
    taken = match(BOOK, [Expected(name, (slot,))], Heard(form.format(said)))
    if not isinstance(taken, Understood):
        return

    def inside(value: Decimal) -> bool:
        return low <= value <= aim

    assert inside(magnitude(taken.intent.size(slot_name), unit))
    assert any(inside(magnitude(each.quantity, unit)) for each in readings if each.plain)
    assert not any(each.doubtful for each in readings if inside(magnitude(each.quantity, unit)))


@pytest.mark.parametrize(
    ("said", "slot", "one", "other"),
    [
        ("three", ("inch", "2", "4"), "3 inch", "0.003 inch"),
        ("one fifty", ("inch", "0.1", "2"), "0.150 inch", "1.50 inch"),
        ("two mil", ("inch", "0", "0.03"), "0.002 inch", "2 mm"),
        ("point three", ("inch", "0", "0.03"), "0.0003 inch", "0.3 inch"),
    ],
)
def test_both_are_named(said: str, slot: tuple[str, str, str], one: str, other: str) -> None:
    unit, low, high = slot
    expected = Expected(
        "measured",
        (Slot("size", SlotKind.LENGTH, unit, quantity(low, unit), quantity(high, unit)),),
    )
    asked = match(BOOK, [expected], Heard(f"measured {said}"))
    assert isinstance(asked, Refused)
    assert asked.candidate is not None
    assert asked.otherwise is not None
    for intent, value in ((asked.candidate, one), (asked.otherwise, other)):
        number, its_unit = value.split()
        assert magnitude(intent.size("size"), its_unit) == Decimal(number)


sizes = st.one_of(
    st.integers(1, 99_9999).map(lambda n: inches(Decimal(n) / 10_000)),
    st.integers(1, 999_999).map(lambda n: mm(Decimal(n) / 1000)),
)


@given(sizes, st.sampled_from(("inch", "mm")))
@example(inches("0.150"), "inch")
@example(inches("0.0002"), "mm")
@example(mm("0.05"), "mm")
def test_what_is_said_apart_can_be_said_back_and_means_one_thing(size, unit: str) -> None:
    readings = read_number(say_apart(size, unit), SlotKind.LENGTH, unit)
    assert [each.quantity for each in readings] == [size], say_apart(size, unit)
    assert not readings[0].doubtful


@given(st.integers(1, 99_999).map(lambda n: inches(Decimal(n) / 10_000)))
def test_so_it_can_on_a_dial(size) -> None:
    words = say_apart(size, "inch")
    readings = read_number(words, SlotKind.READING, "inch")
    if not words.endswith("inches") and "tenth" not in words:
        assert [each.quantity for each in readings] == [size], words


figures_with_places = st.tuples(st.integers(0, 9999), st.integers(1, 3)).map(
    lambda pair: f"{Decimal(pair[0]) / 10 ** pair[1]:.{pair[1]}f}"
)


@given(figures_with_places)
@example("0.05")
@example("1.200")
def test_a_decimal_comma_is_a_decimal_point_in_millimetres_or_refused(figures: str) -> None:
    metric = [Expected("measured", (Slot("size", SlotKind.LENGTH, "mm"),))]
    inch = [Expected("measured", (Slot("size", SlotKind.LENGTH, "inch"),))]
    comma = figures.replace(".", ",")
    assert _meant(metric, comma) == _meant(metric, figures)
    assert _meant(inch, f"{comma} mm") == _meant(inch, f"{figures} mm")
    refused = match(BOOK, inch, Heard(f"measured {comma}"))
    assert isinstance(refused, Refused)
    assert refused.reason is Reason.COMMA


def _meant(allowed: list[Expected], figures: str) -> object:
    said = match(BOOK, allowed, Heard(f"measured {figures}"))
    meant = said.intent if isinstance(said, Understood) else said.candidate
    assert meant is not None, figures
    return meant


@pytest.mark.parametrize("unit", ["inch", "mm"])
@pytest.mark.parametrize("figures", ["1.234,5", "1,234.5", "1,2,3", "1.23,4", ",", "0,,5"])
def test_commas_that_are_no_decimal_points_are_refused(figures: str, unit: str) -> None:
    allowed = [Expected("measured", (Slot("size", SlotKind.LENGTH, unit),))]
    assert isinstance(match(BOOK, allowed, Heard(f"measured {figures}")), Refused)


def test_a_speed_with_a_comma_is_refused_and_a_note_is_kept() -> None:
    speed = [Expected("speed_is", (Slot("rate", SlotKind.RATE, "rpm"),)), Expected("note")]
    said = match(BOOK, speed, Heard("speed is 1,200"))
    assert isinstance(said, Refused)
    assert said.reason is Reason.COMMA
    assert isinstance(match(BOOK, speed, Heard("note: 0,5 off on the left, 1,2,3")), Understood)
    assert isinstance(
        match(BOOK, [Expected("correct", (Slot("size", SlotKind.LENGTH, "inch"),))],
              Heard("no,4 thou")), Understood,
    )  # fmt: skip

"""Numbers read off a plate one after another: what is odd about the next one. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from assistant.jobs.field import Each
from assistant.phrases import saying
from assistant.phrases.numbers import read_number
from assistant.phrases.pairs import twins
from assistant.present.numbers import number_words
from assistant.spoken import SlotKind
from assistant.units import quantity

LONG_STEP = 5
"""A step by this factor or more is asked about: plates go by a quarter to twice, and a figure too
many or too few makes ten. Common practice, no source."""
HIGH_FOR_SLOWEST = Decimal(1000)
"""A slowest speed from here on is asked about where its words may be two numbers."""


@dataclass(frozen=True)
class Odd:
    """Why a number isn't simply taken."""

    ask: str
    """The question, which yes or no answers."""
    instead: tuple[Decimal, ...] = ()
    """What yes takes, where that isn't the number itself."""


def words_of(value: Decimal, each: Each) -> str:
    """One number, as it is read back: `ninety-five`, `two thou a turn`."""
    if each.unit == "inch/turn":
        return number_words(quantity(value, each.unit))
    return saying.say_rate(value) if each.unit else saying.say_plain(value)


def row_words(row: Sequence[Decimal], each: Each) -> str:
    """A whole row: how many, and from where to where."""
    ends = (words_of(one, each) for one in (row[0], row[-1]))
    if len(row) == 1:
        return next(ends)
    return f"{saying.say_plain(Decimal(len(row)))}, from {' to '.join(ends)}"


def odd(row: Sequence[Decimal], value: Decimal, each: Each, words: str = "") -> Odd | None:
    """What is odd about `value` after `row`; `words` are those it was heard in, '' where it was
    typed, which nobody mishears."""
    named = words_of(value, each)
    named = f"{named[:1].upper()}{named[1:]}"
    if not each.low <= value <= each.high:
        ends = " to ".join(words_of(one, each) for one in (each.low, each.high))
        return Odd(f"{named}? {ends[:1].upper()}{ends[1:]} is usual. Is it right?")
    two = _two_numbers(row, each, words)
    if not row:
        if two and value >= HIGH_FOR_SLOWEST:
            return _as_two(two, each)
        return None
    last = row[-1]
    rising = len(row) == 1 or row[1] > row[0]
    if (value > last) != rising:
        way = "rise" if rising else "fall"
        return Odd(f"{named} after {words_of(last, each)} doesn't {way}. Is it right?")
    if not _near(last, value):
        if two:
            return _as_two(two, each)
        return Odd(f"{named} after {words_of(last, each)} is a long step. Is it right?")
    for other in _misheard(words, each):
        fits = other != value and (other > last) == rising and _near(last, other)
        if fits and _off_the_steps(row, other) <= _off_the_steps(row, value):
            return Odd(f"{named}, not {words_of(other, each)}?")
    return None


def _off_the_steps(row: Sequence[Decimal], value: Decimal) -> Decimal:
    """By what factor a number is off the step before it, 1 or more: the steps of a plate are much
    alike. 1 where there is no step yet."""
    if len(row) < 2:
        return Decimal(1)
    next_by_steps = row[-1] * row[-1] / row[-2]
    return max(value, next_by_steps) / min(value, next_by_steps)


def _near(one: Decimal, other: Decimal) -> bool:
    return max(one, other) < LONG_STEP * min(one, other)


def _read(words: str, each: Each) -> Iterator[Decimal]:
    kind = SlotKind.RATE if each.unit else SlotKind.COUNT
    for reading in read_number(words, kind, each.unit or "inch"):
        yield reading.value


def _misheard(words: str, each: Each) -> Iterator[Decimal]:
    for other, _ in twins(words):
        yield from _read(other, each)


def _two_numbers(row: Sequence[Decimal], each: Each, words: str) -> tuple[Decimal, ...]:
    """The words as two numbers that go on the row: `sixty ninety five` is heard as 6095."""
    said = words.split()
    for place in range(1, len(said)):
        for one in _read(" ".join(said[:place]), each):
            for other in _read(" ".join(said[place:]), each):
                after = [*row[-1:], one, other]
                steps = pairwise(after)
                if all(low < high and _near(low, high) for low, high in steps):
                    return one, other
    return ()


def _as_two(two: tuple[Decimal, ...], each: Each) -> Odd:
    one, other = (words_of(value, each) for value in two)
    return Odd(f"{one[:1].upper()}{one[1:]}, and then {other}?", two)

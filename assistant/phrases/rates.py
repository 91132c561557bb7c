"""Speeds and feeds, angles, counts, and a free number."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from assistant.phrases.expression import Choice, Meaning, Node, Word, either, maybe, run, table
from assistant.phrases.fractions import (
    and_quarters,
    inch_dial_point,
    mm_point,
    quarters,
    rule_fraction,
)
from assistant.phrases.integers import (
    below_hundred,
    four_figures,
    hundreds,
    three_figures,
    two_figures,
    whole,
    zero,
)
from assistant.phrases.lengths import THOU, inch_length, thou_number
from assistant.phrases.reading import Reading
from assistant.phrases.words import ONES, TEENS, TENS, ZEROS

thousands = Meaning(
    run(
        Choice((below_hundred, Word("a", (1,)))),
        "thousand",
        maybe(maybe("and"), Choice((below_hundred, hundreds))),
    ),
    lambda thousand, rest=0: 1000 * thousand + rest,
)
teen_hundreds = Meaning(
    run(two_figures, "hundred", maybe(maybe("and"), below_hundred)),
    lambda hundred, rest=0: 100 * hundred + rest,
)
"""Twelve hundred, fifteen hundred and fifty."""
speed_number = Choice((whole, three_figures, four_figures, thousands, teen_hundreds))
"""A speed as it stands on a gearbox: `one eighty`, `twelve hundred`, `two thousand`."""
feed_number = Choice((whole, mm_point, and_quarters, rule_fraction))

_a = either("a", "per")
_RATE_WORDS: dict[str, Node] = {
    "rpm": either("rpm", "revs", run(either("revs", "turns"), _a, "minute")),
    "inch/minute": either(run(either("inches", "inch"), _a, "minute")),
    "mm/minute": either(run("millimeters", _a, "minute")),
    "inch/turn": run(_a, either("turn", "rev")),
    "mm/turn": run(maybe("millimeters"), _a, either("turn", "rev")),
    "foot/minute": either("feet", run("feet", _a, "minute")),
    "m/minute": either("meters", run("meters", _a, "minute")),
}


def rate(unit: str) -> Node:
    """A speed or feed in `unit`, with or without the unit said.

    A feed a turn on an inch machine is in thou (`three thou a turn`) or with a point.
    """
    unit_words = maybe(_RATE_WORDS[unit]) if unit in _RATE_WORDS else maybe(Word(unit))

    def reading(number: object) -> Reading:
        return Reading(Decimal(str(number)), unit, "rate")

    if unit == "inch/turn":
        thou = Meaning(
            run(thou_number, maybe(either("thou", "thousandths")), unit_words),
            lambda number: Reading(Decimal(str(number)) * THOU, unit, "thou a turn"),
        )
        return Choice((thou, Meaning(run(inch_dial_point, unit_words), reading)))
    numbers = speed_number if unit in ("rpm", "foot/minute", "m/minute") else feed_number
    return Meaning(run(numbers, unit_words), reading)


def _angle(unit: str, scale: int, node: Node) -> Node:
    return Meaning(node, lambda number: Reading(Decimal(str(number)) * scale, unit, "degrees"))


_degrees = either("degrees", "degree")
angle = Choice(
    (
        _angle(
            "degree", 1, run(Choice((whole, mm_point, and_quarters, Meaning(zero, int))),
                             maybe(_degrees))
        ),
        _angle(
            "degree",
            1,
            Meaning(
                run(below_hundred, _degrees, "and", quarters),
                lambda number, part: Decimal(number) + part,
            ),
        ),
        _angle(
            "arcminute",
            1,
            Meaning(
                run(whole, _degrees, maybe("and"), below_hundred, either("minutes", "minute")),
                lambda degrees, minutes: 60 * degrees + minutes,
            ),
        ),
        _angle("degree", 1, run(quarters, maybe(maybe("of"), "a"), "degree")),
    )
)  # fmt: skip
"""Degrees, with a part or minutes: `twenty nine and a half degrees`."""

count = Meaning(
    Choice((whole, Meaning(zero, int), Word("none", (0,)))),
    lambda number: Reading(Decimal(number), "", "count"),
)
"""A whole number from 0 to 999: `a hundred and twenty`, `one twenty`."""

LONGEST_FREE_NUMBER = 12
_figure = Choice(
    (
        table({word: str(value) for word, value in (ZEROS | ONES | TEENS).items()}),
        Meaning(run(table(TENS), maybe(table(ONES))), lambda tens, one=0: str(tens + one)),
        Word("hundred", ("00",)),
        Word("thousand", ("000",)),
        Word("point", (".",)),
    )
)


def _run_of_figures(longest: int) -> Node:
    following: Node = run()
    for _ in range(longest - 1):
        following = maybe(_figure, following)
    return run(_figure, following)


free_number = Choice(
    (
        Meaning(
            _run_of_figures(LONGEST_FREE_NUMBER),
            lambda *figures: Reading(Decimal(0), "", "figures", text="".join(figures)),
        ),
        Meaning(inch_length, lambda size: replace(size, text=f"{size.value} {size.unit}")),
    )
)
"""Any string of figures, or any size: for listening to numbers alone."""

"""Whole numbers and strings of figures, as trees that stand for their value."""

from __future__ import annotations

from assistant.phrases.expression import Choice, Meaning, Node, Word, either, maybe, run, table
from assistant.phrases.words import ONES, TEENS, TENS, ZEROS

ones = table(ONES)
two_figures = Choice(
    (
        table(TEENS),
        Meaning(run(table(TENS), maybe(ones)), lambda tens, unit=0: tens + unit),
    )
)
"""10 to 99: `forty two`."""
below_hundred = Choice((ones, two_figures))
"""1 to 99."""
hundreds = Meaning(
    run(
        Choice((ones, Word("a", (1,)))),
        "hundred",
        maybe(maybe("and"), below_hundred),
    ),
    lambda hundred, rest=0: 100 * hundred + rest,
)
"""100 to 999, said in full: `a hundred and forty two`."""
pair = Meaning(run(ones, two_figures), lambda hundred, rest: 100 * hundred + rest)
"""Three figures, as a shop says them: `six twenty five`, 625."""
zero = table(ZEROS)

digit = Meaning(Choice((table(ZEROS), ones)), str)
"""One figure, as text, so that leading zeros keep their place."""


def _text(*figures: object) -> str:
    return "".join(str(figure) for figure in figures)


def digits(count: int) -> Node:
    """`count` figures said one by one: `nine three seven five`."""
    return Meaning(run(*[digit] * count), _text)


def _begun_with(first: Node, count: int) -> Node:
    """`first`, and figures up to `count` of them."""
    return Meaning(run(first, *[digit] * (count - 1)), _text)


_zero_figure, _one_figure = Meaning(zero, str), Meaning(ones, str)
three_from_zero = _begun_with(_zero_figure, 3)
four_from_zero = Choice(
    (_begun_with(_zero_figure, 4), Meaning(run(_zero_figure, digit, two_figures), _text))
)
"""Figures begun with a nought, behind which the point was left out: `oh oh five`."""
three_from_one = _begun_with(_one_figure, 3)
three_figures = digits(3)
four_from_one = Choice(
    (
        _begun_with(_one_figure, 4),
        Meaning(run(_one_figure, digit, two_figures), _text),  # nine three seventy five
        Meaning(run(two_figures, two_figures), _text),  # sixteen sixty six
        Meaning(run(two_figures, zero, ones), _text),  # eleven oh nine
    )
)
four_figures = Choice((four_from_one, four_from_zero))
five_figures = digits(5)
whole = Choice((below_hundred, hundreds, pair))
"""1 to 999, in full or as a pair."""

_three_places: tuple[Node, ...] = (
    digits(1),
    digits(2),
    digits(3),
    Meaning(two_figures, _text),  # point seventy five
    Meaning(run(zero, two_figures), _text),  # point oh forty two
    Meaning(run(ones, two_figures), _text),  # point six twenty five
)
three_places = Choice(_three_places)
"""What is said after a point on a metric machine: a micrometre at the finest."""
four_places = Choice(
    (
        *_three_places,
        digits(4),
        Meaning(run(digit, digit, two_figures), _text),  # point nine three seventy five
        Meaning(
            run(
                either(digits(3), Meaning(run(either(zero, ones), two_figures), _text)),
                "and a half",
            ),
            lambda figures: figures + "5",
        ),  # point one forty and a half: .1405
    )
)
"""What is said after a point on an inch machine: a tenth of a thou at the finest."""

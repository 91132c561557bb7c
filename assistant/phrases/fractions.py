"""Halves, quarters and the fractions of a rule; numbers with a point."""

from __future__ import annotations

from decimal import Decimal

from assistant.phrases.expression import Choice, Meaning, Node, Word, either, maybe, run
from assistant.phrases.integers import (
    below_hundred,
    digits,
    four_places,
    three_places,
    whole,
    zero,
)
from assistant.phrases.words import DENOMINATORS, ONES, TEENS, TENS

HALF, QUARTER, THREE_QUARTERS = Decimal("0.5"), Decimal("0.25"), Decimal("0.75")


def _numerators() -> dict[int, str]:
    """The odd numbers below 64 in words: the numerators of fractions in lowest terms."""
    words = {value: word for word, value in (ONES | TEENS).items()}
    for ten, tens in TENS.items():
        words |= {tens + unit: f"{ten} {one}" for one, unit in ONES.items()}
    return {value: words[value] for value in sorted(words) if value % 2 and value < 64}


def _rule_fractions(denominators: dict[str, int]) -> Node:
    options: list[Node] = []
    for name, parts in denominators.items():
        for numerator, words in _numerators().items():
            if numerator >= parts:
                break
            value = Decimal(numerator) / parts  # parts is a power of two: exact
            if numerator == 1:
                article = "an" if name == "eighth" else "a"
                options.append(_worth(f"{article} {name}", value))
                options.append(_worth(f"one {name}", value))
            else:
                options.append(_worth(f"{words} {name}s", value))
    return Choice(tuple(options))


def _worth(text: str, value: Decimal) -> Node:
    *before, last = text.split()
    return run(*before, Word(last, (value,)))


quarters = Choice(
    (_worth("a half", HALF), _worth("a quarter", QUARTER), _worth("three quarters", THREE_QUARTERS))
)
"""What follows `and`: a half, a quarter, three quarters."""
small_part = Choice((Word("half", (HALF,)), quarters, Word("quarter", (QUARTER,))))
"""A part of one that stands alone before its unit: `half a thou`, `a quarter turn`."""
eighths_and_finer = _rule_fractions({n: d for n, d in DENOMINATORS.items() if d > 4})
"""An eighth to sixty three sixty fourths: inches, whatever the machine."""
rule_fraction = Choice(
    (
        small_part,
        _worth("one quarter", QUARTER),
        _worth("three fourths", THREE_QUARTERS),
        eighths_and_finer,
    )
)
"""Every fraction of an inch on a rule."""

and_quarters = Meaning(
    run(below_hundred, "and", quarters), lambda number, part: Decimal(number) + part
)
"""Two and a half, one and three quarters."""
and_fraction = Meaning(
    run(below_hundred, "and", eighths_and_finer), lambda number, part: Decimal(number) + part
)
"""One and three eighths."""
and_part = run("and", Choice((quarters, eighths_and_finer)))


def _point(*parts: object) -> Decimal:
    before, after = parts if len(parts) == 2 else (0, parts[0])
    return Decimal(f"{before}.{after}")


def _with_point(before: Node, after: Node) -> Node:
    return Meaning(run(before, "point", after), _point)


inch_point = _with_point(maybe(Choice((zero, below_hundred))), four_places)
"""Inches with a point: `one point one oh nine`, `point six twenty five`."""
inch_dial_point = _with_point(maybe(zero), four_places)
"""A dial in inches, read with a point: `point one four oh five`."""
mm_point = _with_point(maybe(Choice((zero, whole))), three_places)
"""Millimetres with a point, below 1000: `thirty point oh two`."""
mm_dial_point = _with_point(maybe(Choice((zero, below_hundred))), three_places)
"""A dial in millimetres: `one point four two`."""
_short_places = either(
    digits(1), Meaning(run("two five"), lambda: "25"), Meaning(run("seven five"), lambda: "75")
)
short_point = _with_point(maybe(Choice((zero, whole))), _short_places)
"""Thou, turns or degrees with a point: `forty point five`, `point seven five`."""

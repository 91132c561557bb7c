"""What is read off a machine or a gauge: dial readings, differences, turns."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from assistant.phrases.expression import Choice, Meaning, Node, Word, either, maybe, run
from assistant.phrases.fractions import (
    and_quarters,
    inch_dial_point,
    mm_dial_point,
    quarters,
    short_point,
    small_part,
)
from assistant.phrases.integers import (
    below_hundred,
    four_figures,
    three_figures,
    three_from_one,
    three_from_zero,
    whole,
    zero,
)
from assistant.phrases.lengths import (
    HUNDREDTH_MM,
    TENTH,
    TENTH_MM,
    THOU,
    doubtful_tenths,
    explicit_mm,
    explicit_tenths,
    explicit_thou,
    four_and_a_half,
    in_thousands,
    inches_and_thou,
    inches_by,
    mm_by,
    thou_number,
)
from assistant.phrases.reading import Reading
from assistant.phrases.words import ON_SIZE, OVER, UNDER

_turn = either("turn", "turns")
_hundredth = either("hundredth", "hundredths")
_tenth = either("tenth", "tenths")


def _turns(form: str, node: Node) -> Node:
    return Meaning(node, lambda number: Reading(Decimal(str(number)), "turn", form))


turns = Choice(
    (
        _turns("turns", run(whole, _turn)),
        _turns("turns", run(Word("a", (1,)), "turn")),
        _turns("part of a turn", run(small_part, maybe(maybe("of"), "a"), "turn")),
        _turns("turns and a part", run(and_quarters, _turn)),
        _turns(
            "turns and a part",
            Meaning(
                run(Choice((below_hundred, Word("a", (1,)))), _turn, "and", quarters),
                lambda number, part: Decimal(number) + part,
            ),
        ),
        _turns("turns with a point", run(short_point, _turn)),
    )
)
"""Turns of a handwheel: `two and a quarter turns`, `a turn and a half`."""


def _with_turns(part: Node, unit: str) -> Node:
    """A dial reading, with or without whole turns before it."""
    count = Choice((below_hundred, Word("a", (1,)), Word("no", (0,)), zero))
    return Choice(
        (
            part,
            Meaning(
                run(count, _turn, maybe("and"), part),
                lambda number, reading: replace(reading, turns=number),
            ),
            Meaning(
                run(count, _turn),
                lambda number: Reading(Decimal(0), unit, "whole turns", turns=number),
            ),
        )
    )


inch_reading = _with_turns(
    Choice(
        (
            inches_by(THOU, "thou", thou_number),
            inches_by(1, "decimal", inch_dial_point),
            inches_by(TENTH, "four figures after the point", four_figures),
            inches_by(THOU, "four figures", Choice((four_figures, four_and_a_half))),
            inches_by(THOU, "half", small_part),
            # a dial is marked in thou: "point five" is half of one, where it can't be half an inch
            inches_by(THOU, "thou with a point", short_point),
            inches_by(0, "zero", Meaning(zero, int)),
            inches_and_thou,
            inches_by(THOU, "thousands", in_thousands),
            explicit_thou,
            explicit_tenths,
        )
    ),
    "inch",
)
mm_reading = _with_turns(
    Choice(
        (
            mm_by(1, "decimal", mm_dial_point),
            mm_by(1, "millimetres", Choice((whole, three_from_one))),
            mm_by(1, "millimetres", three_from_zero, plain=False),
            mm_by(1, "mixed number", Choice((and_quarters, small_part))),
            mm_by(HUNDREDTH_MM, "hundredths, unsaid", Choice((whole, three_figures))),
            mm_by(HUNDREDTH_MM, "hundredths", run(whole, _hundredth)),
            mm_by(0, "zero", Meaning(zero, int)),
            explicit_mm,
        )
    ),
    "mm",
)

_small_explicit = Choice((explicit_thou, explicit_tenths))
_inch_difference = Choice(
    (
        inches_by(THOU, "thou", thou_number),
        inches_by(THOU, "half a thou", small_part),
        inches_by(1, "decimal", inch_dial_point),
        _small_explicit,
        explicit_mm,
    )
)
_mm_difference = Choice(
    (
        mm_by(HUNDREDTH_MM, "hundredths, unsaid", Choice((whole, and_quarters))),
        mm_by(HUNDREDTH_MM, "hundredths", run(whole, _hundredth)),
        mm_by(HUNDREDTH_MM, "hundredths", run(and_quarters, _hundredth)),
        mm_by(HUNDREDTH_MM, "hundredths", run(Word("a", (1,)), "hundredth")),
        mm_by(1, "decimal", mm_dial_point),
        # "half under" is half a millimetre as well as half of what "one under" is
        mm_by(HUNDREDTH_MM, "hundredths, unsaid", small_part, doubtful=True),
        mm_by(1, "millimetres, unsaid", Choice((whole, and_quarters, small_part)), plain=False),
        mm_by(TENTH_MM, "tenths", run(whole, _tenth), doubtful=True),
        mm_by(TENTH_MM, "tenths", run(Word("a", (1,)), _tenth), doubtful=True),
        doubtful_tenths,
        explicit_mm,
        explicit_thou,
    )
)


def _difference(size: Node, unit: str) -> Node:
    over = Meaning(run(size, either(*OVER)), lambda reading: reading)
    under = Meaning(run(size, either(*UNDER)), lambda reading: reading.signed(-1))
    signs = Choice((Word("plus", (1,)), Word("minus", (-1,))))
    signed = Meaning(run(signs, size), lambda sign, reading: reading.signed(sign))
    exact = Meaning(either(*ON_SIZE), lambda: Reading(Decimal(0), unit, "on size"))
    return Choice((over, under, signed, exact))


inch_deviation = _difference(_inch_difference, "inch")
"""Over or under size: `two over`, `a thou and a half big`, `minus three thou`, `bang on`."""
mm_deviation = _difference(_mm_difference, "mm")

"""Every way a machinist says a size, as trees that stand for a `Reading`.

The bare forms (no unit said) are read by the unit of the slot. The likeliest reading comes first:
that order is what is offered when it must be asked back. A reading that wants a point or a unit put
in where the shop has none, as 1.50 for `one fifty`, is not `plain`.

"A tenth" is 0.0001 in on an inch machine and never 0.1 of anything; where the slot is metric it is
asked back, as is "mil", which is a thou in one country and a millimetre in another.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from assistant.phrases.expression import Choice, Meaning, Node, Typed, Word, either, maybe, run
from assistant.phrases.fractions import (
    HALF,
    and_fraction,
    and_part,
    and_quarters,
    eighths_and_finer,
    inch_point,
    mm_point,
    quarters,
    rule_fraction,
    short_point,
    small_part,
)
from assistant.phrases.integers import (
    below_hundred,
    five_figures,
    four_figures,
    four_from_one,
    four_from_zero,
    ones,
    pair,
    three_figures,
    three_from_one,
    three_from_zero,
    whole,
    zero,
)
from assistant.phrases.reading import Reading

THOU, TENTH = Decimal("0.001"), Decimal("0.0001")
HUNDREDTH_MM, TENTH_MM, MICRON_MM = Decimal("0.01"), Decimal("0.1"), Decimal("0.001")

_inch = either("inch", "inches")
_thou = either("thou", "thousandths", "thousandth")
_mm = either("millimeters", "millimeter")
_up_to_nine = Choice((ones, Word("a", (1,))))


def _size(
    scale: Decimal | int, unit: str, form: str, doubtful: bool = False, plain: bool = True
) -> Any:
    def make(number: object) -> Reading:
        return Reading(Decimal(str(number)) * scale, unit, form, doubtful, plain)

    return make


def inches_by(scale: Decimal | int, form: str, node: Node, *, plain: bool = True) -> Node:
    """`node`'s number times `scale` inches."""
    return Meaning(node, _size(scale, "inch", form, plain=plain))


def mm_by(
    scale: Decimal | int, form: str, node: Node, doubtful: bool = False, *, plain: bool = True
) -> Node:
    """`node`'s number times `scale` millimetres."""
    return Meaning(node, _size(scale, "mm", form, doubtful, plain))


def _sum(*parts: object) -> Decimal:
    return sum((Decimal(str(part)) for part in parts), Decimal(0))


_and_tenths = Meaning(
    run("and", _up_to_nine, either("tenth", "tenths")), lambda tenths: Decimal(tenths) / 10
)
thou_number = Meaning(
    run(Choice((whole, three_figures)), maybe(Choice((run("and", quarters), _and_tenths)))), _sum
)
"""A number of thou, 1 to 999, perhaps with a part: `one forty and a half`, `six oh five`."""
inches_and_hundreds = Meaning(
    run(ones, ones, "hundred"), lambda inches, hundreds: inches * 1000 + hundreds * 100
)
"""In thou: `one five hundred`."""
four_and_a_half = Meaning(run(four_figures, "and a half"), lambda figures: Decimal(figures) + HALF)

explicit_thou = Choice(
    (
        inches_by(
            THOU,
            "thou",
            Meaning(run(Choice((whole, three_figures)), maybe("and", quarters), _thou), _sum),
        ),
        inches_by(THOU, "thou", run(Word("a", (1,)), _thou)),
        inches_by(THOU, "thou", run(small_part, maybe(maybe("of"), "a"), _thou)),
        inches_by(
            THOU,
            "thou and a part",
            Meaning(
                run(
                    Choice((whole, Word("a", (1,)))),
                    _thou,
                    Choice(
                        (
                            run("and", quarters),
                            Meaning(
                                run(maybe("and"), _up_to_nine, either("tenth", "tenths")),
                                lambda tenths: Decimal(tenths) / 10,
                            ),
                        )
                    ),
                ),
                _sum,
            ),
        ),
        inches_by(THOU, "thou with a point", run(short_point, _thou)),
    )
)
explicit_tenths = Choice(
    (
        inches_by(TENTH, "tenths", run(below_hundred, either("tenth", "tenths"))),
        inches_by(TENTH, "tenths", run(Word("a", (1,)), "tenth")),
        inches_by(TENTH, "tenths", run(Word("half", (HALF,)), "a tenth")),
    )
)
"""The shop's tenths, 0.0001 in each."""
doubtful_tenths = Meaning(explicit_tenths, lambda reading: replace(reading, doubtful=True))
"""The same on a metric machine, where it may be tenths of a millimetre."""


def _inches_and_thou(inches: int, thou: object = 0) -> Decimal:
    return Decimal(inches) + Decimal(str(thou)) * THOU


_thousands = Typed(Meaning(run(_up_to_nine, "thousand"), lambda thousand: 1000 * thousand))
"""Thou or whole millimetres. The built-in ear writes `thousand` for `thou`, so that with both in
its grammar it would be in doubt about every thou."""
in_thousands = run(_thousands, maybe(_thou))
_number_of_inches = Choice((below_hundred, Word("an", (1,))))
inches_and_thou = Choice(
    (
        inches_by(
            1,
            "inches and thou",
            Meaning(
                run(_number_of_inches, _inch, maybe(maybe("and"), thou_number)),
                _inches_and_thou,
            ),
        ),
        Meaning(
            run(_number_of_inches, _inch, maybe("and"), Choice((explicit_thou, explicit_tenths))),
            lambda inches, part: Reading(inches + part.value, "inch", "inches and thou"),
        ),
    )
)
explicit_inches = Choice(
    (
        inches_and_thou,
        inches_by(
            1,
            "inches and four figures",
            Meaning(
                run(_number_of_inches, _inch, four_figures),
                lambda inches, figures: Decimal(inches) + Decimal(figures) * TENTH,
            ),
        ),
        inches_by(
            1,
            "inches and a fraction",
            Meaning(run(either(run(_number_of_inches, _inch), Word("inch", (1,))), and_part), _sum),
        ),
        inches_by(1, "fraction", run(rule_fraction, maybe(maybe("of"), "an"), _inch)),
        inches_by(1, "mixed number", run(either(and_quarters, and_fraction), _inch)),
        inches_by(1, "decimal", run(inch_point, _inch)),
    )
)
explicit_mm = Choice(
    (
        mm_by(1, "millimetres", run(whole, _mm)),
        mm_by(1, "millimetres", run(Word("a", (1,)), _mm)),
        mm_by(1, "millimetres", run(mm_point, _mm)),
        mm_by(1, "millimetres", run(and_quarters, _mm)),
        mm_by(1, "millimetres", run(small_part, maybe(maybe("of"), "a"), _mm)),
        mm_by(
            HUNDREDTH_MM,
            "hundredths",
            run(below_hundred, either("hundredths", "hundredth"), "of a", _mm),
        ),
        mm_by(
            TENTH_MM, "tenths of a millimetre", run(ones, either("tenths", "tenth"), "of a", _mm)
        ),
    )
)
_mil = either("mil", "mils")
_mils = run(
    Choice((whole, mm_point, and_quarters, Word("a", (1,)), run(Word("half", (HALF,)), "a"))), _mil
)
mil_as_thou = Meaning(_mils, _size(THOU, "inch", "mil as a thou", True))
mil_as_mm = Meaning(_mils, _size(1, "mm", "mil as a millimetre", True))

bare_fraction = Choice(
    (
        inches_by(1, "fraction", eighths_and_finer),
        inches_by(1, "mixed number", and_fraction),
    )
)
"""Finer than a quarter: inches on any machine."""

bare_inches = Choice(
    (
        inches_by(THOU, "thou", thou_number),
        inches_by(1, "decimal", inch_point),
        inches_by(1, "fraction", rule_fraction),
        inches_by(1, "mixed number", and_fraction),
        inches_by(1, "mixed number", and_quarters, plain=False),
        inches_by(TENTH, "four figures after the point", four_figures),
        inches_by(THOU, "four figures", Choice((four_from_one, four_and_a_half))),
        inches_by(THOU, "four figures", four_from_zero, plain=False),
        inches_by(TENTH, "five figures", five_figures),
        inches_by(THOU, "inches and hundreds", inches_and_hundreds),
        inches_by(THOU, "thousands", in_thousands),
        inches_by(Decimal("0.01"), "two places", Choice((pair, three_figures)), plain=False),
        inches_by(1, "whole inches", below_hundred, plain=False),
        inches_by(THOU, "thou with a point", short_point, plain=False),
        inches_by(0, "zero", Meaning(zero, int)),
    )
)
bare_mm = Choice(
    (
        mm_by(1, "millimetres", Choice((whole, three_from_one))),
        mm_by(1, "decimal", mm_point),
        mm_by(1, "thousands", run(_thousands, maybe(_mm))),
        inches_by(THOU, "thousands", run(_thousands, _thou)),
        mm_by(1, "mixed number", Choice((and_quarters, small_part))),
        mm_by(HUNDREDTH_MM, "hundredths", run(below_hundred, either("hundredths", "hundredth"))),
        mm_by(HUNDREDTH_MM, "hundredths", run(Word("a", (1,)), "hundredth")),
        mm_by(HUNDREDTH_MM, "two places", Choice((four_from_one, three_from_zero))),
        mm_by(MICRON_MM, "three places", four_from_zero),
        mm_by(
            HUNDREDTH_MM, "two places", Choice((pair, three_from_one, four_from_zero)), plain=False
        ),
        mm_by(
            HUNDREDTH_MM,
            "millimetres and hundredths",
            Meaning(
                run(below_hundred, "and", below_hundred, either("hundredths", "hundredth")),
                lambda number, part: 100 * number + part,
            ),
        ),
        mm_by(TENTH_MM, "one place", three_figures, plain=False),
        mm_by(MICRON_MM, "three places", four_from_one, plain=False),
        mm_by(1, "millimetres", three_from_zero, plain=False),
        bare_fraction,
        mm_by(MICRON_MM, "microns", run(whole, either("micron", "microns"))),
        mm_by(TENTH_MM, "tenths", run(_up_to_nine, either("tenths", "tenth")), doubtful=True),
        mm_by(0, "zero", Meaning(zero, int)),
    )
)


def _minus(node: Node) -> Node:
    return Meaning(run("minus", node), lambda reading: reading.signed(-1))


_minus_inches = inches_by(1, "decimal", run(inch_point, maybe(_inch)))
_point_mm = mm_by(1, "decimal", mm_point)
_explicit_small = Choice((explicit_thou, explicit_tenths))
inch_length = Choice(
    (
        bare_inches,
        explicit_inches,
        explicit_mm,
        _explicit_small,
        mil_as_thou,
        mil_as_mm,
        _minus(Choice((_explicit_small, _minus_inches, explicit_mm))),
    )
)
mm_length = Choice(
    (
        bare_mm,
        explicit_mm,
        explicit_inches,
        explicit_thou,
        doubtful_tenths,
        mil_as_mm,
        mil_as_thou,
        _minus(Choice((explicit_thou, _point_mm, explicit_mm))),
    )
)

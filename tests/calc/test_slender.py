"""How far work springs from the tool, worked by hand and integrated anew."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.calc.slender import (
    SHARES,
    deepest_cut,
    spring,
    too_far_out,
)
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, magnitude, mm

NEWTONS = Decimal(200)
STEEL = Decimal(206)


def test_a_bar_with_a_free_end_by_hand() -> None:
    """20 mm, 100 mm out, 200 N: I = pi 20^4 / 64 = 7854 mm^4; F L^3 / 3 E I =
    200 x 1,000,000 / (3 x 206,000 x 7854) = 0.0412 mm."""
    found = magnitude(spring([(mm(100), mm(20))], NEWTONS, STEEL), "mm")
    assert abs(found - Decimal("0.04121")) < Decimal("0.00001")


def numbers(share_of_place, steps: int = 20_000) -> float:
    """The most of a function of the place along the bar, 0 to 1."""
    return max(share_of_place(n / steps) for n in range(1, steps))


def test_what_the_other_end_leaves_is_worked_again() -> None:
    """By a unit load: the deflection where the force acts is the integral of M m / E I. On the
    tailstock its push there is such that the end stays: R = F a^2 (3 L - a) / (2 L^3)."""

    def on_the_tailstock(a: float) -> float:
        # free at the force: a^3 / 3; less what the tailstock pushes back there
        push = a * a * (3 - a) / 2
        return (a**3 / 3 - push * (a * a * (3 - a) / 6)) * 3

    def between_centres(a: float) -> float:
        return a * a * (1 - a) ** 2 / 3 * 3

    assert abs(numbers(on_the_tailstock) - float(SHARES["tailstock", False])) < 0.00001
    assert abs(numbers(between_centres) - float(SHARES["centres", False])) < 0.000001
    # midway in between a steady halves the length, and an eighth is left
    assert SHARES["centres", True] * 8 == SHARES["centres", False]
    assert SHARES["chuck", True] == SHARES["tailstock", False]


def test_a_thick_piece_at_the_jaws_springs_less() -> None:
    """40 mm of 10 at the end of 60 mm of 20: (40^3 / I10 + (100^3 - 40^3) / I20) / 3 E with I10 =
    490.9: 130.4 + 119.2 = 249.6; x 200 / (3 x 206,000) = 0.0808. All of 20 it was 0.0412."""
    pieces = [(mm(40), mm(10)), (mm(60), mm(20))]
    found = magnitude(spring(pieces, NEWTONS, STEEL), "mm")
    assert abs(found - Decimal("0.08077")) < Decimal("0.0001")


def test_the_deepest_cut_by_hand() -> None:
    """0.05 mm of spring take 0.05 / 0.04121 x 200 = 242.7 N; half of the force pushes: 485.3 N are
    1.344 mm x 0.1 mm x 3610 N/mm^2."""
    found = deepest_cut([(mm(100), mm(20))], mm("0.1"), "mild steel")
    assert abs(magnitude(found, "mm") - Decimal("1.344")) < Decimal("0.001")
    # the boring bar's own steel springs, whatever is cut: bronze takes 1900 for 3610
    bar = deepest_cut([(mm(100), mm(20))], mm("0.1"), "bronze", bends="tool steel")
    assert abs(magnitude(bar, "mm") - Decimal("1.344") * 3610 / 1900) < Decimal("0.003")


def test_half_an_inch_a_foot_out_stands_nothing() -> None:
    """12 in of 1/2 in free: I = 0.003068 in^4; a pound springs it 1728 / (3 x 29.9e6 x 0.003068) =
    0.0063 in, so that 0.32 lbf spring it 0.002. 0.63 lbf are 0.00024 x 0.005 in of 523,600 psi. On
    the tailstock it is 34 times as stiff: 0.0081."""
    bar = [(inches("12"), inches("0.5"))]
    free = deepest_cut(bar, inches("0.005"), "mild steel")
    assert abs(magnitude(free, "inch") - Decimal("0.00024")) < Decimal("0.000005")
    on_the_tailstock = deepest_cut(bar, inches("0.005"), "mild steel", held="tailstock")
    assert abs(magnitude(on_the_tailstock, "inch") - Decimal("0.0081")) < Decimal("0.0001")


@pytest.mark.parametrize(
    ("ratio", "held", "steady", "whips"),
    [("10", "chuck", False, False), ("10.1", "chuck", False, True),
     ("24", "tailstock", False, False), ("24", "chuck", True, False)],
)  # fmt: skip
def test_a_bar_too_far_out_can_whip(ratio: str, held: str, steady: bool, whips: bool) -> None:
    assert too_far_out(Decimal(ratio), held, steady) is whips


def test_nonsense_is_refused() -> None:
    with pytest.raises(ImpossibleInput):
        spring([(mm(100), mm(0))], NEWTONS, STEEL)
    with pytest.raises(BadInput):
        spring([(mm(100), mm(10))], NEWTONS, STEEL, held="by hand")
    with pytest.raises(BadInput):
        deepest_cut([(mm(100), mm(10))], mm("0.1"), "cheese")

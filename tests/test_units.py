"""What a unit knows of itself, beside the lengths that are read and shown in it."""

from __future__ import annotations

import pytest

from assistant.units import Quantity, Unit, inches, mm, unit_name


@pytest.mark.parametrize(
    ("unit", "places", "size", "said"),
    [
        (Unit.INCH, (4, 3, 4), inches("0.030"), "inches"),
        (Unit.MM, (2, 2, 3), mm("0.8"), "millimetres"),
    ],
)
def test_a_unit_knows_how_finely_one_works_in_it(
    unit: Unit, places: tuple[int, int, int], size: Quantity, said: str
) -> None:
    assert (unit.places, unit.coarse_places, unit.fine_places) == places
    assert unit.size("0.030", "0.8") == size
    assert unit_name(unit.size("0.030", "0.8")) == unit_name(size)
    assert unit.plural == said
    assert Unit(unit_name(size)) is unit
    assert f"{unit}" in ("inch", "mm")


def test_what_is_no_unit_of_a_job_is_none() -> None:
    with pytest.raises(ValueError, match="furlong"):
        Unit("furlong")

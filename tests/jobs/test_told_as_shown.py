"""A size is told against the number that is shown: both come from the one rounding."""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.jobs.milling import mill
from assistant.jobs.planning import read_job
from assistant.jobs.steps import Measure
from assistant.present.formatting import shown_value
from assistant.present.glance_of import glance
from assistant.session.telling import nominal_as_said
from assistant.spoken import Figure
from assistant.spoken.rounding import as_shown
from assistant.units import inches, magnitude, mm
from tests.jobs.walking import text_of
from tests.session.walks import DEMOS, walked


@pytest.mark.parametrize(("exact", "told"), [("1.00005", "1.0001"), ("1.00015", "1.0002")])
def test_a_tie_goes_away_from_zero_as_on_paper(exact: str, told: str) -> None:
    """To the even number of old, 1.00005 was told as 1.0000 and shown as 1.0001."""
    _, job = read_job(text_of("slot-inch"), "slot-inch.toml")
    step = mill.measure_work(job, "stock.height", "the height", inches(exact))
    assert step.nominal == inches(told)
    assert shown_value(step.figure) == inches(told)


@pytest.mark.parametrize("demo", DEMOS)
def test_on_size_is_the_very_number_on_the_screen(demo: str) -> None:
    for state in walked(demo):
        step = state.step
        if not isinstance(step, Measure) or step.nominal is None or step.figure is None:
            continue
        if not step.nominal.check("[length]"):
            continue
        for unit in ("inch", "mm"):
            shown = shown_value(Figure(step.nominal, "", step.figure.places), unit)
            said = nominal_as_said(step, unit)
            if step.figure.value.units == step.nominal.units:
                assert said == shown, (step.id, unit)
        if glance(state).number and step.figure.value == step.nominal:
            number = Decimal(glance(state).number)
            assert magnitude(nominal_as_said(step, state.unit), state.unit) == number, step.id


def test_a_size_has_one_place_fewer_in_millimetres() -> None:
    limit = Figure(inches("0.93755"), "", 4)
    assert as_shown(limit.value, limit, "inch") == inches("0.9376")
    assert as_shown(limit.value, limit, "mm") == mm("23.814")
    metric = Figure(mm("23.815"), "", 2)
    assert as_shown(metric.value, metric, "mm") == mm("23.82")
    assert as_shown(metric.value, metric, "inch") == inches("0.938")

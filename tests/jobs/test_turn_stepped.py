"""A shaft with several shoulders, against numbers worked by hand. Common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import read_job
from assistant.jobs.steps import Cut, Move
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import changed, plan_of, value, walk_to_end

STEPPED = "turn-stepped"


def at(plan, step_id: str) -> Decimal:
    step = plan.step(step_id)
    assert isinstance(step, Move)
    return magnitude(step.target, "inch")


def diameter_cuts(plan) -> list[Cut]:
    return [s for s in plan.steps if isinstance(s, Cut) and "shoulder" not in s.id]


def test_each_diameter_is_counted_from_the_one_touch():
    """The dial counts the diameter: from 1.2500 to 1.1870 (half a thou under 1.1875) it is 0.0630,
    to 0.9370 it is 0.3130, to 0.7495 it is 0.5005."""
    plan = plan_of(STEPPED)
    assert value(plan, "full depth") == Decimal("0.0630")
    assert at(plan, "finishing-1-set") == Decimal("0.063")
    assert at(plan, "second-finishing-1-set") == Decimal("0.313")
    assert at(plan, "third-finishing-1-set") == Decimal("0.5005")


def test_the_largest_is_turned_first_and_the_rest_go_on_from_it():
    """Passes of the second begin where the first ended, those of the third where the second did;
    none takes more than 0.040 on a side, 0.080 on this dial."""
    cuts = diameter_cuts(plan_of(STEPPED))
    depths = [s.depth for s in cuts]
    assert depths == sorted(depths)
    assert all(s.taken <= inches("0.080") for s in cuts)
    assert sum((s.taken for s in cuts), inches(0)) == inches("0.5005")


def test_shoulders_are_counted_on_the_carriage_from_the_end_face():
    """0.020 short of 2.750, 1.750 and 0.875 while the diameters are cut, set short to lines of
    0.005; then on to the length, aimed at the nominal one."""
    plan = plan_of(STEPPED)
    cuts = ("witness-1-cut", "second-roughing-1-cut", "third-roughing-1-cut")
    stops = [plan.step(name).feed_target for name in cuts]
    assert stops == [inches("2.730"), inches("1.730"), inches("0.855")]
    ends = [at(plan, f"{name}-finishing-1-set")
            for name in ("shoulder", "second-shoulder", "third-shoulder")]  # fmt: skip
    assert ends == [Decimal("2.750"), Decimal("1.750"), Decimal("0.875")]


def test_what_one_diameter_measured_sets_the_next_right():
    """With the dial at 63 the first measures 1.1862: at its zero the work would be 1.2492, and
    0.9370 is at 0.3122, on a line 0.312 (0.9372, inside). Then the second measures 0.9368 there:
    1.2488 at zero, so that 0.7495 is at 0.4993: on a line 0.499 (0.7498, inside)."""
    first = {"size_1": inches("1.1862"), "size_1_at": inches("0.063")}
    plan = plan_of(STEPPED, **first)
    assert at(plan, "second-finishing-1-set") == Decimal("0.312")
    second = {"second_size_1": inches("0.9368"), "second_size_1_at": inches("0.312")}
    plan = plan_of(STEPPED, **first, **second)
    assert at(plan, "third-finishing-1-set") == Decimal("0.499")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('diameter = "0.9375 in"', 'diameter = "1.250 in"', "must be smaller than 1.1875"),
        ('length = "1.750 in"', 'length = "3 in"', "must be shorter than 2.75"),
        ('length = "0.875 in"', 'length = "1.750 in"', "must be shorter than 1.75"),
        ('by = "carriage"', 'by = "compound"', "counted on its dial"),
        ('diameter = "0.7500 in"', 'diameter = "-0.75 in"', r"step 2\.diameter"),
        ('diameter = "0.7500 in"', 'daimeter = "0.75 in"', "step 2"),
    ],
)
def test_what_cannot_be_turned_so_is_refused(old, new, says):
    with pytest.raises(BadFile, match=says):
        read_job(changed(STEPPED, (old, new)), "a.toml")


def test_a_bore_has_no_further_steps():
    more = '[[step]]\ndiameter = "1 in"\nlength = "1 in"\n[holding]'
    with pytest.raises(BadFile, match="wanted a turned shaft"):
        read_job(changed("bore-bush", ("[holding]", more)), "a.toml")


def test_a_length_closer_than_the_carriage_dial_is_refused():
    close = changed(
        STEPPED,
        ('"0.005 in"\nlength_minus = "0.005 in"', '"0.001 in"\nlength_minus = "0.001 in"'),
    )
    with pytest.raises(ImpossibleInput, match="shoulder length"):
        plan_of(STEPPED, close)


def test_walked_from_start_to_end():
    said = walk_to_end(Job(STEPPED))
    assert sum("second diameter" in one for one in said) >= 2


@settings(max_examples=40, deadline=None)
@given(
    large=st.decimals("0.8", "1.1", places=4),
    less=st.decimals("0.02", "0.5", places=4),
    touched=st.decimals("-0.02", "0.02", places=4),
)
def test_the_dial_makes_every_diameter_however_the_touch_was_off(large, less, touched):
    """However far off the touch was: from a diameter that was measured to the next the dial goes
    on by the difference, within half a line of 0.001."""
    small = large - less
    assume(small > Decimal("0.34"))  # thinner, it stands out ten diameters and is refused
    text = changed(
        STEPPED,
        ('diameter = "0.9375 in"', f'diameter = "{large} in"'),
        ('diameter = "0.7500 in"', f'diameter = "{small} in"'),
    )
    first = {"size_1": inches("1.1870"), "size_1_at": inches(Decimal("0.063") + touched)}
    plan = plan_of(STEPPED, text, **first)
    for name, wanted in (("second", large), ("third", small)):
        last = [s for s in plan.steps if s.id.startswith((f"{name}-r", f"{name}-f"))
                and s.id.endswith("-set")][-1]  # fmt: skip
        dial = magnitude(last.target, "inch") - Decimal("0.063") - touched
        assert wanted - Decimal("0.001") <= Decimal("1.1870") - dial <= wanted


def test_a_division_that_ends_at_the_last_limit_is_split():
    """0.9567 with the dial at 0.293 and 0.9370 aimed at, for 0.9375 to 0.9365: 19.7 thou. Twenty
    would leave 0.9367, nearer to the low limit than a hand stops at a mark: nineteen and a half,
    which leaves 0.9372."""
    facts = {"second.size.1": inches("0.9567"), "second.size.1.at": inches("0.293")}
    assert at(plan_of(STEPPED, **facts), "second-finishing-1-set") == Decimal("0.3125")

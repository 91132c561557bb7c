"""Both walls of a seat: measured while a shift still fits, added up, and the width told.

Case 16 of the mishaps. A cutter of W in a shaft of D is as wide as its mark from the arc on,
(D - sqrt(D^2 - W^2)) / 2: 0.0238 for 3/8 in 1-1/2, 0.0102 for 3/16 in 7/8.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from assistant.calc.woodruff import key, metric_key, widest_seat
from assistant.jobs.milling.lands import EDGE, Lands, together
from assistant.jobs.steps import Cut, Measure, Move, Note
from assistant.jobs.to_size.passes import roughing_passes
from assistant.present.move_words import LONGEST, seconds
from assistant.units import inches, magnitude, mm
from tests.factories import Job
from tests.jobs.walking import plan_of


@pytest.mark.parametrize(
    ("name", "arc", "at", "unit"),
    [
        ("keyseat-inch", "0.0239", "0.033", "inch"),
        ("keyseat-two-in-line", "0.0102", "0.020", "inch"),
        ("woodruff-inch", "0.0102", "0.020", "inch"),
        # 15 - sqrt(225 - 16) = 0.543; 0.793 set down to the dial's 0.02
        ("keyseat-metric", "0.543", "0.78", "mm"),
    ],
)
def test_they_are_measured_as_soon_as_there_are_walls(name, arc, at, unit):
    steps = plan_of(name).steps
    place = next(n for n, s in enumerate(steps) if getattr(s, "kind", "") == "walls")
    cut = [s for s in steps[:place] if isinstance(s, Cut)][-1]
    assert magnitude(cut.depth, unit) == Decimal(at)
    assert 0 < Decimal(at) - Decimal(arc) <= EDGE[unit]


def test_a_shift_then_takes_no_more_than_the_edge_and_says_so():
    """0.5665 and 0.5585: four too far back; 0.375 and 0.004 are 0.379, and the standard allows
    0.377. It is but the top 0.033 - 0.0238 of it."""
    plan = plan_of("keyseat-inch", walls_left=inches("0.5665"), walls_right=inches("0.5585"))
    step = plan.step("correct-centre")
    assert isinstance(step, Move)
    assert step.target == inches("0.9445")
    assert step.optional
    assert step.after == (
        "Lock it.", "The top 9.2 thou comes out 379 thou wide.", "Deburr that off.",
        "Or leave it so: skip that step.",
    )  # fmt: skip
    assert all(seconds(text) <= LONGEST for text in step.after)


def test_a_shift_that_stays_inside_the_width_says_that():
    plan = plan_of("keyseat-inch", walls_left=inches("0.564"), walls_right=inches("0.561"))
    said = " ".join(plan.step("correct-centre").after)
    assert "It comes out 376.5 thou wide at the top. That's in." in said


def test_measured_deep_a_shift_is_refused_with_what_to_do():
    """With the operator's own 68 the cut is 0.071 deep: 0.379 for 0.047 of that is too wide."""
    told = {"walls_left": inches("0.5665"), "walls_right": inches("0.5585")}
    plan = plan_of("keyseat-inch", pass_2=inches("0.068"), **told)
    assert not any(step.id == "correct-centre" for step in plan.steps)
    note = plan.step("no-shift")
    assert isinstance(note, Note)
    assert note.say == (
        "Off centre by 4 thou.", "A shift would make it 379 thou wide. At most 377 thou.",
        "Don't shift it. Ask: a stepped key, or leave it off centre.",
    )  # fmt: skip
    # two thou stay inside the width, however deep
    told = {"walls_left": inches("0.5645"), "walls_right": inches("0.5605")}
    plan = plan_of("keyseat-inch", pass_2=inches("0.068"), **told)
    assert "377 thou wide" in " ".join(plan.step("correct-centre").after)


@pytest.mark.parametrize("name", ["keyseat-inch", "woodruff-inch"])
def test_half_a_thou_off_is_nothing_to_correct(name):
    land = next(s for s in plan_of(name).steps if getattr(s, "kind", "") == "walls").nominal
    near = {"walls_left": land - inches("0.0005"), "walls_right": land + inches("0.0005")}
    ids = [step.id for step in plan_of(name, **near).steps]
    assert "correct-centre" not in ids
    assert "no-shift" not in ids


def test_562_and_563_are_in_the_middle_by_the_words_of_the_case():
    job = Job("keyseat-inch")
    job.to_step("measure-walls")
    job.says("front five sixty two", "back five sixty three")
    assert job.state.step_id == "roughing-2-back"


def test_two_walls_that_do_not_add_up_are_asked_for_again():
    """560 + 375 + 590 are 1525, and the shaft is 1500."""
    job = Job("keyseat-inch")
    job.to_step("measure-walls")
    said = job.says("front five sixty", "back five ninety")
    assert "Those two are more than shaft and cutter leave. Measure both again." in said
    assert job.state.step_id == "measure-walls"
    assert not any(name.startswith("walls.") for name in job.state.facts)
    job.says("front five sixty two", "back five sixty three")
    assert job.state.step_id == "roughing-2-back"


def test_too_little_is_told_so_and_it_may_be_left_out():
    job = Job("woodruff-inch")
    job.to_step("measure-walls")
    said = job.says("front three thirty", "back three forty four")
    assert "Those two are less than shaft and cutter leave." in said
    job.say("skip that step")
    assert job.state.step_id == "roughing-3-cut"


def test_a_correction_may_be_left_out_and_says_how():
    job = Job("woodruff-inch")
    job.to_step("measure-walls")
    said = job.says("front three forty two", "back three forty six")
    assert said.endswith("Or leave it so: skip that step.")
    assert job.state.step_id == "correct-centre"
    job.say("skip that step")
    assert job.state.step_id == "roughing-3-cut"


@pytest.mark.parametrize(
    ("which", "most", "unit"),
    [(key("607"), "0.1880", "inch"), (key("404"), "0.1255", "inch"),
     (key("1210"), "0.3755", "inch"), (metric_key(mm(5), mm("6.5")), "5.000", "mm")],
)  # fmt: skip
def test_how_wide_a_woodruff_seat_may_be(which, most, unit):
    """ASME B17.2 (from memory): 3/16 0.1880, 1/8 0.1255, 3/8 0.3755; ISO 286: 5 N9 is 5 - 0."""
    assert magnitude(widest_seat(which), unit) == Decimal(most)


def test_a_pass_ends_at_the_pause_and_none_is_over_the_limit():
    found = roughing_passes(
        Decimal("0.2"), witness=Decimal("0.003"), limit=Decimal("0.02"), least=Decimal("0.004"),
        chosen={}, step=Decimal("0.001"), pause=Decimal("0.033"),
    )  # fmt: skip
    assert Decimal("0.033") in [one.depth for one in found]
    assert max(one.taken for one in found) <= Decimal("0.02")
    assert found[-1].depth == Decimal("0.2")
    # one that would leave a cut that rubs is not made
    close = roughing_passes(
        Decimal("0.036"), witness=Decimal("0.003"), limit=Decimal("0.06"), least=Decimal("0.004"),
        chosen={}, step=Decimal("0.001"), pause=Decimal("0.033"),
    )  # fmt: skip
    assert [one.depth for one in close] == [Decimal("0.003"), Decimal("0.036")]


def test_lands_by_themselves():
    lands = Lands(*(Decimal(x) for x in ("0.57", "0.56", "0.375", "0.377", "0.02")), "inch")
    assert lands.half == Decimal("0.005")
    assert not lands.centred
    assert lands.widened == Decimal("0.380")
    assert not lands.fits
    low, high = together(Decimal("1.5"), Decimal("0.375"), "inch")
    assert (low, high) == (inches("1.119"), inches("1.131"))
    measure = plan_of("keyseat-inch").step("measure-walls")
    assert isinstance(measure, Measure)
    assert (measure.sum_low, measure.sum_high) == (low, high)

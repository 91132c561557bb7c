"""Cuts that go to no full depth show nothing of one: a spot, a trial cut, a skim, a knurl."""

from __future__ import annotations

import pytest

from assistant.jobs.steps import Cut
from assistant.present.glance_of import glance
from tests.factories import answer
from tests.session.walks import DEMOS, said, walked


@pytest.mark.parametrize(
    ("demo", "step", "number", "what"),
    [("knurl-knob", "knurl-cut", "0.375", "to run"),
     ("square-block-inch", "face-1-skim-1-cut", "0.015", "deep, after this cut"),
     ("tailstock-line", "trial-1-cut", "", "")],
)  # fmt: skip
def test_the_number_of_a_cut_to_no_depth_is_its_own(
    demo: str, step: str, number: str, what: str
) -> None:
    shown = glance(next(state for state in walked(demo) if state.step_id == step))
    assert (shown.number, shown.what) == (number, what)


@pytest.mark.parametrize("demo", DEMOS)
def test_nothing_is_left_only_where_something_was(demo: str) -> None:
    """ "Nothing left" and "nothing deep" are said of no cut that leaves the depth as it was."""
    for state in walked(demo):
        step = state.step
        if not isinstance(step, Cut):
            continue
        assert "Nothing deep" not in answer(said(state, "how deep", "typed"))
        left = answer(said(state, "how much left", "typed"))
        if left.startswith("Nothing to full depth, after this cut"):
            assert step.remaining is not None
            assert step.depth.magnitude
        if glance(state).what == "left after this cut":
            assert step.remaining is not None


def test_before_the_first_cut_to_depth_all_is_left() -> None:
    """25.6 mm from the touch are through 22 of metal, point and all; the spot is none of it."""
    state = next(state for state in walked("drill-counterbore") if state.step_id == "spot")
    assert answer(said(state, "how deep", "typed")) == "Nothing cut yet."
    assert answer(said(state, "how much left", "typed")) == "Twenty-five point six to full depth."


def test_a_job_without_depth_says_so() -> None:
    state = next(state for state in walked("divide-ratchet") if state.step_id == "index-2")
    assert answer(said(state, "how deep", "typed")) == "This job cuts to no depth."
    assert answer(said(state, "how much left", "typed")) == ("This job has no depth to count down.")

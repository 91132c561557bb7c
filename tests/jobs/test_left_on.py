"""What a depth is counted on is said with it, where the size wanted is a diameter."""

from __future__ import annotations

import pytest

from assistant.jobs.steps import Cut
from tests.factories import Job, expected_words


@pytest.mark.parametrize(
    ("name", "counted"),
    [
        ("turn-metric", "on the radius"),  # Brook's cross slide counts what the tool moves
        ("turn-shaft", "on the diameter"),  # Rill's the diameter
        ("boring-head-inch", "on the diameter"),
    ],
)
def test_what_is_left_is_told_with_what_it_is_counted_on(name: str, counted: str) -> None:
    job = Job(name)
    while not isinstance(job.state.step, Cut):
        job.say(expected_words(job.state))
    assert f"to full depth {counted}" in job.say("how much left")
    while not (isinstance(job.state.step, Cut) and job.state.step.remaining is not None):
        job.say(expected_words(job.state))
    if job.glance.what.startswith("left"):
        assert job.glance.what == f"left {counted} after this cut"
    assert f"to full depth {counted}, after this cut" in job.say("how much left")


def test_a_shoulder_has_its_length_and_a_keyseat_its_depth_alone() -> None:
    for name in ("turn-metric", "keyseat-inch"):
        job = Job(name)
        plan = job.state.plan
        cuts = [step for step in plan.steps if isinstance(step, Cut)]
        plain = [cut for cut in cuts if "shoulder" in cut.id or name.startswith("keyseat")]
        assert plain
        assert not any(cut.left_on for cut in plain)

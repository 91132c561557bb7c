"""Saw cuts: what bar is needed, worked by hand, and what can't be."""

from __future__ import annotations

from assistant.units import inches
from tests.factories import Job
from tests.jobs.walking import changed, plan_of, walk_to_end

JOB = "pond-rail"
IMPOSSIBLE = [
    # demo, what stands there, what is put there, what is said
    (JOB, 'length = "6 in"', 'length = "0.05 in"', "the saw takes more than a piece is long"),
    (JOB, "count = 3", "count = 0", "wanted a whole number from 1 to 40"),
]


def test_the_saw_takes_its_width_at_every_piece():
    """3 x 6 and 3 x 0.060; with a saw of 1/16: 3 x 0.0625."""
    needed = plan_of(JOB).result("bar needed")
    assert needed is not None
    assert needed.value == inches("18.180")
    wider = plan_of(JOB, changed(JOB, ("count = 3", 'count = 3\n\n[saw]\nkerf = "1/16 in"')))
    found = wider.result("bar needed")
    assert found is not None
    assert found.value == inches("18.1875")


def test_walked_from_start_to_end():
    said = walk_to_end(Job(JOB))
    assert any("Piece 3" in one for one in said)

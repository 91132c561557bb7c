"""Slots that end inside the work, as wide as their cutter: numbers worked by hand; geometry and
common practice, no source."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.planning import read_job
from assistant.jobs.steps import Cut, Move
from assistant.units import magnitude, mm
from tests.factories import Job
from tests.jobs.walking import changed, plan_of, sheet, text_of, value, walk_to_end

CLOSED = "slot-plunged"


def open_ended() -> str:
    """The same slot, begun at the end face."""
    return changed(CLOSED, ('from_end = "15 mm"', '# from_end = "15 mm"'))


def test_both_ends_worked_by_hand():
    """42 mm long (+0.2 -0, aimed 0.05 inside), begun 15 mm from the end face, with a cutter of
    10 and paper of 0.08. At the touch the cutter's middle is 5.08 before the face. Start: 5.08 +
    15 + 5 = 25.08: on 4 mm a turn six turns and 1.08. End: 5.08 + 15 + 42.05 - 5 = 57.13, set to
    lines of 0.02 or half of one: 57.13. So it runs 32.05, and comes out 42.05 over its ends."""
    plan = plan_of(CLOSED)
    start = sheet(CLOSED)["to-start"].move
    assert (start.turns, start.part, start.direction) == (6, Decimal("1.08"), "right")
    cuts = [s for s in plan.steps if isinstance(s, Cut)]
    assert {magnitude(s.feed_target, "mm") for s in cuts} == {Decimal("57.13")}
    assert value(plan, "run", "mm") == Decimal("32.05")


def test_it_is_plunged_at_its_start_and_left_upward():
    """Full depth 6.05 and 1 of room: on 2 mm a turn four turns, exactly, and back again. Both
    ends are come to from the same side."""
    plan = plan_of(CLOSED)
    ids = [s.id for s in plan.steps]
    assert ids.index("touch-table") < ids.index("to-start") < ids.index("touch-knee")
    assert ids.index("touch-knee") < ids.index("witness-1-set")
    assert all("exactly 4 turns" in s.say[0] for s in plan.steps if s.id.endswith("-back"))
    table = [s for s in plan.steps if isinstance(s, Move) and s.axis == "table"]
    assert {s.approach for s in table} == {1}
    assert "Plunged" in plan.step("roughing-2-cut").say[0]
    # after a touch with a feeler, or a measurement, it stands still
    for name in ("witness-1-set", "roughing-2-set", "finishing-1-set"):
        assert plan.step(name).say[0].startswith("Spindle on: it plunges.")
    assert "Spindle on: it plunges." not in plan_of(CLOSED, open_ended()).step("roughing-2-set").say


def test_a_cutter_that_cannot_plunge_wants_a_hole_first():
    text = changed(CLOSED, ("centre_cutting = true", "centre_cutting = false"))
    assert "start hole" in " ".join(plan_of(CLOSED, text).step("check-start-hole").say)
    assert not any(s.id == "check-start-hole" for s in plan_of(CLOSED).steps)
    # open at the end face it is fed in from outside: nothing to plunge
    text = text.replace('from_end = "15 mm"', "")
    assert not any(s.id == "check-start-hole" for s in plan_of(CLOSED, text).steps)


def test_open_at_one_end_it_begins_outside():
    """A cutter and a half before the face: 5.08 - 15 = -9.92 from the touch; it ends 5.08 + 42.05
    - 5 = 42.13 beyond it. Backed off one turn, as in any cut that runs out."""
    plan = plan_of(CLOSED, open_ended())
    assert plan.step("to-start").target == mm("-9.92")
    assert plan.step("witness-1-cut").feed_target == mm("42.13")
    assert "exactly one turn" in plan.step("roughing-2-back").say[0]


def test_a_short_slot_is_fed_on_by_what_is_missing():
    """Measured 41.85, wanted 42.05: 0.20 more, from 57.13 to 57.33."""
    short = plan_of(CLOSED, slot_length=mm("41.85"))
    step = short.step("length-feed")
    assert step.target == mm("57.33")
    assert "Up those 4 turns again" in step.say[0]
    assert "Too long" in plan_of(CLOSED, slot_length=mm("42.30")).step("too-long").say[0]
    good = plan_of(CLOSED, slot_length=mm("42.1"))
    assert not any(s.id in ("length-feed", "too-long") for s in good.steps)


def test_a_larger_cutter_is_fed_less_far():
    """10.06 by measurement: it begins half of 0.06 later and ends so much sooner."""
    plan = plan_of(CLOSED, cutter_width=mm("10.06"))
    assert value(plan, "run", "mm") == Decimal("31.99")


def test_a_cutter_that_measures_under_the_width_is_no_cutter_for_it():
    """9.96 makes neither 10 in one pass, nor leaves stock: it was once sent on to mill walls right
    through the work. A wall's stock of 0.25, the saddle's 0.30 and a division of 0.02 are twice
    0.57 off the width aimed at, 10.05."""
    with pytest.raises(ImpossibleInput, match=r"leaves stock on both walls.*one of 8\.91 at most"):
        plan_of(CLOSED, cutter_width=mm("9.96"))


def test_the_top_is_touched_over_the_work_where_it_is_open_at_the_end():
    """After its end face was touched the cutter stands beside it, below the top."""
    plan = plan_of(CLOSED, open_ended())
    ids = [s.id for s in plan.steps]
    at = ids.index("touch-table")
    assert ids[at : at + 3] == ["touch-table", "over-top", "touch-knee"]
    # 5.08 to the face, and one cutter on
    assert plan.step("over-top").target == mm("15.08")
    assert "Knee down, clear of the top" in plan.step("over-top").say[0]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('length = "42 mm"', 'length = "9 mm"', "must be more than the cutter, 10"),
        ('length = "42 mm"               # over its round ends\n'
         'length_plus = "0.2 mm"\nlength_minus = "0 mm"\n', "", "has a length"),
        ('length = "42 mm"', 'corner = "4 mm"\nlength = "42 mm"', "one of 8 mm at most"),
        ('from_end = "15 mm"', 'from_end = "-3 mm"', "must be more than zero"),
        ("centre_cutting = true", 'centre_cutting = "yes"', "wanted true or false"),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_so_is_refused_with_what_could(old, new, says):
    with pytest.raises(BadFile, match=says):
        read_job(changed(CLOSED, (old, new)), "a.toml")


def test_a_slotting_cutter_runs_out_of_a_slot_with_an_end():
    text = changed(
        "slot-inch",
        ('from_side = "1.000 in"', 'from_side = "1.000 in"\nlength = "2 in"'),
        ('kind = "end mill"\ndiameter = "3/8 in"\nteeth = 2\nreach = "7/8 in"',
         'kind = "slotting cutter"\ndiameter = "3 in"\nwidth = "0.500 in"'),
    )  # fmt: skip
    with pytest.raises(BadFile, match="wanted an end mill"):
        read_job(text, "a.toml")


@pytest.mark.parametrize("text", [text_of(CLOSED), open_ended()], ids=["closed", "one end open"])
def test_walked_from_start_to_end(text, tmp_path):
    path = tmp_path / "slot.toml"
    path.write_text(text, encoding="utf-8")
    said = walk_to_end(Job(path=path))
    assert any("length of the slot" in sentence for sentence in said)


@settings(max_examples=40, deadline=None)
@given(
    from_end=st.decimals("3", "60", places=2),
    length=st.decimals("12", "90", places=2),
    cutter=st.decimals("10.00", "10.10", places=2),
)
def test_the_dial_always_makes_the_length_and_the_place(from_end, length, cutter):
    """Near end = start - half the cutter, length = run + cutter, within half a line of the dial
    each; the paper and the touch drop out."""
    text = changed(
        CLOSED,
        ('from_end = "15 mm"', f'from_end = "{from_end} mm"'),
        ('length = "42 mm"', f'length = "{length} mm"'),
    )
    plan = plan_of(CLOSED, text, cutter_width=mm(cutter))
    start = magnitude(plan.step("to-start").target, "mm")
    finish = magnitude(plan.step("witness-1-cut").feed_target, "mm")
    near = start - cutter / 2 - Decimal("0.08") - cutter / 2
    assert abs(near - from_end) <= Decimal("0.01")
    assert abs(finish - start + cutter - (length + Decimal("0.05"))) <= Decimal("0.02")

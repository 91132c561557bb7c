"""Holes by coordinates: where the handwheels go, the order, the checks."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.errors import BadFile, BadInput, ImpossibleInput
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Cut, Measure, Move
from assistant.machine import load_machine
from assistant.present.glance import Moment
from assistant.session.state import DoubtKind
from assistant.units import inches, magnitude
from tests.factories import Job
from tests.jobs.walking import (
    MACHINES,
    changed,
    machine_of,
    plan_of,
    sheet,
    text_of,
    value,
    walk_to_end,
)

GRID, CIRCLE = "holes-grid", "holes-circle"


def holes_of(plan, axis: str, prefix: str = "") -> dict[int, Decimal]:
    """The positions told for an axis, by hole; a hole without a move stands where the last did."""
    found: dict[int, Decimal] = {}
    for step in plan.steps:
        if isinstance(step, Move) and step.id.startswith(f"{prefix}hole-") and step.axis == axis:
            unit = "inch" if plan.unit == "inch" else "mm"
            found[int(step.id.removeprefix(prefix).split("-")[1])] = magnitude(step.target, unit)
    return found


def test_a_left_front_corner_sends_table_left_and_saddle_out():
    """The work lies right of the left edge: to bring a place under the spindle it goes left.
    By hand: first hole 0.550, 0.500; the next 0.600 on: 1.150."""
    plan = plan_of(GRID)
    table, saddle = holes_of(plan, "table"), holes_of(plan, "saddle")
    assert [table[1], table[2], table[10]] == [Decimal("-0.55"), Decimal("-1.15"), Decimal("-5.95")]
    assert (saddle[1], saddle[11], saddle[51]) == (
        Decimal("-0.5"), Decimal("-1.1"), Decimal("-3.5")
    )  # fmt: skip
    figures = sheet(GRID)
    assert figures["hole-1-table"].what == "table left"
    assert figures["hole-1-saddle"].what == "saddle out"
    # from hole to hole: 0.600 is three turns of 0.200
    assert (figures["hole-2-table"].move.turns, figures["hole-2-table"].move.part) == (3, 0)


def test_a_right_edge_sends_the_table_right():
    plan = plan_of(CIRCLE)
    assert all(at > 0 for at in holes_of(plan, "table").values())
    assert all(at < 0 for at in holes_of(plan, "saddle").values())


@pytest.mark.parametrize("job", [GRID, CIRCLE])
def test_every_arrival_is_from_the_same_side_row_by_row(job):
    """Row by row in one direction: the table comes on the one way only, the saddle never turns
    back within a tool (common practice, no source)."""
    plan = plan_of(job)
    for axis in ("table", "saddle"):
        ways = {s.approach for s in plan.steps if isinstance(s, Move) and s.axis == axis}
        assert len(ways) == 1
    rows = list(holes_of(plan, "saddle").values())
    assert rows == sorted(rows, reverse=True)


def test_the_table_goes_round_for_a_new_row_and_straight_within_one():
    figures = sheet(GRID)
    assert figures["hole-11-table"].move.direction == "right"
    assert figures["hole-11-table"].move.back_off is not None
    assert all(figures[f"hole-{n}-table"].move.back_off is None for n in range(2, 11))


def test_edges_are_found_with_half_the_tip():
    """Tip 0.200: 0.100 on, and zeroed there."""
    plan = plan_of(GRID)
    over = plan.step("over-table")
    assert magnitude(over.target, "inch") == Decimal("-0.1")
    assert over.zero_after
    # a 10 mm tool with a 0.25 feeler, until another is told
    assert magnitude(plan_of(CIRCLE).step("over-saddle").target, "mm") == Decimal("-5.25")
    told = plan_of(CIRCLE, paper_saddle=inches("0.010").to("mm"))
    # 0.254 mm, on a dial of 0.02
    assert magnitude(told.step("over-saddle").target, "mm") == Decimal("-5.25")


def test_a_bolt_circle_lies_where_trigonometry_puts_it():
    """By the trigonometry of the standard library: x = R cos a, y = R sin a, seen from above."""
    plan = plan_of(CIRCLE)
    wanted = set()
    for number in range(8):
        angle = math.radians(22.5 + 45 * number)
        # datum at the right edge: the centre lies 55 to the left of it, which is negative x
        x, y = -55 + 40 * math.cos(angle), 55 + 40 * math.sin(angle)
        wanted.add((round(-x, 6), round(y, 6)))
    dims = {name: float(size.magnitude) for name, size in plan.drawing}
    found = {(round(-dims[f"x_{n}"], 6), round(dims[f"y_{n}"], 6)) for n in range(1, 9)}
    assert found == wanted
    # chord of eight on 80 mm: 80 sin 22.5 = 30.61 mm
    assert abs(value(plan, "chord", "mm") - Decimal("30.6147")) < Decimal("0.0001")


def test_what_is_set_is_within_a_quarter_of_a_division():
    plan = plan_of(CIRCLE)
    for step in plan.steps:
        if isinstance(step, Move) and "hole-" in step.id:
            exact = magnitude(step.terms_of.value, "mm")
            assert abs(abs(magnitude(step.target, "mm")) - exact) <= Decimal("0.005")


def test_through_depth_has_the_point_and_a_tenth_of_the_drill():
    """Letter F, 0.257: point 0.257 / 2 / tan 59 = 0.0772; 0.1875 + 0.0772 + 0.0257 = 0.2904."""
    assert abs(value(plan_of(GRID), "drill depth") - Decimal("0.2904")) < Decimal("0.0001")


def test_every_tool_goes_over_the_whole_pattern():
    plan = plan_of(CIRCLE)
    cuts = [step.id for step in plan.steps if isinstance(step, Cut)]
    assert cuts[:2] == ["hole-1-spot", "hole-2-spot"]
    assert cuts[8] == "hole-1-pilot"
    assert cuts[-1] == "hole-8-drill"
    assert len(cuts) == 24


def test_by_the_dial_the_quill_stops_at_the_depth_and_is_let_back():
    job = Job(CIRCLE)
    job.to_step("hole-1-pilot")
    # 20 mm + 3 / 2 / tan 59 = 20.90: eight turns of 2.5 and 0.90
    assert "Quill down, eight turns and" in job.say("what now")
    assert job.say("what now").endswith("point nine.")
    job.say("that's through")
    assert job.state.axes["quill"].position == job.state.axes["quill"].position * 0
    job.to_step("hole-2-pilot")
    assert job.say("what now").endswith("point nine.")


def test_the_feeler_over_a_begun_hole_is_asked_for_and_added():
    job = Job(CIRCLE)
    job.to_step("touch-pilot")
    assert "Paper" in job.say("touched")
    said = job.say("point two five")
    assert job.state.step_id == "paper-pilot"
    # 0.25 on a dial of 0.02 with half divisions
    assert "point two five" in said
    assert "zero it again" in said


def test_which_hole_and_how_many_left():
    job = Job(GRID)
    assert job.say("which hole") == "At no hole yet."
    assert job.say("how many holes left") == "60 holes in all."
    job.to_step("hole-13-table")
    assert job.say("which hole") == "Hole 13 of 60, row 2: letter F drill."
    job.to_step("hole-13-drill")
    seq = job.state.seq
    assert job.say("which hole") == "Hole 13 of 60, row 2: letter F drill."
    assert job.say("how many holes left") == "47 to go after this one."
    assert job.state.seq == seq
    job.say("where are we")
    assert job.glance.moment is Moment.HOLES
    assert dict(job.glance.drawing)["at"] == 13


def test_the_check_between_two_holes():
    """First at 0.550, 0.500, last at 5.950, 3.500: sqrt(5.4^2 + 3^2) = 6.1774, less 0.257."""
    step = plan_of(GRID).step("measure-between")
    assert isinstance(step, Measure)
    assert abs(magnitude(step.nominal, "inch") - Decimal("5.9204")) < Decimal("0.0001")
    job = Job(GRID)
    job.to_step("measure-between")
    assert "inside" in job.say("measured five point nine two one")


@pytest.mark.parametrize("job", [GRID, CIRCLE])
def test_the_demo_is_walked_to_its_end(job):
    work = Job(job)
    walk_to_end(work)
    assert work.assistant.steps_done[0] == work.assistant.steps_done[1]


def test_after_lost_count_the_edge_is_found_again():
    job = Job(GRID)
    job.to_step("hole-3-table")
    job.say("lost count")
    assert job.state.doubts
    assert job.glance.move is None


@pytest.mark.parametrize(
    ("job", "old", "new", "wrong"),
    [
        (GRID, 'pitch_x = "0.600 in"', 'pitch_x = "0.200 in"', "runs into"),
        (GRID, 'first_x = "0.550 in"', 'first_x = "0.100 in"', "datum edge"),
        (GRID, 'x = "6-1/2 in"', 'x = "5 in"', "off the work"),
        (GRID, 'diameter = "F"', 'diameter = "#98"', "number drills"),
        (GRID, "columns = 10", "columns = 0", "columns"),
        (GRID, "columns = 10", "columns = 100", "240"),
        (CIRCLE, 'pilot = "3 mm"', 'pilot = "9 mm"', "smaller"),
        (CIRCLE, "holes = 8", "holes = 1", "holes"),
        (CIRCLE, "[circle]", "[circel]", "holes"),
    ],
)
def test_what_cannot_be_is_refused_by_file_and_key(job, old, new, wrong):
    with pytest.raises(BadFile, match=wrong):
        read_job(changed(job, (old, new)), "a.toml")


def test_the_wrong_machine_is_refused():
    with pytest.raises(ImpossibleInput, match="vertical mill"):
        plan_for(text_of(GRID), "a.toml", load_machine(MACHINES / "millrace-horizontal.toml"), {})
    with pytest.raises(BadInput, match="quill"):
        plan_for(text_of(GRID), "a.toml", load_machine(MACHINES / "weir-vertical.toml"), {})
    with pytest.raises(BadInput, match="table"):
        plan_for(text_of(GRID), "a.toml", load_machine(MACHINES / "tarn-drill.toml"), {})
    stop = changed(CIRCLE, ('depth = "20 mm"', 'depth = "20 mm"\ndepth_by = "stop"'))
    with pytest.raises(ImpossibleInput, match="depth_stop"):
        plan_for(stop, "a.toml", machine_of(CIRCLE), {})


@given(
    spots=st.lists(
        st.tuples(st.integers(1, 30), st.integers(1, 20)), min_size=1, max_size=20, unique=True
    )
)
def test_single_holes_are_each_reached_and_in_rows(spots):
    """Whatever the order in the file: every place once, rows away from the front edge."""
    text = text_of(GRID)
    head, rest = text.split("[grid]")
    drill = "[drill]" + rest.split("[drill]")[1]
    head = head.replace('x = "6-1/2 in"\ny = "4 in"', 'x = "20 in"\ny = "20 in"')
    listed = "".join(f'[[holes]]\nx = "{x * 0.5} in"\ny = "{y * 0.5} in"\n' for x, y in spots)
    plan = plan_for(head + drill + listed, "some.toml", machine_of(GRID), {})
    at: dict[str, Decimal] = {}
    reached = []
    for step in plan.steps:
        if isinstance(step, Move) and step.id.startswith("hole-"):
            at[step.axis] = -magnitude(step.target, "inch")
        if isinstance(step, Cut):
            reached.append((at["table"], at["saddle"]))
    half = Decimal("0.5")
    assert sorted(reached) == sorted((x * half, y * half) for x, y in spots)
    assert reached == sorted(reached, key=lambda place: (place[1], place[0]))


def test_a_dial_that_slipped_in_a_hole_is_touched_again_without_losing_the_place():
    job = Job(CIRCLE)
    job.to_step("hole-3-pilot")
    assert "Touch for the depth where nothing is cut." in job.say("dial slipped")
    assert job.state.step_id == "touch-pilot"
    assert job.glance.move is None
    assert "Back to where we were." in job.says("touched", "bare")
    assert job.state.step_id == "hole-3-pilot"


def test_lost_count_of_the_quill_goes_back_to_the_touch_not_to_a_gauge():
    job = Job(CIRCLE)
    job.to_step("hole-3-pilot")
    assert "Back to the touch" in job.say("lost count")


def test_scratch_that_after_a_hole_asks_for_no_size():
    """The quill is back at its zero and the hole is as deep as the stop or the dial let it be."""
    job = Job(CIRCLE)
    job.to_step("hole-2-drill")
    job.say("that's through")
    assert "not the metal" in job.say("scratch that")
    assert DoubtKind.METAL not in [doubt.kind for doubt in job.state.doubts]
    assert job.state.step_id == "hole-2-drill"

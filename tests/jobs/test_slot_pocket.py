"""Slots wider than their cutter that end inside the work: numbers worked by hand; geometry and
common practice, no source. What such a plan leaves on a machine is tried in `tests/shop`."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.plan import Plan
from assistant.jobs.planning import plan_for, read_job
from assistant.jobs.steps import Check, Cut, Move
from assistant.machine import load_machine
from assistant.units import magnitude, mm
from tests.factories import Job
from tests.jobs.walking import MACHINES, changed, plan_of, value, walk_to_end

JOB = "slot-pocket"


def deep(*swaps: tuple[str, str]) -> str:
    """The demo's pocket, 5 deep in passes of 2."""
    return changed(
        JOB,
        ('depth = "3 mm"', 'depth = "5 mm"'), ('max_pass = "3 mm"', 'max_pass = "2 mm"'), *swaps,
    )  # fmt: skip


BACK, FRONT = 'touch_side = "back"', 'touch_side = "front"'


def opened(text: str) -> str:
    """The same pocket, begun at the end face."""
    return "\n".join(line for line in text.splitlines() if not line.startswith("from_end"))


def from_front() -> str:
    return deep((BACK, FRONT))


def target(plan: Plan, step_id: str) -> Decimal:
    """Where a move ends, or where a cut is fed to."""
    step = plan.step(step_id)
    place = step.feed_target if isinstance(step, Cut) else step.target  # type: ignore[attr-defined]
    return magnitude(place, "mm")


def cuts(plan: Plan, begins: str) -> list[Cut]:
    return [s for s in plan.steps if isinstance(s, Cut) and s.id.startswith(begins)]


def ways(plan: Plan) -> dict[str, tuple[str, int]]:
    """Axis and way of each cut that finishes a side."""
    return {
        cut.id.split("-")[0]: (cut.feed_axis, cut.feed_approach)
        for cut in plan.steps
        if isinstance(cut, Cut) and cut.id.startswith(("near", "far", "right", "left"))
    }


def test_the_roughing_worked_by_hand():
    """18 wide (+0.1, aimed 0.05 inside) with a cutter of 12 and 0.25 of stock: the cutter's middle
    goes 3.025 - 0.25 = 2.775 either side of the middle, 22 from the back. At the touch of the back
    it is 6 + 0.08 before it: rows at 6.08 + 22 - 2.775 = 25.305 and 30.855, set to half a line of
    0.02. They are 5.55 apart, less than 0.6 of the cutter: two do.
    Along: it begins 20 + 6 + 0.25 from the end, 32.33 from the touch, and stops at
    20 + 40.05 - 6 - 0.25 = 53.80, 59.88 from the touch: it runs 27.55."""
    plan = plan_of(JOB, deep())
    assert abs(target(plan, "to-first") - Decimal("25.305")) <= Decimal("0.005")
    assert abs(target(plan, "witness-1-row-2-over-cut") - Decimal("30.855")) <= Decimal("0.005")
    assert target(plan, "to-start") == Decimal("32.33")
    rows = [cut for cut in cuts(plan, "roughing") if cut.feed_axis == "table"]
    assert {target(plan, cut.id) for cut in rows} == {Decimal("59.88")}
    assert value(plan, "run", "mm") == Decimal("27.55")


def test_the_order_at_one_depth():
    """Plunged at its start; out, back, and into the row that is cut; over to the next at depth,
    which cuts; across the end, and out. 5.05 deep and 1 of room: on 2 mm a turn four turns, 8 mm.
    """
    plan = plan_of(JOB, deep())
    ids = [s.id for s in plan.steps]
    at = ids.index("roughing-2-across")
    assert ids[at : at + 11] == [
        "roughing-2-across", "roughing-2-in", "roughing-2-set", "roughing-2-cut",
        "roughing-2-row-2-out", "roughing-2-row-2-back", "roughing-2-row-2-in",
        "roughing-2-row-2-over-cut", "roughing-2-row-2-cut", "roughing-2-row-end-cut",
        "roughing-2-out",
    ]  # fmt: skip
    floor = target(plan, "roughing-2-set")
    assert target(plan, "roughing-2-row-2-out") == target(plan, "roughing-2-out") == floor - 8
    assert target(plan, "roughing-2-row-2-in") == floor
    # a floor that a cutter gave way at stands higher than its dial: 0.254 over it, on lines of 0.02
    assert abs(target(plan, "roughing-2-in") - (Decimal("0.10") - Decimal("0.254"))) <= 0.01
    assert plan.step("roughing-2-set").say == ("Spindle on: it plunges.",)
    over = plan.step("roughing-2-row-2-over-cut")
    assert over.say[0] == "It stands in row 1, clear."
    assert "it cuts" in over.say[2]


def test_the_floor_is_measured_with_the_cutter_out():
    """Out of the slot the knee stands at -3.20 with the dial of a pass to 4.80: measured 4.78, the
    dial is 0.02 ahead of the floor. To 5.05 it goes on to 5.07, set to whole lines of 0.02 inside
    the limits."""
    plan = plan_of(JOB, deep(), size_1=mm("4.78"), size_1_at=mm("-3.20"))
    assert abs(target(plan, "finishing-1-set") - Decimal("5.07")) <= Decimal("0.01")
    # where it stood in the cut says the same, and not that it is eight millimetres ahead
    cut = plan_of(JOB, deep(), size_1=mm("4.78"), size_1_at=mm("4.80"))
    assert target(cut, "finishing-1-set") == target(plan, "finishing-1-set")
    # the sides are cut at the dial at which the floor was in
    done = plan_of(JOB, deep(), size_1=mm("4.78"), size_1_at=mm("-3.20"),
                   size_2=mm("5.06"), size_2_at=mm("-2.92"))  # fmt: skip
    assert target(done, "near-roughing-1-in") == Decimal("5.08")


def test_the_ends_worked_by_hand():
    """20 from the end face to the near end (20 is aimed at, the usual 0.1 either way), 40.05 long.
    Finished, the cutter's middle stands 20 + 6 and 60.05 - 6 from the face, so 32.08 and 60.13 from
    the touch; half of the stock of 0.25 before that, 32.20 or 32.21 and 60.00 or 60.01."""
    plan = plan_of(JOB, deep())
    assert abs(target(plan, "right-roughing-1-set") - Decimal("32.205")) <= Decimal("0.015")
    assert abs(target(plan, "left-roughing-1-set") - Decimal("60.005")) <= Decimal("0.015")
    assert target(plan, "right-finishing-1-set") == Decimal("32.08")
    assert abs(target(plan, "left-finishing-1-set") - Decimal("60.13")) <= Decimal("0.01")


def test_a_middle_with_limits_to_one_side_is_aimed_at_inside_them():
    """22 +0.2 -0: 0.05 inside is 22.05, and the near wall 9.025 before it, at 13.025. Its limits
    are 22 - 9 and 22.2 - 9.05, so that the middle lies in its own however wide it becomes."""
    text = deep(('from_side = "22 mm"', 'from_side_plus = "0.2 mm"\nfrom_side = "22 mm"'))
    plan = plan_of(JOB, text)
    # with the dial at the touch 6.08 before the back, and the cutter's middle 3.025 from the middle
    assert abs(target(plan, "near-finishing-1-set") - Decimal("25.105")) <= Decimal("0.01")
    measure = plan.step("measure-near-size-2")
    assert (measure.low, measure.high) == (mm("13.00"), mm("13.15"))


def test_an_end_is_finished_from_what_was_measured():
    """With the table at 32.20 the near end lies at 20.15 and not at 20.12: on by 0.15, to 32.05 and
    not to 32.08. At 60.00 the pocket is 39.88 long and not 39.92: on by 0.17, to 60.17. Lines of
    0.02."""
    near = plan_of(JOB, deep(), right_size_1=mm("20.15"), right_size_1_at=mm("32.20"))
    assert abs(target(near, "right-finishing-1-set") - Decimal("32.05")) <= Decimal("0.01")
    far = plan_of(JOB, deep(), left_size_1=mm("39.88"), left_size_1_at=mm("60.00"))
    assert abs(target(far, "left-finishing-1-set") - Decimal("60.17")) <= Decimal("0.01")
    too_long = plan_of(JOB, deep(), left_size_1=mm("40.30"), left_size_1_at=mm("60.00"))
    assert "Too long" in too_long.step("left-too-far").say[0]


def test_the_walls_begin_at_the_ends_as_they_came_out():
    """The length was in with the table at 60.18: the back wall begins there."""
    plan = plan_of(
        JOB, left_size_1=mm("39.88"), left_size_1_at=mm("60.00"),
        left_size_2=mm("40.06"), left_size_2_at=mm("60.18"),
    )  # fmt: skip
    assert target(plan, "near-roughing-1-begin") == Decimal("60.18")
    assert target(plan, "far-roughing-1-cut") == Decimal("60.18")


@pytest.mark.parametrize("closed", [True, False], ids=["closed", "open"])
@pytest.mark.parametrize("side", ["back", "front"])
def test_every_side_is_milled_conventionally(side, closed):
    """A right-hand cutter turns clockwise seen from above: conventional has the metal on the left
    of the cutter's way. Along the back wall it goes right, so the table goes left; along the front
    wall the table goes right. Along the left-hand end it goes toward the back, so the saddle comes
    out; along the right-hand end the saddle goes in."""
    text = deep() if side == "back" else from_front()
    plan = plan_of(JOB, text if closed else opened(text))
    back, front = ("near", "far") if side == "back" else ("far", "near")
    want = {back: ("table", -1), front: ("table", 1), "left": ("saddle", -1)}
    if closed:
        want["right"] = ("saddle", 1)
    assert ways(plan) == want
    # rows go from the touched side: what is still to be cut lies ahead of them
    way = 1 if side == "back" else -1
    assert {cut.feed_approach for cut in cuts(plan, "roughing-2-row-2-cut")} == {way}
    assert f"table {'right' if way > 0 else 'left'}" in dict(plan.answers)["which_feed"]


@pytest.mark.parametrize("closed", [True, False], ids=["closed", "open"])
@pytest.mark.parametrize("side", ["back", "front"])
def test_places_are_set_from_one_side_and_feeds_end_at_the_dial_from_theirs(side, closed):
    """Every setting of table and saddle comes the way in which its surface was touched; a feed
    comes the way it cuts. None is so short that it would go round by the other side, which in a
    slot is a wall: twice the lost motion is 0.5 for the table, 0.6 for the saddle."""
    text = deep() if side == "back" else from_front()
    plan = plan_of(JOB, text if closed else opened(text))
    saddle = 1 if side == "back" else -1
    stands: dict[str, Decimal] = {}
    for step in plan.steps:
        if isinstance(step, Move) and step.axis in ("table", "saddle") and step.target is not None:
            assert step.approach == (1 if step.axis == "table" else saddle), step.id
            stands[step.axis] = magnitude(step.target, "mm")
        if isinstance(step, Cut) and step.feed_target is not None and step.feed_axis != "knee":
            to = magnitude(step.feed_target, "mm")
            least = Decimal("0.5") if step.feed_axis == "table" else Decimal("0.6")
            assert (to - stands[step.feed_axis]) * step.feed_approach >= least, step.id
            stands[step.feed_axis] = to


def test_open_at_its_end_it_begins_there_and_nothing_is_plunged():
    """A cutter and a half before the face: 6.08 - 18 = -11.92 from the touch. It stops at
    40.05 - 6 - 0.25 = 33.80, 39.88 from the touch."""
    plan = plan_of(JOB, opened(deep()))
    assert target(plan, "to-start") == Decimal("-11.92")
    assert target(plan, "witness-1-cut") == Decimal("39.88")
    assert "Feed the table in to the length" in plan.step("witness-1-cut").say[0]
    # across in the air, and only then up again
    ids = [s.id for s in plan.steps]
    at = ids.index("witness-1-row-2-out")
    assert ids[at : at + 4] == [
        f"witness-1-row-2-{name}" for name in ("out", "back", "across", "in")
    ]  # fmt: skip
    assert plan.step("witness-1-row-2-in").say == ("Clear of the end?",)
    # the front wall begins off the end, the back wall runs out there
    assert target(plan, "far-roughing-1-begin") == Decimal("-11.92")
    assert target(plan, "near-roughing-1-cut") == Decimal("-11.92")
    assert not any(s.id.startswith(("right", "corner")) for s in plan.steps)


def test_open_and_from_the_front_the_rows_beside_begin_at_the_end_inside():
    """The first row fills the cutter and comes from outside. There it goes over, and the others run
    out, since their metal lies toward the back."""
    plan = plan_of(JOB, opened(from_front()))
    ids = [s.id for s in plan.steps]
    at = ids.index("roughing-2-cut")
    assert ids[at : at + 4] == [
        "roughing-2-cut", "roughing-2-row-2-over-cut", "roughing-2-row-2-cut", "roughing-2-out",
    ]  # fmt: skip
    assert target(plan, "roughing-2-row-2-cut") == Decimal("-11.92")


def test_from_the_front_it_is_plunged_at_the_left_hand_end():
    """60.05 - 6 - 0.25 = 53.80 from the face. Fed back to its reading, a row stops short of the
    other end by the table's lost motion, 0.25: that is left there besides, and cut away with the
    half of what then stands there, 0.25 of 0.50."""
    plan = plan_of(JOB, from_front())
    assert target(plan, "to-start") == Decimal("59.88")
    assert magnitude(cuts(plan, "right-roughing-1")[0].taken, "mm") == Decimal("0.25")
    assert magnitude(cuts(plan_of(JOB, deep()), "right-roughing-1")[0].taken, "mm") == Decimal(
        "0.125"
    )


def test_the_last_corner_is_let_down_to():
    """The back wall was fed back to its reading at the right-hand end, and stopped short of it."""
    plan = plan_of(JOB, deep())
    assert target(plan, "corner-across") == target(plan, "near-finishing-1-set")
    assert target(plan, "corner-along") == target(plan, "right-finishing-1-set")
    front = plan_of(JOB, from_front())
    assert target(front, "corner-across") == target(front, "far-finishing-1-set")
    assert [s.id for s in plan.steps[-3:]] == ["corner-cut", "corner-out", "deburr"]
    assert target(plan, "corner-cut") == target(plan, "near-finishing-1-in")


def test_a_start_hole_is_drilled_where_the_spindle_stands():
    text = deep(("centre_cutting = true", "centre_cutting = false"))
    plan = plan_of(JOB, text)
    ids = [s.id for s in plan.steps]
    assert isinstance(plan.step("start-hole"), Check)
    assert ids.index("to-start") + 1 == ids.index("start-hole") == ids.index("touch-knee") - 1
    assert "start-hole" not in [s.id for s in plan_of(JOB, deep()).steps]
    assert "start-hole" not in [s.id for s in plan_of(JOB, opened(text)).steps]


def test_results_and_questions():
    plan = plan_of(JOB, deep())
    assert value(plan, "corners", "mm") == 6
    assert dict(plan.answers)["how_many_passes"] == "5 down, 2 rows each."
    length = plan.result("the length of the slot")
    assert length is not None
    assert (length.low, length.high) == (mm(40), mm("40.2"))
    assert dict(plan.drawing)["width"] == mm("18.05")


def test_the_questions_while_it_is_cut():
    job = Job(JOB)
    job.to_step("roughing-2-row-2-over-cut")
    assert "Saddle in" in job.say("which way do i feed")
    left = job.say("how much left")
    job.to_step("roughing-2-row-end-cut")
    assert "Saddle out" in job.say("which way do i feed")
    assert job.say("how much left") == left
    job.to_step("left-finishing-1-set")
    assert "Wanted" in job.say("why")
    job.to_step("near-roughing-1-cut")
    assert job.say("which way do i feed") == "Table left: conventional, no climbing."


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('corner = "6 mm"', 'corner = "5 mm"', "leaves 6, half of itself: wanted one of 10 mm"),
        ('length = "40 mm"', 'length = "12 mm"', "must be more than the cutter, 12"),
        ('kind = "end mill"', 'kind = "slotting cutter"\nwidth = "12 mm"', "wanted an end mill"),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_so_is_refused_with_what_could(old, new, says):
    text = deep((old, new))
    if "slotting" in new:
        text = text.replace("centre_cutting = true\n", "").replace('reach = "25 mm"\n', "")
    with pytest.raises(BadFile, match=says):
        read_job(text, "a.toml")


def test_a_slot_right_through_has_no_corners():
    text = opened(deep())
    text = "\n".join(line for line in text.splitlines() if not line.startswith("length"))
    with pytest.raises(BadFile, match="a slot with a corner has a length"):
        read_job(text, "a.toml")


def test_a_cutter_that_leaves_too_little_room_is_refused():
    """Stock of 0.25, lost motion of 0.30 and a line of 0.02 on both sides are 1.14: 16.91 of 18.05.
    Along: 0.25, 0.25 and 0.02 are 1.04."""
    with pytest.raises(ImpossibleInput, match=r"16\.91 at most"):
        plan_of(JOB, deep(("diameter = \"12 mm\"", "diameter = \"17 mm\""),
                             ('corner = "6 mm"', 'corner = "9 mm"')))  # fmt: skip
    short = deep(('length = "40 mm"', 'length = "13 mm"'))
    with pytest.raises(ImpossibleInput, match=r"slot of 13\.05: take one of 12\.01 at most"):
        plan_of(JOB, short, cutter_width=mm("12.02"))


def test_a_cutter_that_measures_over_the_drawings_corner_is_refused():
    """6.1 is half of 12.2: the usual 0.1 over the 6 of the drawing. A hair over its name is not."""
    plan_of(JOB, deep(), cutter_width=mm("12.05"))
    with pytest.raises(ImpossibleInput, match="the drawing has 6"):
        plan_of(JOB, deep(), cutter_width=mm("12.25"))


@pytest.mark.parametrize("opens", [False, True], ids=["closed", "open"])
@pytest.mark.parametrize("side", ["back", "front"])
@pytest.mark.parametrize("machine", ["weir-vertical", "mere-vertical"])
def test_walked_from_start_to_end(machine, side, opens, tmp_path: Path):
    text = deep((BACK, f'touch_side = "{side}"'), ("weir-vertical", machine))
    path = tmp_path / "slot.toml"
    path.write_text(opened(text) if opens else text, encoding="utf-8")
    said = walk_to_end(Job(path=path))
    assert any("length of the slot" in sentence for sentence in said)


def test_the_quill_goes_the_other_way():
    text = deep(("weir-vertical", "mere-vertical"), (BACK, f'{BACK}\ndepth_axis = "quill"'))
    plan = plan_for(text, "a.toml", load_machine(MACHINES / "mere-vertical.toml"), {})
    # 6.05 on 2.5 a turn: three turns up, and down again
    out, back = plan.step("near-roughing-1-out"), plan.step("near-finishing-1-in")
    assert isinstance(out, Move)
    assert (out.axis, out.approach) == ("quill", -1)
    assert target(plan, "near-finishing-1-in") - target(plan, out.id) == Decimal("7.5")
    assert back.say == ("Spindle on. Slowly: it cuts, down the side.",)


@settings(max_examples=30, deadline=None)
@given(
    width=st.decimals("14", "40", places=2),
    length=st.decimals("14", "90", places=2),
    from_end=st.decimals("3", "60", places=2),
    cutter=st.decimals("11.9", "12.1", places=2),
    side=st.sampled_from([BACK, FRONT]),
)
def test_the_dials_always_leave_stock_and_then_make_the_place(
    width, length, from_end, cutter, side
):
    """Roughed, the cutter's rim stays 0.25 inside the finished pocket all round, but for half a
    line of the dial; finished, both ends lie where they should, the paper and the touch drop
    out."""
    text = deep(
        (BACK, side), ('width = "18 mm"', f'width = "{width} mm"'),
        ('length = "40 mm"', f'length = "{length} mm"'),
        ('from_end = "20 mm"', f'from_end = "{from_end} mm"'),
        ('from_side = "22 mm"', 'from_side = "30 mm"'),
    )  # fmt: skip
    plan = plan_of(JOB, text, cutter_width=mm(cutter))
    half = cutter / 2
    along = [target(plan, "to-start"), target(plan, "witness-1-cut")]
    right, left = (at - half - Decimal("0.08") for at in sorted(along))
    near, far = from_end, from_end + length + Decimal("0.05")
    line = Decimal("0.01")
    assert abs(right - half - near - Decimal("0.25")) <= line
    assert abs(far - left - half - Decimal("0.25")) <= line
    right, left = (target(plan, f"{end}-finishing-1-set") - half - Decimal("0.08")
                   for end in ("right", "left"))  # fmt: skip
    assert abs(right - half - near) <= line
    assert abs(left + half - far) <= line
    rows = [target(plan, cut.id) for cut in cuts(plan, "roughing-2-row")
            if cut.feed_axis == "saddle"]  # fmt: skip
    rows = [abs(at) - half - Decimal("0.08") for at in (target(plan, "to-first"), *rows[:-1])]
    assert abs(min(rows) - half - (30 - (width + Decimal("0.05")) / 2) - Decimal("0.25")) <= line
    assert abs(30 + (width + Decimal("0.05")) / 2 - max(rows) - half - Decimal("0.25")) <= line
    # no row takes more than its share of the cutter
    gaps = [b - a for a, b in zip(sorted(rows), sorted(rows)[1:], strict=False)]
    assert all(gap <= 12 * Decimal("0.6") + line for gap in gaps)

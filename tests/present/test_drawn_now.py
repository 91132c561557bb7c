"""What a drawing shows at a step, against the numbers of the plan itself."""

from __future__ import annotations

import math
import re

import pytest

from assistant.app.paths import configs_folder
from assistant.drawing import (
    Circle,
    Dimension,
    Drawing,
    Ink,
    Line,
    Point,
    Polygon,
    Text,
)
from assistant.jobs.operations.square_block.drawing import HELD
from assistant.jobs.steps import Cut, Index, Measure
from assistant.present.drawings import draw, drawable
from assistant.present.drawn_now import planned_sizes
from assistant.present.glance_of import glance
from assistant.units import is_quantity, magnitude
from tests.factories import Job, expected_words

JOBS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))


def at(job: Job) -> Drawing:
    """The drawing of the step at hand."""
    shown = glance(job.state)
    drawing = draw(shown.drawing_kind, shown.drawing)
    assert drawing is not None, job.state.step_id
    return drawing


def full(job: Job, name: str) -> float:
    """A result of the plan in its unit."""
    plan = job.state.plan
    figure = plan.result(name)
    assert figure is not None
    return float(magnitude(figure.value, plan.unit))


def cut_depth(job: Job, step: str = "") -> float:
    """The depth of the cut at hand, or of a named one."""
    plan = job.state.plan
    cut = plan.step(step or job.state.step_id)
    assert isinstance(cut, Cut)
    return float(magnitude(cut.depth, plan.unit))


def lowest(drawing: Drawing, ink: Ink) -> float:
    """How deep the areas of an ink go; 0 where there is none."""
    points = [
        point[1]
        for item in drawing.items
        if isinstance(item, Polygon) and item.ink is ink
        for point in item.points
    ]
    return -min(points, default=0.0)


def area(points: tuple[Point, ...]) -> float:
    """By the shoelace formula."""
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def areas(drawing: Drawing, ink: Ink) -> float:
    return sum(area(i.points) for i in drawing.items if isinstance(i, Polygon) and i.ink is ink)


@pytest.mark.parametrize("name", JOBS)
def test_every_demo_job_has_its_drawing(name: str) -> None:
    plan = Job(name).state.plan
    assert drawable(plan.drawing_kind, planned_sizes(plan).items()), plan.operation


def test_a_hole_is_as_deep_as_its_pecks() -> None:
    job = Job("drill-press")
    done: dict[str, float] = {}
    seen = 0
    while not job.state.finished:
        step = job.state.step
        if isinstance(step, Cut) and step.depth.magnitude:
            drawing = at(job)
            tool = step.id.partition("-")[0]
            if tool != "sink":
                depth = cut_depth(job)
                if depth > max(done.values(), default=0.0):
                    assert lowest(drawing, Ink.NEXT) == pytest.approx(depth)
                assert lowest(drawing, Ink.VOID) == pytest.approx(max(done.values(), default=0.0))
                done[tool] = depth
                seen += 1
        words = "bang on" if isinstance(step, Measure) else expected_words(job.state)
        job.say(words)
    assert seen >= 14
    assert done["drill"] == pytest.approx(full(job, "drill depth"))
    sizes = planned_sizes(job.state.plan)  # type: ignore[arg-type]
    assert sizes["drill_across"] == pytest.approx(27 / 64)
    # 118 degrees: the point is as high as half the diameter over the tangent of 59
    assert sizes["drill_point"] == pytest.approx(27 / 128 / math.tan(math.radians(59)), rel=1e-4)


def test_a_tapped_hole_shows_drill_and_thread() -> None:
    job = Job("tap-blind")
    job.to_step("tap")
    drawing = at(job)
    sizes = dict(glance(job.state).drawing)
    assert lowest(drawing, Ink.VOID) == pytest.approx(full(job, "drill depth"))
    crests = [i for i in drawing.items if isinstance(i, Line) and i.ink is Ink.MARK]
    assert len(crests) == 2  # both flanks of the thread that is being cut
    ys = [y for _, y in crests[0].points]
    assert -min(ys) == pytest.approx(sizes["thread_deep"], abs=sizes["pitch"])
    assert max(abs(x) for x, _ in crests[0].points) == pytest.approx(5 / 32)


def test_a_gear_shows_the_spaces_that_are_cut() -> None:
    job = Job("gear-inch")
    job.to_step("rough-1-1-cut")
    first = at(job)
    plan = job.state.plan
    radius = float(magnitude(dict(plan.drawing)["blank"], "inch")) / 2
    assert radius - -lowest(first, Ink.NEXT) == pytest.approx(cut_depth(job))
    assert not [i for i in first.items if isinstance(i, Polygon) and i.ink is Ink.VOID]
    job.to_step("rough-4-1-cut")
    later = at(job)
    done = [i for i in later.items if isinstance(i, Polygon) and i.ink is Ink.VOID]
    assert len(done) == 3
    # each is as deep as the roughing pass, to the right of the one at hand on top
    for space in done:
        assert min(math.hypot(*p) for p in space.points) == pytest.approx(
            radius - cut_depth(job), rel=1e-3
        )
        assert sum(x for x, _ in space.points) > 0
    assert "4" in {i.text for i in later.items if isinstance(i, Text)}


NUMBERS = ("none", "one", "two", "three", "four", "five", "six")


def test_a_block_is_held_as_it_is_said() -> None:
    """The faces drawn against the words of the step: `Face one to the fixed jaw, face two down`."""
    job = Job("square-block-inch")
    for number in range(1, 7):
        job.to_step(f"face-{number}-hold")
        drawing = at(job)
        up, down, fixed, _moving = HELD[number]
        assert up == number
        assert drawing.title.startswith(
            f"face {up} up, face {down} down, face {fixed} to the fixed jaw"
        )
        assert job.state.step is not None
        said = " ".join(job.state.step.say).lower()
        for face, pattern in (
            (fixed, r"face (\w+) (?:still )?to the fixed jaw"),
            (down, r"face (\w+) down"),
        ):
            found = re.search(pattern, said)
            if found is not None:
                assert found[1] == NUMBERS[face], (number, said)
        places = {i.text: i.at for i in drawing.items if isinstance(i, Text)}
        assert places[str(up)][1] > places[str(fixed)][1] > places[str(down)][1]
        assert places[str(fixed)][0] < places[str(up)][0]


def test_the_tip_stands_where_it_touches() -> None:
    job = Job("centre-plate")
    job.to_step("touch-x-1")
    sides = {"left": (-1.5, 0.0), "right": (1.5, 0.0), "back": (0.0, 1.0), "front": (0.0, -1.0)}
    for step in ("touch-x-1", "touch-x-2"):
        job.to_step(step)
        touch = job.state.step
        assert touch is not None
        side = next(word for word in sides if word in touch.title)
        rings = [i for i in at(job).items if isinstance(i, Circle) and i.ink is Ink.MARK]
        assert rings
        assert all(ring.centre == pytest.approx(sides[side]) for ring in rings)
    tips = [i for i in at(job).items if isinstance(i, Circle) and i.ink is Ink.TOOL]
    # the tip touches with its side: its middle stands half its diameter off
    assert math.hypot(*tips[0].centre) == pytest.approx(1.5 + tips[0].radius)


def test_the_stack_is_the_plans() -> None:
    job = Job("angle-sine-bar")
    job.to_step("stack")
    drawing = at(job)
    block = next(i for i in drawing.items if isinstance(i, Polygon) and i.ink is Ink.NEXT)
    ys = [y for _, y in block.points]
    assert max(ys) - min(ys) == pytest.approx(full(job, "stack"))
    labels = [i.text for i in drawing.items if isinstance(i, Dimension)]
    assert labels == [f"{full(job, 'stack'):.4f}"]


def test_the_rise_is_the_plans() -> None:
    job = Job("angle-head")
    job.to_step("scale")
    drawing = at(job)
    assert f"{full(job, 'rise over the run'):.4f}" in drawing.title


def test_every_pass_of_a_thread_is_marked() -> None:
    job = Job("thread-external")
    plan = job.state.plan
    job.to_step("roughing-5-cut")
    plan = job.state.plan
    depths = {
        float(magnitude(step.depth, "inch"))
        for step in plan.steps
        if isinstance(step, Cut) and step.kind != "spring"
    }
    drawing = at(job)
    # the tip of each V is that deep, and shifted along the flank that the compound follows
    marks = [
        i.points for i in drawing.items
        if isinstance(i, Line) and i.ink is Ink.EDGE and len(i.points) == 3
    ]  # fmt: skip
    assert {round(-v[1][1], 9) for v in marks} == {
        round(d, 9) for d in depths if d > cut_depth(job)
    }
    sizes = dict(glance(job.state).drawing)
    assert sizes["infeed"] == 29.5
    slope = math.tan(math.radians(29.5))
    for _, (x, y), _ in marks:
        assert x == pytest.approx((sizes["depth_full"] + y) * slope)


def test_a_dovetail_grows_by_its_passes() -> None:
    job = Job("dovetail-inch")
    job.to_step("second-roughing-2-cut")
    drawing = at(job)
    plan = job.state.plan
    depth = 0.375
    cuts = {s.id: s for s in plan.steps if isinstance(s, Cut)}
    whole = cuts["second-roughing-1-cut"].taken + cuts["second-roughing-1-cut"].remaining
    total = float(magnitude(whole, "inch"))

    def triangle(name: str) -> float:
        moved = total - float(magnitude(cuts[name].remaining, "inch"))
        return moved**2 * depth / total / 2

    next_area = triangle("second-roughing-2-cut")
    assert areas(drawing, Ink.NEXT) == pytest.approx(next_area, rel=1e-3)
    first = total**2 * depth / total / 2
    done = triangle("second-roughing-1-cut")
    assert areas(drawing, Ink.VOID) == pytest.approx(first + done, rel=0.01)


def test_the_boring_head_stands_at_the_pass() -> None:
    job = Job("boring-head-inch")
    job.to_step("pass-2-cut")
    circles = [i for i in at(job).items if isinstance(i, Circle) and i.filled]
    now = next(i for i in circles if i.ink is Ink.VOID)
    after = next(i for i in circles if i.ink is Ink.NEXT)
    # its dial reads the diameter, and so are depths told: half of them on one side
    assert now.radius == pytest.approx(0.5 + cut_depth(job, "pass-1-cut") / 2)
    assert after.radius == pytest.approx(0.5 + cut_depth(job) / 2)


def test_the_table_stands_at_its_division() -> None:
    job = Job("divide-table")
    job.to_step("index-5")
    step = job.state.step
    assert isinstance(step, Index)
    drawing = at(job)
    assert step.figure is not None
    said = float(step.figure.value.to("degree").magnitude)
    label = next(i.text for i in drawing.items if isinstance(i, Text))
    assert 0 <= float(label.removesuffix("°")) - said < 4  # the rest is on the wheel's dial
    done = [i for i in drawing.items if isinstance(i, Circle) and i.filled and i.ink is Ink.EDGE]
    assert len(done) == 4


def test_facing_and_parting_go_as_deep_as_the_plan() -> None:
    job = Job("face-length")
    job.to_step("roughing-2-cut")
    drawing = at(job)
    slab = next(i for i in drawing.items if isinstance(i, Polygon) and i.ink is Ink.NEXT)
    xs = [x for x, _ in slab.points]
    assert max(xs) - min(xs) == pytest.approx(cut_depth(job) - cut_depth(job, "witness-1-cut"))
    job = Job("part-ring")
    job.to_step("part-cut")
    ring = next(i for i in at(job).items if isinstance(i, Polygon) and i.ink is Ink.NEXT)
    ys = [abs(y) for _, y in ring.points]
    assert (max(ys), min(ys)) == pytest.approx((20.0, 10.0))  # from the outside to the bore


def test_readings_stand_at_their_ends() -> None:
    job = Job("tram-head")
    job.to_step("sweep-x-1")
    job.says("left is two and a half thou", "right is zero")
    assert is_quantity(job.state.facts["x.1.left"])
    drawing = at(job)
    texts = {i.text: i.at[0] for i in drawing.items if isinstance(i, Text)}
    assert texts["0.0025"] < 0 < texts["0"]


def test_collars_are_drawn_with_what_was_measured() -> None:
    job = Job("tailstock-line")
    job.to_step("measure-head-1")
    job.say("32.02 millimetres")
    if job.state.question is not None:
        job.say("yes")
    job.to_step("measure-tail-1")
    job.say("32.06 millimetres")
    if job.state.question is not None:
        job.say("yes")
    drawing = at(job)
    assert {"32.02", "32.06"} <= {i.text for i in drawing.items if isinstance(i, Text)}
    # larger at the tailstock: that end stands away from the tool, which is below
    collars = [i for i in drawing.items if isinstance(i, Polygon) and i.ink is Ink.METAL][-2:]
    middles = [sum(y for _, y in c.points) / 4 for c in collars]
    assert middles[1] > middles[0]
    arrow = drawing.items[-2]
    assert isinstance(arrow, Line)
    assert arrow.arrow
    assert arrow.points[1][1] < arrow.points[0][1]  # and is brought towards it


def test_the_hole_at_hand_is_ringed_and_those_done_are_filled() -> None:
    job = Job("holes-grid")
    for _ in range(60):
        if "hole-4" in job.state.step_id:
            break
        job.say(expected_words(job.state))
    drawing = at(job)
    sizes = dict(glance(job.state).drawing)
    rings = [i for i in drawing.items if isinstance(i, Circle) and i.ink is Ink.MARK]
    assert any(r.centre == pytest.approx((sizes["x_4"], sizes["y_4"])) for r in rings)
    # near by: so crowded a map would have marks of a fiftieth of its width
    marks = [i.radius for i in drawing.items if isinstance(i, Circle) and i.ink is Ink.EDGE]
    assert max(marks) > drawing.width / 40

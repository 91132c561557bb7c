"""Drawings are to scale: areas and places are worked out here by other means."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.app.paths import configs_folder
from assistant.drawing import Circle, Drawing, Ink, Line, Point, Polygon, Text
from assistant.jobs.operations import OPERATIONS
from assistant.present.drawings import draw, drawable
from assistant.present.drawings.bar import band_chart, depth_bar, limits_chart
from assistant.present.drawings.dial import dial_sector, direction_arrow, turn_discs
from assistant.present.drawings.svg import TEXT_HEIGHT, to_svg
from assistant.present.drawn_now import planned_sizes
from assistant.present.glance import Bar, Limits
from assistant.spoken import DialMove
from tests.devices.glances import BOLT_CIRCLE, KNEE_UP, SADDLE_IN, SECTION
from tests.factories import Job

DIMS = {
    "keyseat": SECTION,
    "woodruff": (("shaft", 1.0), ("cutter", 0.75), ("depth_full", 0.28), ("key_over", 0.09)),
    "slot": (("width", 0.5), ("depth_full", 0.4)),
    "step": (("width", 0.6), ("depth_full", 0.2), ("cutter_width", 0.5)),
    "face": (("width", 3.0), ("depth_full", 0.1)),
    "keyway": (("bore", 1.25), ("width", 0.25), ("depth_full", 0.117)),
    "turned": (("stock", 1.5), ("finished", 1.25), ("length", 2.7), ("depth_full", 0.25)),
    "bored": (("stock", 0.9), ("finished", 1.1), ("length", 1.0), ("depth_full", 0.2)),
    "flats": (("stock", 1.0), ("sides", 6.0), ("across", 0.8), ("depth_full", 0.1)),
    "dovetail": (("wide", 2.0), ("narrow", 1.5), ("depth", 0.433), ("pin", 0.25)),
    "thread": (("pitch", 2.0), ("depth_full", 1.227), ("infeed", 29.5), ("pass_1", 0.5)),
    "holes": BOLT_CIRCLE,
    "bolt circle": BOLT_CIRCLE,
    "index": (("holes", 21.0), ("spaces", 15.0), ("turns", 5.0)),
    "taper": (("large", 1.0), ("small", 0.75), ("length", 3.0)),
    "hole": (
        ("pilot_across", 0.25),
        ("pilot_deep", 1.0),
        ("pilot_point", 0.075),
        ("drill_across", 0.5),
        ("drill_deep", 1.15),
        ("drill_point", 0.15),
        ("counterbore_across", 0.8),
        ("counterbore_deep", 0.3),
        ("sink_across", 0.6),
        ("sink_deep", 0.05),
        ("full_diameter", 1.0),
        ("drill_at", 1.0),
        ("drill_now", 0.4),
        ("drill_after", 0.7),
        ("thread_across", 0.56),
        ("thread_deep", 0.8),
        ("pitch", 0.05),
    ),
    "bore": (("bore", 1.25), ("hole", 1.0), ("depth", 0.75)),
    "faced": (("diameter", 1.25), ("length", 2.06), ("depth_full", 0.06), ("bore", 0.5)),
    "parted": (
        ("diameter", 40.0),
        ("bore", 20.0),
        ("length", 12.4),
        ("blade", 3.0),
        ("depth_full", 10.0),
    ),
    "knurled": (
        ("stock", 0.75),
        ("finished", 0.677),
        ("length", 0.375),
        ("depth_full", 0.073),
        ("teeth", 65.0),
        ("diamond", 1.0),
        ("knurl_at", 1.0),
    ),
    "gear": (
        ("teeth", 24.0),
        ("blank", 1.625),
        ("depth_full", 0.1434),
        ("at", 5.0),
        ("round_now", 0.1334),
    ),
    "block": (
        ("thickness", 1.0),
        ("width", 1.5),
        ("length", 3.0),
        ("at", 3.0),
        ("depth_full", 0.11),
    ),
    "angle": (("angle", 12.5), ("run", 3.0), ("bar", 5.0)),
    "centre": (
        ("tip", 0.2),
        ("first_x", -1.0),
        ("first_y", -1.0),
        ("x", 3.0),
        ("y", 2.0),
        ("tip_x", 1.0),
        ("tip_y", 0.0),
        ("touching", 1.0),
        ("done_x", 1.0),
    ),
    "dial-in": (("within", 0.001), ("inside", 0.0), ("swing", 0.004), ("pair", 1.0)),
    "swept": (
        ("sweep", 10.0),
        ("limit", 0.0005),
        ("vice", 0.0),
        ("at", 1.0),
        ("left", 0.0),
        ("right", 0.0015),
    ),
    "collars": (
        ("collar", 32.0),
        ("spacing", 200.0),
        ("length", 260.0),
        ("head", 32.0),
        ("tail", 32.03),
        ("shift", 0.03),
    ),
    "table": (("count", 11.0), ("step", 360 / 11), ("at", 5.0)),
}
"""Invented dimensions for each kind."""


def area(points: tuple[Point, ...]) -> float:
    """By the shoelace formula."""
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


def areas(drawing: Drawing, ink: Ink) -> float:
    return sum(
        area(item.points) for item in drawing.items if isinstance(item, Polygon) and item.ink is ink
    )


def strip(radius: float, half: float, depth: float) -> float:
    """Area that a straight cut of a width takes from the top of a circle, by integration."""
    count = 4000
    width = 2 * half / count
    return sum(
        max(0.0, math.sqrt(max(radius**2 - (-half + (i + 0.5) * width) ** 2, 0)) - radius + depth)
        * width
        for i in range(count)
    )


def planned() -> dict[str, tuple[tuple[str, float], ...]]:
    """The sizes of kinds that have none here: those of a demo job."""
    texts = {path.stem: path.read_text(encoding="utf-8") for path in sorted(JOBS.glob("*.toml"))}
    plans = [Job(name).state.plan for name, text in texts.items()
             if any(f'operation = "{one}"' in text for one in UNTRIED)]  # fmt: skip
    return {plan.drawing_kind: tuple(planned_sizes(plan).items()) for plan in plans}


JOBS = configs_folder() / "jobs"
UNTRIED = [name for name, one in OPERATIONS.items() if not set(one.draws) <= set(DIMS)]
ALL = {**planned(), **DIMS}


def test_every_kind_is_tried_here() -> None:
    kinds = [kind for one in OPERATIONS.values() for kind in one.draws]
    assert set(ALL) == set(kinds)
    assert len(set(kinds)) == len(kinds)


@pytest.mark.parametrize("kind", ALL)
def test_each_kind_draws_something_inside_its_box(kind: str) -> None:
    drawing = draw(kind, (*ALL[kind], ("depth_now", 0.05), ("depth_after", 0.1)))
    assert drawing is not None
    assert drawing.items
    assert drawing.title
    assert drawing.width > 0
    assert drawing.height > 0
    left, bottom, right, top = drawing.box
    inside = [
        point
        for item in drawing.items
        if isinstance(item, Line | Polygon)
        for point in item.points
        if left <= point[0] <= right and bottom <= point[1] <= top
    ]
    circles = [item for item in drawing.items if isinstance(item, Circle)]
    assert inside or circles


@pytest.mark.parametrize("kind", ALL)
def test_svg_is_well_formed_and_to_scale(kind: str) -> None:
    drawing = draw(kind, ALL[kind])
    assert drawing is not None
    root = ET.fromstring(to_svg(drawing, 120, 80))
    width, height = (float(root.attrib[name].removesuffix("mm")) for name in ("width", "height"))
    assert width <= 120.01
    assert height <= 80.01
    left, bottom, right, top = (share * TEXT_HEIGHT for share in drawing.room)
    across, up = width - left - right, height - bottom - top
    assert across / up == pytest.approx(drawing.width / drawing.height, rel=0.01)
    title = root.find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert title.text == drawing.title


def test_missing_dimensions_give_no_drawing() -> None:
    assert not drawable("keyseat", SECTION[:2])
    assert draw("keyseat", SECTION[:2]) is None
    assert draw("", ()) is None


@given(
    st.floats(0.5, 4), st.floats(0.1, 0.35), st.floats(0.05, 0.3), st.floats(0, 1), st.floats(0, 1)
)
def test_keyseat_areas(shaft: float, wide: float, deep: float, now: float, after: float) -> None:
    """What is cut, what this pass takes and what is left: by integration over the circle."""
    width, full = shaft * wide, shaft * deep
    now, after = sorted((now * full, after * full))
    drawing = draw(
        "keyseat",
        (("shaft", shaft), ("width", width), ("depth_full", full), ("depth_now", now),
         ("depth_after", after)),
    )  # fmt: skip
    assert drawing is not None
    radius, half = shaft / 2, width / 2
    cut = [strip(radius, half, depth) for depth in (now, after, full)]
    slack = shaft**2 * 2e-3
    assert areas(drawing, Ink.METAL) == pytest.approx(math.pi * radius**2 - cut[0], abs=slack)
    assert areas(drawing, Ink.NEXT) == pytest.approx(cut[1] - cut[0], abs=slack)
    assert areas(drawing, Ink.TOGO) == pytest.approx(cut[2] - cut[1], abs=slack)


@pytest.mark.parametrize(
    ("kind", "wide", "sides"), [("step", 0.6, 1), ("slot", 0.5, 1), ("keyway", 0.25, 1)]
)
def test_layers_are_to_scale(kind: str, wide: float, sides: int) -> None:
    dims = dict(DIMS[kind])
    full = dims["depth_full"]
    drawing = draw(kind, (*dims.items(), ("depth_now", full / 4), ("depth_after", full / 2)))
    assert drawing is not None
    assert areas(drawing, Ink.NEXT) == pytest.approx(wide * full / 4 * sides, rel=0.01)
    assert areas(drawing, Ink.TOGO) == pytest.approx(wide * full / 2 * sides, rel=0.01)


@pytest.mark.parametrize("kind", ["turned", "bored"])
def test_diameters_are_to_scale(kind: str) -> None:
    dims = dict(DIMS[kind])
    half = abs(dims["stock"] - dims["finished"]) / 2
    drawing = draw(kind, (*dims.items(), ("depth_now", 0.0), ("depth_after", 0.05)))
    assert drawing is not None
    share = 0.05 / dims["depth_full"]
    both = 2 * half * dims["length"]
    assert areas(drawing, Ink.NEXT) == pytest.approx(both * share)
    assert areas(drawing, Ink.TOGO) == pytest.approx(both * (1 - share))


def test_a_flat_takes_a_segment_of_the_round() -> None:
    """r² (a - sin a cos a), by integration in `strip` too."""
    drawing = draw("flats", (*DIMS["flats"], ("depth_now", 0.04), ("depth_after", 0.07)))
    assert drawing is not None

    def segment(depth: float) -> float:
        angle = math.acos((0.5 - depth) / 0.5)
        return 0.25 * (angle - math.sin(angle) * math.cos(angle))

    assert areas(drawing, Ink.NEXT) == pytest.approx(segment(0.07) - segment(0.04), rel=0.01)
    assert areas(drawing, Ink.TOGO) == pytest.approx(segment(0.1) - segment(0.07), rel=0.01)
    assert areas(drawing, Ink.VOID) == pytest.approx(segment(0.04), rel=0.01)


def test_the_pin_touches_floor_and_flank() -> None:
    drawing = draw("dovetail", DIMS["dovetail"])
    assert drawing is not None
    pin = next(item for item in drawing.items if isinstance(item, Circle) and item.centre[0] > 0)
    x, y = pin.centre
    assert y - pin.radius == pytest.approx(-0.433)
    # distance from the flank, through (1, -0.433) and (0.75, 0)
    run, rise = -0.25, 0.433
    away = abs(rise * (x - 1) - run * (y + 0.433)) / math.hypot(run, rise)
    assert away == pytest.approx(pin.radius)


def test_a_size_is_marked_where_it_lies_in_its_band() -> None:
    inside = band_chart(1.649, 1.664, 1.660, "four inside")
    mark = next(i for i in inside.items if isinstance(i, Polygon) and i.ink is Ink.MARK)
    low, high = (i.points[0][0] for i in inside.items[2:4] if isinstance(i, Line))
    assert (mark.points[0][0] - low) / (high - low) == pytest.approx(11 / 15)
    outside = band_chart(1.649, 1.664, 1.9, "over")
    arrow = outside.items[-1]
    assert isinstance(arrow, Line)
    assert arrow.arrow
    assert arrow.points[-1][0] == 10


def dial_labels(move: DialMove, way: str | None = None) -> dict[str, float]:
    """What is written at the dial, with how far right it stands."""
    drawing = dial_sector(move, way)
    return {item.text: item.at[0] for item in drawing.items if isinstance(item, Text)}


def with_hand(move: DialMove, rises: int, clockwise: int) -> DialMove:
    return replace(move, wheel=replace(move.wheel, rises=rises, clockwise=clockwise))


def test_dial_points_at_the_reading() -> None:
    drawing = dial_sector(with_hand(SADDLE_IN, 1, 0))
    labels = dial_labels(with_hand(SADDLE_IN, 1, 0))
    assert set(labels) == {"130", "140", "150", "numbers rise"}
    # 140½ stands under the line: 140 half a division to the left of it, 150 far to the right
    assert labels["130"] < labels["140"] < 0 < labels["150"]
    space = (labels["150"] - labels["130"]) / 20
    assert labels["140"] == pytest.approx(-space / 2, rel=0.1)
    ticks = [item for item in drawing.items if isinstance(item, Line) and len(item.points) == 2]
    assert len(ticks) == 24 + 1  # twelve to either side, and the mark


@pytest.mark.parametrize("rises", [1, -1])
@pytest.mark.parametrize("clockwise", [1, -1])
@pytest.mark.parametrize("way", ["in", "out"])
def test_the_hand_turns_the_dial_so_that_its_numbers_come_to_the_line(
    rises: int, clockwise: int, way: str
) -> None:
    """Seen by the one who turns it: the top of the ring goes with the hand, so the numbers that
    are still to come stand on the side that the hand comes from."""
    move = with_hand(SADDLE_IN, rises, clockwise)
    labels = dial_labels(move, way)
    positive = 1 if way == "in" else -1
    rising = rises * positive > 0
    assert ("numbers rise" in labels, "numbers fall" in labels) == (rising, not rising)
    (arrow,) = [
        item for item in dial_sector(move, way).items if isinstance(item, Line) and item.arrow
    ]
    to_the_right = arrow.points[-1][0] > arrow.points[0][0]  # over the top of the wheel
    assert to_the_right is (clockwise * positive > 0)
    coming = labels["150"] if rising else labels["130"]
    assert (coming < 0) is to_the_right


def test_no_hand_is_drawn_where_the_profile_does_not_tell_or_nothing_moves() -> None:
    for move, way in ((with_hand(SADDLE_IN, 1, 0), "in"), (with_hand(SADDLE_IN, 1, 1), "")):
        drawing = dial_sector(move, way)
        assert not [item for item in drawing.items if isinstance(item, Line) and item.arrow]
        assert not [item for item in drawing.items if isinstance(item, Circle)]
    assert not any("numbers" in text for text in dial_labels(SADDLE_IN, ""))


def test_turns_are_counted_in_discs() -> None:
    drawing = turn_discs(SADDLE_IN)
    full = [item for item in drawing.items if isinstance(item, Circle) and item.filled]
    assert len(full) == 4
    part = next(item for item in drawing.items if isinstance(item, Polygon))
    assert area(part.points) == pytest.approx(math.pi * 0.1405 / 0.2, rel=0.01)
    assert not [i for i in turn_discs(KNEE_UP).items if isinstance(i, Circle) and i.filled]


@pytest.mark.parametrize(
    ("one", "other"), [("up", "down"), ("left", "right"), ("in", "out"), ("up", "in")]
)
def test_every_way_has_its_own_arrow(one: str, other: str) -> None:
    assert direction_arrow(one).items != direction_arrow(other).items
    assert direction_arrow(one).items


def test_bar_is_to_scale() -> None:
    drawing = depth_bar(Bar(0.2, 0.05, 0.15, (0.05, 0.15, 0.2)))
    assert areas(drawing, Ink.METAL) == pytest.approx(0.25)
    assert areas(drawing, Ink.NEXT) == pytest.approx(0.5)
    assert areas(drawing, Ink.TOGO) == pytest.approx(0.25)


def test_limits_chart_puts_the_size_where_it_lies() -> None:
    chart = limits_chart(Limits(1.649, 1.664, "1.649", "1.664", 1.666, "1.666"))
    assert chart is not None
    at = {item.text: item.at[0] for item in chart.items if isinstance(item, Text)}
    assert at["1.649"] < at["1.664"] < at["1.666"]
    share = (at["1.666"] - at["1.664"]) / (at["1.664"] - at["1.649"])
    assert share == pytest.approx(2 / 15, rel=1e-6)
    assert limits_chart(Limits(None, None)) is None
    assert limits_chart(Limits(None, 2.0, "", "2.000")) is not None


def grid(columns: int, rows: int, at: int) -> tuple[tuple[str, float], ...]:
    """Holes half an inch apart, row by row."""
    places = [
        (f"{axis}_{row * columns + place + 1}", 0.5 * (place if axis == "x" else row))
        for row in range(rows)
        for place in range(columns)
        for axis in "xy"
    ]
    return (*places, ("hole", 0.25), ("at", float(at)))


@pytest.mark.parametrize(("columns", "rows"), [(8, 8), (10, 6), (3, 16), (16, 2)])
def test_of_a_crowded_map_the_whole_stands_clear_of_the_part(columns: int, rows: int) -> None:
    for at in range(1, columns * rows + 1):
        drawing = draw("holes", grid(columns, rows, at))
        assert drawing is not None
        (frame,) = [
            one for one in drawing.items
            if isinstance(one, Line) and one.points[0] == one.points[-1]
        ]  # fmt: skip
        circles = [one for one in drawing.items if isinstance(one, Circle)]
        # the whole is drawn last, and has every hole
        near, far = circles[: -columns * rows], circles[-columns * rows :]
        rings = [one for one in near if one.ink is Ink.EDGE and one.radius > 0.1]
        assert len(rings) == min(columns, 5) * min(rows, 3), "the part is full, also at the rim"
        start = min(*(x for x, _ in frame.points), *(one.centre[0] - one.radius for one in far))
        assert max(one.centre[0] + one.radius for one in near) < start
        _, low_y, high_x, high_y = drawing.box
        for one in circles:
            assert one.centre[0] + one.radius <= high_x
            if one in far:
                assert low_y <= one.centre[1] - one.radius
                assert one.centre[1] + one.radius <= high_y


def test_a_hole_in_section_is_wide_enough_to_be_seen_from_afar() -> None:
    """As a share of the drawing's height, which is what the page has little of."""
    drawing = draw("hole", DIMS["hole"])
    assert drawing is not None
    assert drawing.width / drawing.height < 1
    deep = draw("hole", (("drill_across", 0.25), ("drill_deep", 1.5), ("drill_point", 0.075)))
    assert deep is not None
    metal = next(one for one in deep.items if isinstance(one, Polygon) and one.ink is Ink.METAL)
    wide = max(x for x, _ in metal.points) - min(x for x, _ in metal.points)
    assert 0.25 * 1.5 < wide < 0.25 * 3, "metal on both sides, and no more than shows the hole"

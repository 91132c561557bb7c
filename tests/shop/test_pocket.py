"""Pockets wider than their cutter, milled in the shop of numbers from what is said and shown: they
come out on the drawing, no cut goes past it on the way, nothing climbs, and the cutter meets metal
only where it was told to cut, with the spindle on and what has to stand still locked."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.app.paths import configs_folder
from tests.factories import Job
from tests.shop.pocket import Pocket, PocketMiller, Sweep, mill_pocket

METRIC = (
    (configs_folder() / "jobs" / "slot-pocket.toml").read_text(encoding="utf-8")
    .replace('depth = "3 mm"', 'depth = "5 mm"').replace('max_pass = "3 mm"', 'max_pass = "2 mm"')
)  # fmt: skip
"""The demo's pocket, deeper and in thinner passes."""
WEIR = (configs_folder() / "machines" / "weir-vertical.toml").read_text(encoding="utf-8")
MERE = (configs_folder() / "machines" / "mere-vertical.toml").read_text(encoding="utf-8")
MISREAD = {"mm": 0.005, "inch": 0.0005}
"""A gauge is read to the nearest hundredth, or thousandth: half of it isn't seen."""

INCH = """
title = "Pocket for the slide of an invented type caster"
operation = "slot"
machine = "sluice-vertical"
unit = "inch"
material = "aluminium"
holding = "vice"
touch_side = "SIDE"

[slot]
width = "0.800 in"
width_plus = "0.004 in"
width_minus = "0 in"
depth = "0.200 in"
depth_plus = "0.006 in"
depth_minus = "0 in"
from_side = "0.900 in"
from_end = "0.750 in"
length = "1.500 in"
length_plus = "0.006 in"
length_minus = "0 in"
corner = "1/4 in"

[cutter]
kind = "end mill"
diameter = "3/8 in"
teeth = 2
reach = "7/8 in"
max_pass = "0.080 in"
"""


@dataclass(frozen=True)
class Drawing:
    """The limits of the job file, in its unit, and the plate."""

    unit: str
    width: tuple[float, float]
    length: tuple[float, float]
    depth: tuple[float, float]
    middle: tuple[float, float]
    """From the touched side to the middle between the walls."""
    from_end: tuple[float, float] | None
    """None where it is open there."""
    corner: float
    max_pass: float
    plate: tuple[float, float]
    cutter: float


# 0.1 mm, or .005, either way where the file says nothing: common practice, no source
CLOSED = Drawing("mm", (18, 18.1), (40, 40.2), (5, 5.1), (21.9, 22.1), (19.9, 20.1), 6, 2,
                 (80, 45), 12)  # fmt: skip
OPEN = Drawing("mm", (18, 18.1), (40, 40.2), (5, 5.1), (21.9, 22.1), None, 6, 2, (80, 45), 12)
INCHES = Drawing("inch", (0.8, 0.804), (1.5, 1.506), (0.2, 0.206), (0.895, 0.905),
                 (0.745, 0.755), 0.1875, 0.08, (3, 1.9), 0.375)  # fmt: skip


def text_with(text: str, **lines: str | None) -> str:
    """A file with lines changed by their key; None leaves out the key and its tolerance."""
    made = []
    for line in text.splitlines():
        key = line.split("=")[0].strip()
        base = key.removesuffix("_plus").removesuffix("_minus")
        if base in lines and lines[base] is None:
            continue
        made.append(f"{key} = {lines[key]}" if lines.get(key) is not None else line)
    return "\n".join(made)


def milled(folder: Path, drawing: Drawing, text: str, seed: int, machine: str = "") -> PocketMiller:
    """The job of that text worked to its end."""
    path = folder / "pocket.toml"
    path.write_text(text, encoding="utf-8")
    if machine:
        name = text.split('machine = "')[1].split('"')[0]
        (folder / f"{name}.toml").write_text(machine, encoding="utf-8")
    back = 'touch_side = "back"' in text
    _, middle = _middle(drawing, back)
    start = 0.0 if drawing.from_end is None else sum(drawing.from_end) / 2
    return mill_pocket(
        Job(path=path), seed, scale=1.0 if drawing.unit == "mm" else 1 / 25.4,
        size=drawing.plate, middle=(-start - sum(drawing.length) / 4, middle),
        diameter=drawing.cutter, back=back, down="quill" if '"quill"' in text else "knee",
    )  # fmt: skip


def _middle(drawing: Drawing, back: bool) -> tuple[float, float]:
    from_side = sum(drawing.middle) / 2
    return from_side, drawing.plate[1] - from_side if back else from_side


def on_the_drawing(drawing: Drawing, made: PocketMiller) -> None:
    """Everything that the drawing asks for, and what would have scrapped the part or the cutter on
    the way. Metal doesn't come back: a cut past a limit stays."""
    pocket, plate, slack = made.work, made.work.plate, MISREAD[drawing.unit]
    x, y = pocket.middle
    low, high = (limit / 2 for limit in drawing.depth)
    left, right = plate.ends(y, low)
    long, broad = drawing.length[0], drawing.width[0]
    r = drawing.cutter / 2
    for share in range(-4, 5):  # all along the straight of walls and ends
        front, back = plate.walls(x + share / 9 * (long - 2.1 * r), low)
        assert drawing.width[0] - slack <= back - front <= drawing.width[1] + slack
        near = plate.width - (front + back) / 2 if pocket.back else (front + back) / 2
        assert drawing.middle[0] - slack <= near <= drawing.middle[1] + slack
        left, right = plate.ends(y + share / 9 * (broad - 2.1 * r), low)
        if drawing.from_end is not None:
            assert drawing.from_end[0] - slack <= -right <= drawing.from_end[1] + slack
        else:
            assert right > 0
        reach = min(right, 0.0) - left
        assert drawing.length[0] - slack <= reach <= drawing.length[1] + slack
    shallow, deep = floor(pocket, left, min(right, 0.0), *plate.walls(x, high), r)
    assert drawing.depth[0] - slack <= shallow <= deep <= drawing.depth[1] + slack
    corners(drawing, pocket, left, right, *plate.walls(x, low))
    by_the_way(drawing, pocket)


def floor(
    pocket: Pocket, left: float, right: float, front: float, back: float, r: float
) -> tuple[float, float]:
    """The shallowest and the deepest place of the floor, but for its round corners."""
    found = [
        pocket.plate.floor((left + a, right - a, front + b, back - b))
        for a, b in ((r, 0.02 * r), (0.02 * r, r))
    ]
    return min(low for low, _ in found), max(high for _, high in found)


def corners(
    drawing: Drawing, pocket: Pocket, left: float, right: float, front: float, back: float
) -> None:
    """No corner is rounder than the drawing has it, by more than a hand sets two dials: what
    stands in it, from the sharp corner inward at 45 degrees, is (1 - sqrt(1/2)) of the radius
    either way."""
    r = drawing.corner * 1.02
    ends = [(left, 1)] + ([(right, -1)] if drawing.from_end is not None else [])
    deep = [s for s in pocket.plate.sweeps if s.depth > drawing.depth[0] * 0.9]
    for end, inward in ends:
        for wall, up in ((front, 1), (back, -1)):
            at = (end + inward * r * (1 - 0.5**0.5), wall + up * r * (1 - 0.5**0.5))
            assert any(sweep.covers(*at) for sweep in deep), f"something stands in {at}"


def by_the_way(drawing: Drawing, pocket: Pocket) -> None:
    """Passes no deeper than the cutter takes, but for thin ones along walls; and roughing that
    left stock all round."""
    scale, plate = pocket.scale, pocket.plate
    for bite in pocket.bites:
        assert bite.deep <= drawing.max_pass * 1.03 + 0.02 * scale, bite
    x, y = pocket.middle
    low = drawing.depth[0] / 2
    # half the stock may be left, where that is inside the limits already
    least, most = 0.09 * scale, pocket.thin + 0.3 * scale
    after, before = plate.walls(x, low), plate.walls(x, low, pocket.roughed)
    assert least < before[0] - after[0] < most
    assert least < after[1] - before[1] < most
    after, before = plate.ends(y, low), plate.ends(y, low, pocket.roughed)
    assert least < before[0] - after[0] < most
    if drawing.from_end is not None:
        assert least < after[1] - before[1] < most


FROM_FRONT = text_with(METRIC, touch_side='"front"')
WORN = text_with(WEIR, backlash='"0.42 mm"', rises='"left"', zero='"fixed"').replace(
    '[axes.saddle]\nper_turn = "4 mm"\ngraduation = "0.02 mm"\nrises = "left"',
    '[axes.saddle]\nper_turn = "5 mm"\ngraduation = "0.02 mm"\nrises = "out"',
).replace(
    '[axes.knee]\nper_turn = "2 mm"\ngraduation = "0.02 mm"\nrises = "left"\nzero = "fixed"\n'
    'backlash = "0.42 mm"',
    '[axes.knee]\nper_turn = "2.5 mm"\ngraduation = "0.02 mm"\nrises = "down"\nzero = "fixed"\n'
    'backlash = "0.05 mm"',
)  # fmt: skip
WIDE = Drawing("mm", (30, 30.1), (36, 36.2), (5, 5.1), (24.9, 25.1), (19.9, 20.1), 6, 2,
               (75, 52), 12)  # fmt: skip

Case = tuple[Drawing, str, str]
CASES: dict[str, Callable[[], Case]] = {
    "closed": lambda: (CLOSED, METRIC, ""),
    "closed, from the front": lambda: (CLOSED, FROM_FRONT, ""),
    "open": lambda: (OPEN, text_with(METRIC, from_end=None), ""),
    "open, from the front": lambda: (OPEN, text_with(FROM_FRONT, from_end=None), ""),
    "start hole": lambda: (CLOSED, text_with(METRIC, centre_cutting="false"), ""),
    "worn screws, falling dials that can't be set": lambda: (CLOSED, METRIC, WORN),
    "worn screws, from the front": lambda: (CLOSED, FROM_FRONT, WORN),
    "worn screws, open": lambda: (OPEN, text_with(METRIC, from_end=None), WORN),
    "worn screws, open, from the front": lambda: (
        OPEN, text_with(FROM_FRONT, from_end=None), WORN,
    ),
    "four rows": lambda: (WIDE, text_with(METRIC, width='"30 mm"', length='"36 mm"',
                                          from_side='"25 mm"'), ""),
    "inch": lambda: (INCHES, INCH.replace("SIDE", "back"), ""),
    "inch, from the front": lambda: (INCHES, INCH.replace("SIDE", "front"), ""),
}  # fmt: skip


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("case", CASES)
def test_a_pocket_is_on_the_drawing(case: str, seed: int, tmp_path: Path) -> None:
    drawing, text, machine = CASES[case]()
    on_the_drawing(drawing, milled(tmp_path, drawing, text, seed, machine))


def by_chance(chance: random.Random) -> Case:
    """A pocket of any size, from either side, open or closed, on a machine with any dials and worn
    screws, where the quill or the knee sets the depth."""
    down, level, turn = chance.choice(("knee", "quill")), False, 0.0
    rises: tuple[str, str] = ("up", "down")
    profile = []
    for line in MERE.splitlines():
        key = line.split("=")[0].strip()
        if line.startswith("[axes."):
            ways = {"table": ("left", "right"), "saddle": ("in", "out")}
            rises = ways.get(line.strip("[]").removeprefix("axes."), ("up", "down"))
            level = rises != ("up", "down")
        match key:
            case "per_turn":
                turn = chance.choice((2, 2.5, 4, 5))
                line = f'per_turn = "{turn} mm"'
            case "climb":
                continue  # nobody climbs on screws as worn as these may be
            case "rises":
                line = f'rises = "{chance.choice(rises)}"'
            case "zero":
                line = f'zero = "{chance.choice(("fixed", "settable"))}"'
            case "backlash":
                # more than a quarter of a turn, and no reading tells which turn it is
                worn = chance.uniform(0, turn / 4 - 0.01) if level else chance.uniform(0, 0.1)
                line = f'backlash = "{worn:.2f} mm"'
        profile.append(line)
    cutter = chance.choice((8, 10, 12))
    width = round(cutter + chance.uniform(3.5, 20), 1)
    length = round(cutter + chance.uniform(3.5, 40), 1)
    from_end = round(chance.uniform(8, 25), 1) if chance.random() < 0.6 else None
    from_side = round(width / 2 + chance.uniform(6, 15), 1)
    deep, most = round(chance.uniform(2, 8), 1), round(chance.uniform(1, 3), 1)
    drawing = Drawing(
        "mm", (width, width + 0.1), (length, length + 0.2), (deep, deep + 0.1),
        (from_side - 0.1, from_side + 0.1),
        None if from_end is None else (from_end - 0.1, from_end + 0.1), cutter / 2, most,
        (length + (from_end or 0) + 15, from_side + width / 2 + 12), cutter,
    )  # fmt: skip
    lines = text_with(
        METRIC, machine='"mere-vertical"', touch_side=f'"{chance.choice(("back", "front"))}"',
        width=f'"{width} mm"', length=f'"{length} mm"', depth=f'"{deep} mm"',
        from_side=f'"{from_side} mm"', from_end=None if from_end is None else f'"{from_end} mm"',
        diameter=f'"{cutter} mm"', corner=f'"{cutter / 2} mm"', max_pass=f'"{most} mm"',
    )  # fmt: skip
    step_over = cutter * chance.uniform(0.4, 1)
    head = f'depth_axis = "{down}"\nstep_over = "{step_over:.2f} mm"\n'
    head += f'wall_stock = "{chance.uniform(0.2, 0.5):.2f} mm"\n'
    return drawing, lines.replace("[slot]", f"{head}\n[slot]"), "\n".join(profile)


@pytest.mark.parametrize("seed", range(8))
def test_any_pocket_is_on_its_drawing(seed: int, tmp_path: Path) -> None:
    drawing, text, machine = by_chance(random.Random(seed))
    on_the_drawing(drawing, milled(tmp_path, drawing, text, seed, machine))


def test_what_these_trials_would_see() -> None:
    """The judge itself: a hair outside a limit, or a corner left standing, is found."""
    sweep = Sweep((-50, 20), (-30, 20), 6, 5)
    assert sweep.covers(-40, 25.999)
    assert not sweep.covers(-40, 26.001)
    assert sweep.covers(-55.999, 20)
    assert not sweep.covers(-56, 24)
    assert sweep.on_line_x(-40) == (14, 26)
    assert sweep.on_line_y(20) == (-56, -24)

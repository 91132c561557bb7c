"""Slots and steps drawn by chance, on machines drawn by chance, milled in the shop of numbers."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.factories import Job
from tests.shop.block import Block
from tests.shop.changed import changed
from tests.shop.miller import Miller
from tests.shop.milling import Pass
from tests.shop.test_blocks import StepAlong
from tests.shop.test_slot import Slot

MISREAD = 0.0003
"""Inches: a gauge read to half a thou is a quarter off, and the hand that set it is unsteady."""


def machine(chance: random.Random, quill: bool) -> dict[str, str]:
    """Screws, dials and wear of any kind."""
    made: dict[str, str] = {}
    for axis, ways in (("table", ("left", "right")), ("saddle", ("in", "out")),
                       ("quill" if quill else "knee", ("up", "down"))):  # fmt: skip
        made[f"machine:axes.{axis}.per_turn"] = f'"{chance.choice((0.1, 0.125, 0.2, 0.25))} in"'
        made[f"machine:axes.{axis}.rises"] = f'"{chance.choice(ways)}"'
        made[f"machine:axes.{axis}.zero"] = f'"{chance.choice(("fixed", "settable"))}"'
        made[f"machine:axes.{axis}.backlash"] = f'"{chance.uniform(0, 0.06):.3f} in"'
    return made


def common(chance: random.Random, cutter: float) -> tuple[dict[str, str], bool, bool]:
    """What every such job has, whether the back is touched, and whether the quill sets depths."""
    back, quill = chance.random() < 0.5, chance.random() < 0.4
    made = {
        "touch_side": '"back"' if back else '"front"',
        "depth_axis": '"quill"' if quill else '"knee"',
        "step_over": f'"{cutter * chance.uniform(0.25, 1):.3f} in"',
        "wall_stock": f'"{chance.uniform(0.004, 0.025):.3f} in"',
        "finishing_cut": f'"{chance.choice((0.004, 0.008, 0.015))} in"',
        "witness": f'"{chance.choice((0, 0.003, 0.006))} in"',
        "cutter.diameter": f'"{cutter} in"',
        "cutter.max_pass": f'"{chance.uniform(0.02, 0.12):.3f} in"',
        "cutter.reach": '"1.5 in"',
        **machine(chance, quill),
    }
    return made, back, quill


def sized(name: str, size: float, plus: float, minus: float) -> dict[str, str]:
    return {
        name: f'"{size:.3f} in"',
        f"{name}_plus": f'"{plus} in"',
        f"{name}_minus": f'"{minus} in"',
    }


def within(made: dict[str, str], passes: list[Pass]) -> None:
    """No pass deeper than the cutter takes; a wall is finished down its whole depth, in little."""
    most, stock = (float(made[name].strip('" in')) for name in ("cutter.max_pass", "wall_stock"))
    for one in passes:
        assert one.deep <= most * 1.05 + 0.0005 or one.side <= stock + 0.006, one


@pytest.mark.parametrize("seed", range(25))
def test_any_slot_is_on_its_drawing(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    cutter = chance.choice((0.25, 0.3125, 0.375, 0.5, 0.625))
    width = cutter + chance.choice((0, 0.003, 0.02, 0.06, cutter * chance.uniform(0.1, 1.4)))
    depth = chance.uniform(0.02, 0.5)
    side = width / 2 + chance.uniform(0.1, 0.8)
    plus, minus = chance.choice(((0.002, 0), (0.003, 0.003), (0.005, 0), (0.002, 0.001)))
    deeper, less = chance.choice(((0.005, 0), (0.003, 0.003), (0.004, 0)))
    slack = chance.choice((0.003, 0.005, 0.010))
    made, back, quill = common(chance, cutter)
    made |= sized("slot.width", width, plus, minus)
    made |= sized("slot.depth", depth, deeper, less)
    made |= sized("slot.from_side", side, slack, slack)
    width, depth, side = round(width, 3), round(depth, 3), round(side, 3)
    smaller = 0.0 if width == cutter else chance.uniform(0, 0.002)
    miller = Miller(
        Job("slot-inch", changed(tmp_path, "slot-inch", made)),
        lambda by, wheels: Slot(
            Block(by.uniform(2, 4), side + width / 2 + by.uniform(0.1, 1)), cutter - smaller, back,
            side, by, wheels, deepening="quill" if quill else "knee",
        ),
        seed,
    )  # fmt: skip
    miller.work_it()
    slot = miller.work
    assert isinstance(slot, Slot)
    near, far = slot.walls
    low, high = slot.floor()
    assert width - minus - MISREAD <= far - near <= width + plus + MISREAD
    assert depth - less - MISREAD <= low <= high <= depth + deeper + MISREAD
    assert abs((near + far) / 2 - side) <= slack + MISREAD
    within(made, slot.passes)


@pytest.mark.parametrize("seed", range(25))
def test_any_step_is_on_its_drawing(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    cutter = chance.choice((0.25, 0.375, 0.5, 0.75))
    width, depth = round(cutter * chance.uniform(0.3, 2.2), 3), round(chance.uniform(0.02, 0.4), 3)
    plus, minus = chance.choice(((0.002, 0), (0.003, 0.003), (0.005, 0), (0.002, 0.001)))
    deeper, less = chance.choice(((0.005, 0), (0.003, 0.003), (0.004, 0)))
    made, back, quill = common(chance, cutter)
    made |= sized("step.width", width, plus, minus)
    made |= sized("step.depth", depth, deeper, less)
    smaller = chance.uniform(0, 0.003)
    miller = Miller(
        Job("step-inch", changed(tmp_path, "step-inch", made)),
        lambda by, wheels: StepAlong(
            Block(by.uniform(2, 4), width + by.uniform(0.1, 1)), cutter - smaller, back,
            by, wheels, deepening="quill" if quill else "knee",
        ),
        seed,
    )  # fmt: skip
    miller.work_it()
    step = miller.work
    assert isinstance(step, StepAlong)
    low, high = step.floor()
    assert width - minus - MISREAD <= step.wide <= width + plus + MISREAD
    assert depth - less - MISREAD <= low <= high <= depth + deeper + MISREAD
    within(made, step.passes)

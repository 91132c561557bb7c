"""Ends and sides milled in the shop of numbers: whatever the block and the machine, they come out
on the drawing, and nothing climbs but what was told to."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.factories import Job
from tests.shop.changed import changed
from tests.shop.outside import Outside, mill_outside

MISREAD = 0.0003
"""Inches: a gauge read to half a thou is a quarter off, and the hand that set it is unsteady."""


def climbed(work: Outside) -> list[str]:
    return [one.step for one in work.took if one.climbed]


@pytest.mark.parametrize("seed", range(16))
def test_both_ends_are_milled_to_length_climbing_for_the_finish(seed: int) -> None:
    """The demo job: 96 +-0.05 from 99.5, a 16 mm cutter, at most 1.2 a pass."""
    chance = random.Random(seed)
    work = mill_outside(
        Job("sides-length"), seed, scale=1, size=(99.5 + chance.uniform(-0.5, 0.5), 30), high=25,
        diameter=16,
    )  # fmt: skip
    long = work.out["right"] + work.out["left"]
    assert 95.95 - 0.008 <= long <= 96.05 + 0.008
    assert max(one.deep for one in work.took) <= 1.2 * 1.05 + 0.02
    assert climbed(work)
    assert all("close" in step or "finishing" in step for step in climbed(work))
    assert all(one.deep <= 0.4 + 0.03 for one in work.took if one.climbed)


@pytest.mark.parametrize("seed", range(16))
def test_a_block_is_milled_all_round_and_nothing_climbs(seed: int) -> None:
    """The demo job: 2.250 x 1.375 +-.003, a 5/8 cutter, at most .060 a pass, .625 high."""
    chance = random.Random(seed)
    size = (2.375 + chance.uniform(-0.02, 0.02), 1.5 + chance.uniform(-0.02, 0.02))
    work = mill_outside(
        Job("sides-round"), seed, scale=1 / 25.4, size=size, high=0.625, diameter=0.625
    )
    assert 2.247 - MISREAD <= work.out["right"] + work.out["left"] <= 2.253 + MISREAD
    assert 1.372 - MISREAD <= work.out["back"] + work.out["front"] <= 1.378 + MISREAD
    assert work.depth == pytest.approx(0.625, abs=0.002)
    assert max(one.deep for one in work.took) <= 0.060 * 1.05 + 0.001
    assert not climbed(work)
    assert list(dict.fromkeys(one.side for one in work.took)) == ["right", "back", "left", "front"]


def machine(chance: random.Random) -> dict[str, str]:
    """Screws, dials and wear of any kind."""
    made: dict[str, str] = {}
    for axis, ways in (("table", ("left", "right")), ("saddle", ("in", "out")),
                       ("knee", ("up", "down"))):  # fmt: skip
        made[f"machine:axes.{axis}.per_turn"] = f'"{chance.choice((0.1, 0.125, 0.2, 0.25))} in"'
        made[f"machine:axes.{axis}.rises"] = f'"{chance.choice(ways)}"'
        made[f"machine:axes.{axis}.zero"] = f'"{chance.choice(("fixed", "settable"))}"'
        climb = "never" if axis == "knee" else chance.choice(("never", "drag", "eliminator"))
        lost = {"never": 0.06, "drag": 0.015, "eliminator": 0.002}[climb]
        made[f"machine:axes.{axis}.backlash"] = f'"{chance.uniform(0, lost):.3f} in"'
        if axis != "knee":
            made[f"machine:axes.{axis}.climb"] = f'"{climb}"'
    return made


@pytest.mark.parametrize("seed", range(25))
def test_any_block_is_on_its_drawing(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    milled = chance.choice(("ends", "sides", "round"))
    one = milled == "round" or chance.random() < 0.5
    cutter = chance.choice((0.375, 0.5, 0.75))
    most = round(chance.uniform(0.03, cutter / 3), 3)
    skim = round(chance.uniform(0.01, 0.025), 3)
    length, width = round(chance.uniform(1.5, 5), 3), round(chance.uniform(1, 3), 3)
    plus, minus = chance.choice(((0.003, 0.003), (0.005, 0), (0.002, 0.002), (0, 0.004)))
    over = 2 * skim + 0.02 + chance.uniform(0.06, 0.25)
    first = chance.choice(("back", "front") if milled == "sides" else ("right", "left"))
    if not one and milled == "sides":
        first = "back"
    made = {
        "block.milled": f'"{milled}"', "block.first": f'"{first}"', "skim": f'"{skim} in"',
        "finish_way": f'"{chance.choice(("conventional", "climbing"))}"',
        "finishing_cut": f'"{chance.choice((0.005, 0.01, 0.02))} in"',
        "holding": '"clamps"',
        "cutter.diameter": f'"{cutter} in"', "cutter.max_pass": f'"{most} in"',
        "stock.length": f'"{length + over:.3f} in"', "stock.width": f'"{width + over:.3f} in"',
        "block.length": f'"{length} in"', "block.width": f'"{width} in"',
        **machine(chance),
    }  # fmt: skip
    for size in ("length", "width"):
        made |= {f"block.{size}_plus": f'"{plus} in"', f"block.{size}_minus": f'"{minus} in"'}
    gone = {"ends": "width", "sides": "length"}.get(milled)
    drop = [] if gone is None else [f"stock.{gone}", f"block.{gone}", f"block.{gone}_plus",
                                    f"block.{gone}_minus"]  # fmt: skip
    if milled != "round":
        made["block.setting"] = '"one"' if one else '"turned"'
    high = 0.625
    if chance.random() < 0.4:
        drop.append("block.height")
    path = changed(tmp_path, "sides-round", {k: v for k, v in made.items() if k not in drop})
    without(path, drop)
    true = (length + over + chance.uniform(-0.02, 0.02), width + over + chance.uniform(-0.02, 0.02))
    work = mill_outside(
        Job("sides-round", path), seed, scale=1 / 25.4, size=true, high=high, diameter=cutter
    )
    if milled != "sides":
        long = work.out["right"] + work.out["left"]
        assert length - minus - MISREAD <= long <= length + plus + MISREAD
    if milled != "ends":
        wide = work.out["back"] + work.out["front"]
        assert width - minus - MISREAD <= wide <= width + plus + MISREAD
    assert max(each.deep for each in work.took) <= most * 1.05 + 0.0015


def without(path: Path, keys: list[str]) -> None:
    """The job file without these keys of its tables."""
    table, kept = "", []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            table = line.strip("[]")
        if f"{table}.{line.partition('=')[0].strip()}" not in keys:
            kept.append(line)
    path.write_text("\n".join(kept) + "\n", encoding="utf-8")

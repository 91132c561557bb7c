"""The demo jobs with other sizes and on other dials: inch and metric, of the diameter and of the
tool's travel, to be set to zero and not."""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from assistant.app.paths import configs_folder
from assistant.errors import WheelcallError
from tests.shop.changed import changed
from tests.torture.mishaps.plain import Plain, demo_jobs, walk

Values = dict[str, str]
INCH_TO_MM = {"0.100 in": "2.5 mm", "0.125 in": "3 mm", "0.200 in": "5 mm", "0.250 in": "6 mm",
              "0.500 in": "12 mm", "1.000 in": "25 mm", "0.001 in": "0.02 mm",
              "0.005 in": "0.1 mm"}  # fmt: skip
MM_TO_INCH = {"2 mm": "0.100 in", "2.5 mm": "0.100 in", "4 mm": "0.200 in", "5 mm": "0.250 in",
              "20 mm": "1.000 in", "0.02 mm": "0.001 in", "0.05 mm": "0.001 in",
              "0.1 mm": "0.005 in"}  # fmt: skip
"""Handwheels of the one kind for those of the other, about as coarse."""
SIZES = ("depth", "length", "diameter", "width", "thickness", "stock", "max_pass", "max_cut")
SHARES = (Decimal("0.85"), Decimal("0.92"), Decimal("1.08"), Decimal("1.2"))
TRIES = 8


def variants(folder: Path, seed: int) -> Iterator[Plain]:
    """Each demo job varied in each way that it can be."""
    for name in demo_jobs():
        for number, vary in enumerate((_other_zeros, _other_unit, _other_counting)):
            values = vary(_machine_of(name))
            if values:
                yield from _walked(folder / f"{name}-{number}", name, vary.__doc__ or "", values)
        yield from _other_size(folder / f"{name}-size", name, random.Random(f"{seed} {name}"))


def _walked(folder: Path, name: str, how: str, values: Mapping[str, str]) -> Iterator[Plain]:
    """The job with those values; nothing where it can't be planned so."""
    folder.mkdir(parents=True, exist_ok=True)
    try:
        yield walk(f"{name} ({how})", changed(folder, name, values))
    except WheelcallError:
        return


def _machine_of(name: str) -> dict[str, Any]:
    machine = _job(name)["machine"]
    text = (configs_folder() / "machines" / f"{machine}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def _job(name: str) -> dict[str, Any]:
    return tomllib.loads(demo_jobs()[name].read_text(encoding="utf-8"))


def _other_zeros(machine: dict[str, Any]) -> Values:
    """dials to be set for those that can't, and the other way round"""
    other = {"settable": '"fixed"', "fixed": '"settable"'}
    return {
        f"machine:axes.{name}.zero": other[axis["zero"]]
        for name, axis in machine.get("axes", {}).items()
    }


def _other_unit(machine: dict[str, Any]) -> Values:
    """metric dials for inch ones, and the other way round"""
    inch = machine["unit"] == "inch"
    table, scale = (INCH_TO_MM, Decimal("25.4")) if inch else (MM_TO_INCH, 1 / Decimal("25.4"))
    values = {"machine:unit": '"mm"' if inch else '"inch"'}
    for name, axis in machine.get("axes", {}).items():
        for key in ("per_turn", "graduation"):
            values[f"machine:axes.{name}.{key}"] = f'"{table[axis[key]]}"'
        values[f"machine:axes.{name}.backlash"] = f'"{_converted(axis["backlash"], scale)}"'
    if "axes" not in machine:
        return {}
    if "least_cut" in machine:
        values["machine:least_cut"] = f'"{_converted(machine["least_cut"], scale)}"'
    if "feeds" in machine:
        feeds = [round(float(scale) * feed, 4) for feed in machine["feeds"]]
        values["machine:feeds"] = f"{feeds}"
    return values


def _other_counting(machine: dict[str, Any]) -> Values:
    """a cross slide's dial that counts the diameter for one that counts travel, or the other way"""
    slide = machine.get("axes", {}).get("cross_slide")
    if slide is None:
        return {}
    other = '"travel"' if slide["reads"] == "diameter" else '"diameter"'
    return {"machine:axes.cross_slide.reads": other}


def _converted(length: str, scale: Decimal) -> str:
    number, unit = length.split()
    size = (Decimal(number) * scale).quantize(Decimal("0.01" if unit == "in" else "0.001"))
    return f"{size} {'mm' if unit == 'in' else 'in'}"


def _other_size(folder: Path, name: str, rng: random.Random) -> Iterator[Plain]:
    """One size of the job changed by chance: the first that it can be planned with."""
    found = [
        (f"{table}.{key}", size)
        for table, values in _job(name).items()
        if isinstance(values, dict)
        for key, size in values.items()
        if key in SIZES and isinstance(size, str) and _plain(size)
    ]
    for _ in range(TRIES if found else 0):
        place, size = rng.choice(found)
        number, unit = size.split()
        step = Decimal("0.01" if unit == "in" else "0.5")
        share = rng.choice(SHARES)
        other = (Decimal(number) * share / step).to_integral_value() * step
        if not other:
            continue
        values = {place: f'"{other} {unit}"'}
        made = list(_walked(folder, name, f"{place} = {other} {unit}", values))
        if made:
            yield from made
            return


def _plain(size: str) -> bool:
    number, _, unit = size.partition(" ")
    return unit in ("in", "mm") and number.replace(".", "", 1).isdigit()

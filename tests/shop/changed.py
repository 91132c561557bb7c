"""Copies of a demo job and its machine with some values changed: other dials, another side."""

from __future__ import annotations

import random
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

from assistant.app.paths import configs_folder
from assistant.machine import WAYS


def changed(folder: Path, job: str, values: Mapping[str, str], *, confirmed: bool = True) -> Path:
    """A copy of that job in `folder`, its machine beside it. `values` are written as in TOML, by
    their place in the job file, `cutter.diameter`, or in the machine's, `machine:axes.table.rises`.
    """
    text, machine, profile = _files_of(job)
    for place, value in values.items():
        file, _, key = place.rpartition(":")
        if file == "machine":
            profile = _with(profile, key, value)
        else:
            text = _with(text, key, value)
    (folder / f"{machine}.toml").write_text(
        _confirmed(profile) if confirmed else profile, encoding="utf-8"
    )
    return _written(folder, job, text)


def changed_copy(
    folder: Path,
    job: str,
    *,
    job_file: Mapping[str, str] | None = None,
    machine_file: Mapping[str, str] | None = None,
) -> Path:
    """The same, with words of either file replaced."""
    text, machine, profile = _files_of(job)
    profile = _replaced(profile, machine_file or {})
    (folder / f"{machine}.toml").write_text(_confirmed(profile), encoding="utf-8")
    return _written(folder, job, _replaced(text, job_file or {}))


def _files_of(job: str) -> tuple[str, str, str]:
    """The text of a demo job, its machine's name, and that one's text."""
    text = (configs_folder() / "jobs" / f"{job}.toml").read_text(encoding="utf-8")
    machine = tomllib.loads(text)["machine"]
    profile = (configs_folder() / "machines" / f"{machine}.toml").read_text(encoding="utf-8")
    return text, machine, profile


def _written(folder: Path, job: str, text: str) -> Path:
    path = folder / f"{job}.toml"
    path.write_text(text, encoding="utf-8")
    return path


def _confirmed(profile: str) -> str:
    """The machine's text with each of its axes confirmed: what is unusual about it is meant."""
    return re.sub(r"^(per_turn = .*)$", r"\1\nconfirmed = true", profile, flags=re.MULTILINE)


def _replaced(text: str, changes: Mapping[str, str]) -> str:
    for old, new in changes.items():
        assert text.count(old), f"not in the file: {old!r}"
        text = text.replace(old, new)
    return text


def _with(text: str, place: str, value: str) -> str:
    """TOML with one value set: in its line where it has one, else at the head of its table."""
    table, _, key = place.rpartition(".")
    lines, at = text.splitlines(), "" if table else None
    head = None if table else 0
    for number, line in enumerate(lines):
        if line.startswith("["):
            at = line.strip("[]")
            head = number + 1 if at == table else head
        elif (at or "") == table and line.split("=")[0].strip() == key:
            lines[number] = f"{key} = {value}"
            return "\n".join(lines) + "\n"
    assert head is not None, f"no [{table}] there"
    lines.insert(head, f"{key} = {value}")
    return "\n".join(lines) + "\n"


def dials_by_chance(chance: random.Random, *axes: str) -> dict[str, str]:
    """Inch handwheels as they may be found on some machine, for the axes of a mill."""
    values: dict[str, str] = {}
    for axis in axes:
        turn = chance.choice((0.1, 0.125, 0.2, 0.25))
        slack = chance.choice((0.0, 0.003, 0.02, round(turn * 0.9, 3)))
        values |= {
            f"machine:axes.{axis}.per_turn": f'"{turn} in"',
            f"machine:axes.{axis}.graduation": '"0.001 in"',
            f"machine:axes.{axis}.backlash": f'"{slack} in"',
            f"machine:axes.{axis}.rises": f'"{chance.choice(WAYS[axis])}"',
            f"machine:axes.{axis}.zero": f'"{chance.choice(("settable", "fixed"))}"',
        }
    return values

"""Every machine file of the project told by questions: its own values as answers come to an equal
machine."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from assistant.app.drafts import as_kept, taken_up
from assistant.app.paths import configs_folder
from assistant.calc.dial import divisions_per_turn
from assistant.filling.machines.axes import AXES, key_of
from assistant.filling.talk import Talk, of_a_machine
from assistant.machine import Axis, Machine, load_machine
from assistant.textfile import read_file, read_toml
from assistant.units import Quantity, magnitude
from tests.filling.talking import begun, say

MACHINES = sorted((configs_folder() / "machines").glob("*.toml"))
MOST = 200
"""Questions of one machine; more means that it asks the same one again and again."""


def sized(size: Quantity) -> str:
    """A size as it is typed."""
    unit = "mm" if "meter" in str(size.units) else "inch"
    return f"{magnitude(size, unit):f} {'mm' if unit == 'mm' else 'in'}"


def answers_of(axis: Axis) -> dict[str, str]:
    """What is found at one handwheel that is as its file says: readings across the dial's zero."""
    key, at = key_of(axis.name), f"axes.{key_of(axis.name)}"
    twice = 2 if axis.diameter_reading else 1
    lost = magnitude(axis.backlash, str(axis.per_turn.units))
    turn = magnitude(axis.per_turn, str(axis.per_turn.units))
    first = lost / 2
    return {
        f"?{key}": "yes",
        f"{at}.reads": "diameter" if axis.diameter_reading else "travel",
        f"?{key}.moved": sized(axis.per_turn / twice),
        f"?{key}.lines": str(divisions_per_turn(axis.per_turn, axis.graduation)),
        f"{at}.graduation": sized(axis.graduation),
        f"{at}.rises": axis.way(axis.rises),
        f"{at}.clockwise": axis.way(axis.clockwise) if axis.clockwise else "skip",
        f"{at}.zero": "settable" if axis.settable else "fixed",
        f"?{key}.slack": "measured" if lost else "none",
        f"?{key}.first": sized(axis.per_turn * (first / turn)),
        f"?{key}.second": sized(axis.per_turn * ((turn - first) / turn)),
        f"{at}.climb": axis.climb,
        f"?{key}.way": sized(axis.travel / twice) if axis.travel is not None else "skip",
    }


def row(numbers: Any) -> str:
    return " ".join(f"{Decimal(str(one)):f}" for one in numbers)


def answers_for(machine: Machine, table: dict[str, Any]) -> dict[str, str]:
    """What is told at every question of a machine that is as its file says."""
    found = {"kind": machine.kind, "unit": machine.unit, "name": machine.name}
    for axis in AXES.get(machine.kind, ()):
        there = machine.axes.get(axis)
        found |= answers_of(there) if there is not None else {f"?{key_of(axis)}": "no"}
    per = table.get("feed_per", "minute")
    found |= {
        "?drive": "skip",
        "?speeds": row(table.get("speeds", ())),
        "?feed": f"a {per}" if machine.feeds else "none",
        "feeds": row(table.get("feeds", ())),
        "feed_axis": machine.feed_axis,
        "?lead": "yes" if machine.lead_screw is not None else "no",
        "lead_screw": str(table.get("lead_screw")),
        "?thread_dial": "yes" if machine.thread_dial else "no",
        "thread_dial_gear": str(table.get("thread_dial_gear")),
        "thread_dial_marks": str(table.get("thread_dial_marks")),
        "compound_zero": machine.compound_zero,
        "depth_stop": "yes" if machine.depth_stop else "no",
        "least_cut": str(table.get("least_cut", "skip")),
        "?divider": str(table.get("divider", "skip")),
        "dividing_ratio": str(machine.dividing_ratio),
        "divider_finest": str(machine.divider_finest),
        "?note": machine.notes[0] if machine.notes else "skip",
    }
    for place, plate in enumerate(machine.plates, 1):
        found[f"?plate.{place}"] = row(plate)
        found[f"?plate.{place}.more"] = "yes" if place < len(machine.plates) else "no"
    return found


def told(answers: dict[str, str], talk: Talk | None = None) -> Talk:
    """The conversation that tells all of it; with a power cut after every answer."""
    talk = talk or of_a_machine(begun().shop)
    for _ in range(MOST):
        one = talk.asking
        if one is None:
            if talk.more:
                return talk
            talk = say(talk, "ask me more")
            continue
        for line in (answers[one.key], *(["that's all"] if one.each and one.kind == "row" else [])):
            talk = say(talk, line)
            while talk.doubt is not None:  # out of the usual, or without its unit
                talk = say(talk, "yes")
        assert one.key in talk.sheet.told, (one.key, answers[one.key], talk.answer)
        after = taken_up(as_kept(talk), talk.shop)
        assert after.sheet.text == talk.sheet.text
        assert (after.asking and after.asking.key) == (talk.asking and talk.asking.key)
    raise AssertionError(f"still asking for {talk.asking}")


@pytest.mark.parametrize("path", MACHINES, ids=lambda path: path.stem)
def test_its_own_values_as_answers_give_an_equal_machine(path: Path, tmp_path: Path):
    table = read_toml(read_file(path), path)
    machine = load_machine(path)
    talk = told(answers_for(machine, table))
    made = tmp_path / "made.toml"
    made.write_text(talk.sheet.text, encoding="utf-8")
    again = load_machine(made)
    # a press has no feed axis: what the file is silent about is as it is by itself
    assert again == machine


def test_climbing_on_a_screw_with_play_is_asked_about():
    """An eliminator that leaves 0.25 mm is none: told so, it is asked whether that is so."""
    path = configs_folder() / "machines" / "weir-vertical.toml"
    answers = answers_for(load_machine(path), read_toml(read_file(path), path))
    talk = told(answers | {"axes.table.climb": "eliminator", "axes.table.confirmed": "yes"})
    assert 'climb = "eliminator"' in talk.sheet.text
    assert "confirmed = true" in talk.sheet.text
    plain = told(answers)
    assert "climb" not in plain.sheet.text or 'climb = "never"' in plain.sheet.text
    assert "confirmed" not in plain.sheet.text

"""A machine's file is checked for sense: what would make every move wrong is refused, with what
would be right, unless the file itself says that it was measured so."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from assistant.app.cli.sheet import planned, print_plan
from assistant.app.paths import configs_folder
from assistant.errors import BadFile
from assistant.machine import load_machine, parse_machine
from assistant.units import inches, magnitude, mm
from tests.factories import Job, expected_words

MACHINES = configs_folder() / "machines"
MILL = (MACHINES / "millrace-horizontal.toml").read_text(encoding="utf-8")


def changed(axis: str, text: str = MILL, **keys: str | None) -> str:
    """The mill's file with keys of one axis changed, added (last) or left out (None)."""
    before, mark, rest = text.partition(f"[axes.{axis}]\n")
    own, blank, after = rest.partition("\n\n")
    lines = own.splitlines()
    for key, value in keys.items():
        lines = [line for line in lines if line.split(" ")[0] != key]
        if value is not None:
            lines.append(f"{key} = {value}")
    return before + mark + "\n".join(lines) + "\n" + blank + after


@pytest.mark.parametrize(
    ("axis", "keys", "key", "says"),
    [
        ("saddle", {"per_turn": "200"}, "per_turn", r'is 200: .*is it "0\.2 in"\?'),
        ("saddle", {"per_turn": "5", "graduation": "0.02"}, "per_turn", r'is it "5 mm"\?'),
        ("saddle", {"per_turn": '"0.010 in"'}, "per_turn", "0.02 to 1 in"),
        ("table", {"per_turn": '"1.25 in"'}, "per_turn", "confirmed = true"),
        ("knee", {"per_turn": '"5 mm"', "graduation": '"0.02 mm"'}, "per_turn", "unit is inch"),
        ("knee", {"graduation": '"0.02 mm"'}, "graduation", "a dial has one unit"),
        ("knee", {"graduation": '"0.0001 in"'}, "graduation", "1000 divisions"),
        ("knee", {"graduation": '"0.01 in"'}, "graduation", "10 divisions"),
        ("knee", {"graduation": '"0.003 in"'}, "graduation", "does not divide the turn"),
        ("knee", {"backlash": '"0.100 in"'}, "backlash", "less than a turn"),
        (
            "saddle",
            {"climb": '"drag"', "backlash": '"0.016 in"'},
            "climb",
            "goes with 0.015 in at most",
        ),
        ("table", {"climb": '"eliminator"'}, "climb", "0.003 in at most; where it is so"),
        ("table", {"climb": '"drag"', "backlash": None}, "climb", "by the backlash: measure it"),
        ("table", {"climb": '"always"'}, "climb", 'wanted "never" or "drag" or "eliminator"'),
        ("knee", {"climb": '"drag"'}, "climb", "unknown"),
        ("knee", {"travel": '"0.05 in"'}, "travel", "at least a turn"),
        ("knee", {"travel": "400"}, "travel", "at most 200 in"),
        ("knee", {"travel": "-4"}, "travel", "more than zero"),
    ],
)
def test_what_no_handwheel_is_like_is_refused(
    axis: str, keys: dict[str, str], key: str, says: str
) -> None:
    with pytest.raises(BadFile, match=says) as bad:
        parse_machine(changed(axis, **keys), "mill.toml")
    assert str(bad.value).startswith(f"mill.toml: axes.{axis}.{key} is ")


@pytest.mark.parametrize(
    ("axis", "keys"),
    [
        ("table", {"per_turn": '"1.25 in"', "graduation": '"0.005 in"'}),
        ("knee", {"per_turn": '"5 mm"', "graduation": '"0.02 mm"'}),
        ("knee", {"graduation": '"0.0001 in"'}),
        ("knee", {"travel": '"0.05 in"'}),
    ],
)
def test_what_was_measured_so_is_confirmed_in_the_file(axis: str, keys: dict[str, str]) -> None:
    with pytest.raises(BadFile):
        parse_machine(changed(axis, **keys), "mill.toml")
    parse_machine(changed(axis, **keys, confirmed="true"), "mill.toml")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('least_cut = "0.004 in"', "least_cut = 4", "least_cut is 4: wanted 0.0002 to 0.05 in"),
        ("feeds = [0.5,", "feeds = [0.002, 0.5,", r'feed_per = "turn"'),
        ("speeds = [45,", "speeds = [0.45,", "speeds is .0.45, 65.*: wanted 5 to 30000 rpm"),
        ('feed_axis = "table"', 'feed_axis = "table"\nlead_screw = "8 in"', "0.02 to 1 in a turn"),
    ],
)
def test_what_no_gearbox_is_like_is_refused_or_confirmed(old: str, new: str, says: str) -> None:
    assert old in MILL
    text = MILL.replace(old, new)
    with pytest.raises(BadFile, match=says):
        parse_machine(text, "mill.toml")
    parse_machine(f"confirmed = true\n{text}", "mill.toml")


def test_no_word_of_the_file_confirms_what_cannot_be() -> None:
    for key in ({"graduation": '"0.02 mm"'}, {"graduation": '"0.003 in"'}):
        with pytest.raises(BadFile, match="graduation"):
            parse_machine(changed("knee", **key, confirmed="true"), "mill.toml")


def test_a_size_is_kept_in_the_unit_of_the_dial_however_it_is_written() -> None:
    text = changed(
        "knee", per_turn='"100 thou"', graduation='"10 tenths"', backlash='"0.0508 mm"',
        travel='"1.5 ft"',
    )  # fmt: skip
    knee = parse_machine(text, "mill.toml").axis("knee")
    sizes = (knee.per_turn, knee.graduation, knee.backlash, knee.travel)
    assert [str(size.units) for size in sizes if size is not None] == ["inch"] * 4
    assert knee.per_turn == inches("0.1")
    assert knee.graduation == inches("0.001")
    assert knee.backlash == inches("0.002")
    assert knee.travel == inches(18)


@pytest.mark.parametrize("graduation", ["1 thou", "0.001 in", "10 tenths"])
def test_every_digit_is_shown_however_the_graduation_is_written(
    tmp_path: Path, graduation: str
) -> None:
    work = Job(path=shop(tmp_path, changed("knee", graduation=f'"{graduation}"')))
    work.to_step("touch-knee")
    work.says("touched", "three thou")
    assert (work.glance.number, work.glance.unit) == ("0.003", "in")


def shop(folder: Path, machine: str) -> Path:
    """A keyseat's job file beside the machine's file that it names."""
    (folder / "odd.toml").write_text(machine, encoding="utf-8")
    text = (configs_folder() / "jobs" / "keyseat-inch.toml").read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.startswith("machine"))
    path = folder / "seat.toml"
    path.write_text(text.replace(line, 'machine = "odd"'), encoding="utf-8")
    return path


def test_the_demo_machines_give_backlash_and_travel_of_every_axis() -> None:
    for path in MACHINES.glob("*.toml"):
        for axis in load_machine(path).axes.values():
            assert axis.backlash_known, f"{path.stem}: {axis.name}"
            assert axis.travel is not None, f"{path.stem}: {axis.name}"
            assert axis.travel >= 10 * axis.per_turn


def test_a_cutter_climbs_on_no_axis_whose_file_does_not_say_so() -> None:
    assert {axis.climb for axis in parse_machine(MILL, "mill.toml").axes.values()} == {"never"}
    fit = changed("saddle", climb='"eliminator"', backlash='"0.002 in"')
    assert parse_machine(fit, "mill.toml").axis("saddle").climb == "eliminator"
    worn = changed("saddle", climb='"drag"', backlash='"0.030 in"', confirmed="true")
    assert parse_machine(worn, "mill.toml").axis("saddle").climb == "drag"


def test_backlash_that_is_left_out_is_not_the_same_as_none() -> None:
    without = parse_machine(changed("saddle", backlash=None), "mill.toml").axis("saddle")
    assert not without.backlash_known
    assert without.backlash == inches(0)
    none = parse_machine(changed("saddle", backlash='"0 in"'), "mill.toml").axis("saddle")
    assert none.backlash_known


def test_what_is_not_known_is_said_in_the_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = changed("saddle", changed("knee", travel=None), backlash=None, travel=None)
    path = shop(tmp_path, text)
    print_plan(str(path), as_json=False)
    printed = capsys.readouterr().out
    assert "! Backlash of saddle isn't in the machine's file" in printed
    assert "! Travel of saddle and knee isn't in the machine's file" in printed
    assert printed.count("saddle's backlash isn't") == 1, "at the first setting by it, once"
    print_plan("keyseat-inch", as_json=False)
    assert "isn't in the machine's file" not in capsys.readouterr().out


def test_an_unknown_backlash_is_said_aloud_at_the_first_setting_and_once(tmp_path: Path) -> None:
    path = shop(tmp_path, changed("knee", backlash=None))
    said = "The knee's backlash isn't in the machine's file. Take it up yourself."
    work = Job(path=path)
    work.to_step("touch-knee")
    assert said in work.says("touched", "three thou")
    assert said not in work.say("i'm set")
    while work.state.step_id != "roughing-3-set":
        assert said not in work.say(expected_words(work.state))
    state = planned(str(path))
    warned = [s.id for s in state.plan.steps if any("backlash isn't" in c for c in s.cautions)]
    assert len(warned) == 1


def test_a_travel_is_in_the_unit_of_its_dial() -> None:
    mill = parse_machine(changed("knee", travel='"400 mm"'), "mill.toml")
    travel = mill.axis("knee").travel
    assert travel is not None
    assert abs(magnitude(travel, "inch") - magnitude(mm(400), "inch")) < Decimal("1e-9")
    assert str(travel.units) == "inch"

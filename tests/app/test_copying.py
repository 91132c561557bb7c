"""`wheelcall jobs --copy`: a demo and its machine to start from, in the operator's own folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.app.cli.copying import copy_demo
from assistant.app.paths import configs_folder, demo_script, find_job
from assistant.errors import BadInput
from assistant.textfile import read_toml
from tests.factories import Job

DEMOS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))


@pytest.fixture
def own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The operator's own folder, empty."""
    for where in ("assistant.app.cli.copying", "assistant.app.paths"):
        monkeypatch.setattr(f"{where}.user_configs", lambda: tmp_path / "own")
    return tmp_path / "own"


@pytest.mark.parametrize("name", DEMOS)
def test_every_demo_can_be_copied_and_is_found_by_its_new_name(name: str, own: Path) -> None:
    copy_demo(name)
    copied = own / "jobs" / f"my-{name}.toml"
    assert find_job(f"my-{name}") == copied
    table, source = (read_toml(path.read_text(encoding="utf-8"), path)
                     for path in (copied, find_job(name)))  # fmt: skip
    assert table == source | {"machine": f"my-{source['machine']}"}


def test_it_is_worked_on_the_machine_that_came_with_it(own: Path) -> None:
    copy_demo("keyseat-inch", "pump")
    machine = own / "machines" / "my-millrace-horizontal.toml"
    text = machine.read_text(encoding="utf-8")
    machine.write_text(text.replace("Millrace horizontal", "Mine"), encoding="utf-8")
    assert "Mine" in Job(path=find_job("pump")).assistant.state.machine.name


def test_the_recorded_operator_works_the_demo_and_no_other_part_of_its_name(own: Path) -> None:
    script = demo_script(find_job("keyseat-inch"))
    assert script is not None
    assert script.stem == "keyseat-inch"
    same = own / "jobs" / "keyseat-inch.toml"
    same.parent.mkdir(parents=True)
    same.write_bytes(find_job("keyseat-inch").read_bytes())
    assert find_job("keyseat-inch") == same
    assert demo_script(same) is None
    assert demo_script(configs_folder() / "jobs" / "slot-inch.toml") is None


def test_it_says_where_they_are_and_what_comes_next(
    own: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    copy_demo("keyseat-inch.toml")
    said = capsys.readouterr().out
    assert str(own / "jobs" / "my-keyseat-inch.toml") in said
    assert str(own / "machines" / "my-millrace-horizontal.toml") in said
    assert "wheelcall plan my-keyseat-inch" in said


def test_nothing_is_written_over(own: Path, capsys: pytest.CaptureFixture[str]) -> None:
    copy_demo("keyseat-inch")
    files = sorted(own.rglob("*.toml"))
    for path in files:
        path.write_text("changed", encoding="utf-8")
    with pytest.raises(BadInput, match=r"my-keyseat-inch\.toml is there already"):
        copy_demo("keyseat-inch")
    copy_demo("keyseat-inch", "another")
    assert "my-millrace-horizontal.toml: there already, and kept" in capsys.readouterr().out
    assert [path.read_text(encoding="utf-8") for path in files] == ["changed", "changed"]


@pytest.mark.parametrize(
    ("name", "called", "says"),
    [
        ("keyseat", "", "--copy is keyseat: no demo job; wanted one of keyseat-inch"),
        ("zzzz", "", "wanted one of angle-head, "),
        ("keyseat-inch", "../out", "wanted a name of letters, digits and hyphens"),
        ("keyseat-inch", "turn-shaft", "a demo is called so; wanted another, as my-turn-shaft"),
    ],
)
def test_what_can_not_be_copied_is_named(own: Path, name: str, called: str, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        copy_demo(name, called)
    assert says in str(refused.value)
    assert not own.exists()

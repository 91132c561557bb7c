"""Every demo job begun by questions: its own values as answers come to the same plan."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from assistant.app.paths import configs_folder
from assistant.filling.job_sheet import like
from assistant.filling.talk import Talk
from assistant.filling.values import as_toml, at
from assistant.jobs.field import Field, Kind, Value
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.planning import plan_for
from assistant.textfile import read_file, read_toml
from tests.filling.talking import begun, machines, say

JOBS = sorted((configs_folder() / "jobs").glob("*.toml"))
MOST = 120
"""Questions of one job; more means that it asks the same one again and again."""


def words_for(one: Field, value: Value | None, talk: Talk) -> str:
    """The answer that tells a value."""
    if value is None:
        if one.kind is Kind.YES and talk.sheet.offered(one):
            return "yes"
        return "skip"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:f}" if isinstance(value, Decimal) else str(value)


def answered(path: Path) -> Talk:
    """The conversation that tells all that the file of a job tells."""
    table = read_toml(read_file(path), path)
    shop = begun().shop
    wanted = like(shop.job_sheet(table["operation"], table["machine"]), table).told
    talk = say(begun(), OPERATIONS[table["operation"]].called)
    if not talk.machine:
        talk = say(talk, table["machine"].replace("-", " "))
    for _ in range(MOST):
        one = talk.asking
        if one is None:
            if talk.more:
                return talk
            talk = say(talk, "ask me more")
            continue
        said = words_for(one, wanted.get(one.key), talk)
        talk = say(talk, said)
        if talk.doubt is not None:  # out of the band of the usual, or without its unit
            talk = say(talk, "yes")
        assert one.key in talk.sheet.told, (one.key, said, talk.answer)
    raise AssertionError(f"still asking for {talk.asking}")


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_its_own_values_as_answers_give_the_same_plan(path: Path):
    text = read_file(path)
    machine = machines()[read_toml(text, path)["machine"]]
    talk = answered(path)
    assert plan_for(talk.sheet.text, "asked", machine, {}) == plan_for(text, "file", machine, {})


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_the_same_as_last_time_is_the_same_plan(path: Path):
    text = read_file(path)
    table = read_toml(text, path)
    machine = machines()[table["machine"]]
    same = like(begun().shop.job_sheet(table["operation"], table["machine"]), table)
    assert plan_for(same.text, "same", machine, {}) == plan_for(text, "file", machine, {})
    assert same.open(more=False) is None, "nothing is asked that was told"


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_every_key_of_a_job_can_be_told(path: Path):
    table = read_toml(read_file(path), path)
    sheet = begun().shop.job_sheet(table["operation"], table["machine"])
    assert [key for key in _keys(table) if key not in sheet.fields] == []


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_what_is_written_reads_as_it_was(path: Path):
    table = read_toml(read_file(path), path)
    written = read_toml(as_toml(table), "written")
    assert {key: at(written, key) for key in _keys(table)} == {
        key: at(table, key) for key in _keys(table)
    }


def _keys(table: dict[str, object], before: str = "") -> list[str]:
    found = []
    for key, value in table.items():
        if isinstance(value, dict):
            found += _keys(value, f"{before}{key}.")
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            for place, entry in enumerate(value):
                found += _keys(entry, f"{before}{key}.{place}.")
        else:
            found.append(before + key)
    return [key for key in found if key not in ("operation", "machine")]

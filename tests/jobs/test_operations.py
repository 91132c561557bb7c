"""Every operation is one folder, and what lists operations is made of them."""

from __future__ import annotations

from pathlib import Path

import pytest

import assistant.jobs.operations
from assistant.app.cli.operations import in_short
from assistant.jobs.operation import LAST, Operation
from assistant.jobs.operations import OPERATIONS
from assistant.jobs.steps import Measure
from tests.jobs.walking import JOBS, plan_of, text_of

FOLDERS = Path(assistant.jobs.operations.__file__).parent
ROOT = FOLDERS.parents[2]
SHOP = ROOT / "tests" / "shop"
DEMOS = sorted(path.stem for path in JOBS.glob("*.toml"))
EVERY = [pytest.param(one, id=name) for name, one in OPERATIONS.items()]


def test_every_folder_is_an_operation_of_that_name():
    folders = {path.parent.name for path in FOLDERS.glob("*/__init__.py")}
    assert {name.replace("-", "_") for name in OPERATIONS} == folders
    assert [name for name, one in OPERATIONS.items() if one.name != name] == []


def test_no_two_stand_at_one_place_or_are_called_alike():
    operations = list(OPERATIONS.values())
    for told in ("rank", "called", "in_short"):
        values = [getattr(one, told) for one in operations]
        assert len(set(values)) == len(values), told
    assert all(one.rank < LAST for one in operations)


@pytest.mark.parametrize("one", EVERY)
def test_what_it_names_is_there(one: Operation):
    assert set(one.drawings) == set(one.draws)
    assert one.form.operation == one.name
    text = "".join(path.read_text(encoding="utf-8") for path in FOLDERS.glob("*/*.py")
                   if path.name != "__init__.py")  # fmt: skip
    assert [step for step in one.stays if f'"{step}"' not in text] == []


@pytest.mark.parametrize("one", EVERY)
def test_what_is_cut_to_a_size_is_worked_in_the_shop_in_numbers(one: Operation):
    """Its demo jobs are those of `tests/shop/`, where one of them measures what it cut."""
    demos = [job for job in DEMOS if f'operation = "{one.name}"' in text_of(job)]
    if any(isinstance(step, Measure) for job in demos for step in plan_of(job).steps):
        shop = "".join(path.read_text(encoding="utf-8") for path in SHOP.glob("*.py"))
        assert any(f'"{job}"' in shop for job in demos)


def test_the_readme_names_all():
    assert in_short() in (ROOT / "README.md").read_text(encoding="utf-8")

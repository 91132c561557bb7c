"""Which changes are made of a file, one at a time, and that each area has its tests."""

from __future__ import annotations

import ast
import sys
from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def mutate() -> ModuleType:
    loader = SourceFileLoader("mutate", str(ROOT / "scripts" / "mutate"))
    spec = spec_from_loader("mutate", loader)
    assert spec is not None
    module = module_from_spec(spec)
    sys.modules["mutate"] = module  # dataclasses look their module up
    loader.exec_module(module)
    return module


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a < b", ["a <= b"]),
        ("a >= b", ["a > b"]),
        ("a == b", ["a != b"]),
        ("a is None", ["a is not None"]),
        ("a in b", ["a not in b"]),
        ("a < b <= c", ["a <= b <= c", "a < b < c"]),
        ("a + b", ["a - b"]),
        ("a - b", ["a + b"]),
        ("a * b", []),
        ("-a", ["a"]),
        ("not a", ["a"]),
        ("a and b", ["a or b"]),
        ("min(a, b)", ["max(a, b)"]),
        ("f(1)", ["f(2)", "f(0)"]),
        ("Decimal('0.25')", ["Decimal('0.50')"]),
        ("Decimal('none')", []),
        ("f('0.25', True, None)", []),
    ],
)
def test_each_change_alone(mutate: ModuleType, before: str, after: list[str]) -> None:
    found = mutate.changes("x.py", f"a = {before}\n")
    assert [one.text for one in found] == [f"a = {text}" for text in after]


def test_the_file_is_otherwise_the_same_and_the_line_is_named(mutate: ModuleType) -> None:
    source = '"""Not 1 but 2."""\n\ndef f(a: Literal[1]) -> Literal[1]:\n    return a + b\n'
    (one,) = mutate.changes("x.py", source)
    assert str(one) == "x.py:4: a + b  ->  a - b"
    assert ast.unparse(ast.parse(source)).replace("a + b", "a - b") == one.text


def test_every_area_is_there_with_its_tests(mutate: ModuleType) -> None:
    for file, tests in mutate.AREAS.items():
        assert (ROOT / file).is_file(), file
        assert mutate.changes(file, (ROOT / file).read_text(encoding="utf-8")), file
        named = [one for one in tests if one.startswith("tests/")]
        assert named, file
        assert all((ROOT / one).is_file() for one in named), file

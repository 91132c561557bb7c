"""No logic reads an id, a title, a fact's name or a sentence: meaning is in types.

What a step is called may be compared and put together, never taken apart. Drawings still find by
their ids which hole, tooth or side is at hand: those places are counted here, and may only fall.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1] / "assistant"

CALLED = {"id", "step_id", "title", "fact", "paper_fact", "say", "surface"}
"""Fields that say what a thing is called, or are spoken."""
TAKES_APART = {
    "startswith", "endswith", "partition", "rpartition", "split", "rsplit", "removeprefix",
    "removesuffix", "index", "match", "search", "fullmatch", "findall",
}  # fmt: skip
WHERE = ("session", "guard.py", "jobs", "present")
"""Where decisions are made, and where they are put into words and pictures."""

KNOWN = {
    "jobs/common/next_part.py": 1,
    "jobs/lathe/diameter.py": 1,
    "jobs/milling/strokes.py": 2,
    "jobs/moment.py": 1,
    "jobs/operations/angle/drawing.py": 1,
    "jobs/operations/boring_head/drawing.py": 1,
    "jobs/operations/centre/drawing.py": 3,
    "jobs/operations/dial_in/drawing.py": 3,
    "jobs/operations/dovetail/drawing.py": 2,
    "jobs/operations/drill/drawing.py": 2,
    "jobs/operations/flats/work.py": 1,
    "jobs/operations/gear/drawing.py": 5,
    "jobs/operations/sides/drawing.py": 3,
    "jobs/operations/sides/strokes.py": 1,
    "jobs/operations/slot/pocket_strokes.py": 2,
    "jobs/operations/square_block/drawing.py": 4,
    "jobs/operations/tailstock/drawing.py": 2,
    "jobs/operations/thread/stroke.py": 1,
    "jobs/operations/tram/drawing.py": 1,
    "present/drawn_now.py": 1,
    "present/paper/history.py": 2,
    "present/paper/sheet.py": 1,
}
"""What is left, by its module. In strokes it is the name of a cut from which those of the steps
beside it are made."""


def taken_apart(source: str) -> Iterator[str]:
    """Where a name or a sentence is read: a method that takes it apart, a pattern that is looked
    for in it, a word that is looked for in it."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            about = (node.func.value, *node.args)
            if node.func.attr in TAKES_APART and any(map(_is_called, about)):
                yield f"line {node.lineno}: {ast.unparse(node)}"
        if isinstance(node, ast.Compare) and isinstance(node.left, ast.Constant):
            looks = any(isinstance(one, ast.In | ast.NotIn) for one in node.ops)
            if looks and any(map(_is_called, node.comparators)):
                yield f"line {node.lineno}: {ast.unparse(node)}"


def _is_called(node: ast.expr) -> bool:
    """`step.id`, `cut.title.lower()`; not `plan.index(step.id)`, which only finds it."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
        return _is_called(node.func.value)
    return isinstance(node, ast.Attribute) and node.attr in CALLED


def modules() -> list[Path]:
    return sorted(
        path
        for name in WHERE
        for path in ([ROOT / name] if name.endswith(".py") else (ROOT / name).rglob("*.py"))
    )


def test_no_more_places_read_a_name_than_are_known() -> None:
    found = {}
    for path in modules():
        places = [
            one for one in taken_apart(path.read_text(encoding="utf-8"))
            if ".index(" not in one or "plan" not in one
        ]  # fmt: skip
        if places:
            found[path.relative_to(ROOT).as_posix()] = places
    more = {name: places for name, places in found.items() if len(places) > KNOWN.get(name, 0)}
    assert not more
    fallen = {name for name, count in KNOWN.items() if len(found.get(name, ())) < count}
    assert not fallen, "fewer than are known: write the new count down"


def test_session_and_guard_read_none() -> None:
    assert not any(name.startswith(("session/", "guard")) for name in KNOWN)


@pytest.mark.parametrize(
    "source",
    [
        'x = step.id.startswith("rough")',
        'x = "row" in cut.id',
        "x = _HOLE.search(step.id)",
        'x = "whole" in reading.title.lower()',
        'x = step.fact.rpartition(".")[0]',
    ],
)
def test_a_name_that_is_read_is_found(source: str) -> None:
    assert len(list(taken_apart(source))) >= 1


@pytest.mark.parametrize(
    "source", ["x = step.id == other.id", "x = step.id in done", 'x = f"{cut.id}-back"']
)
def test_a_name_that_is_compared_or_made_is_let_through(source: str) -> None:
    assert list(taken_apart(source)) == []

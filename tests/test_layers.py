"""Who may import whom: every module from rows above its own, or from its own package.

The rows are those of the design: pure things first, everything that touches a thread, a card or
a window last, and `app` alone knows them all. Imports are read with `ast`, those for type
checking included.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

ROWS = {
    "errors": 0,
    "shipped": 0,  # where the files that came with the program lie
    "replacing": 0,  # a copy of a dataclass, with fields set otherwise
    "textfile": 1,  # a file's text, and its TOML, before any meaning
    "quantities": 0,  # pint's, made quick
    "units": 1,
    "fields": 1.5,  # reads quantities, for whoever reads a file
    "calc": 2,
    "likely": 2.5,  # of what a machine's file says
    "machine": 3,
    "spoken": 4,
    "drawing": 4,  # what drawings are made of
    "jobs": 5,
    "phrases": 5,
    "session": 6,
    "guard": 6.5,  # sees what a session commands, before it is put into words
    "present": 7,
    "filling": 7.5,  # a job's or a machine's form by question and answer
    "free": 7.6,  # moves without a job
    "ports": 8,
    "silence": 8,
    "intact": 8.5,
    "audio": 9,
    "log": 9,
    "child": 9.5,  # a supervised process
    "scratch": 9,
    "demo": 9,  # recorded sound, as data
    "devices": 10,
    "app": 11,
    "__main__": 12,
}
"""Row of each module or package right under `assistant`."""

EDGE = {
    "asyncio",
    "moonshine_voice",
    "multiprocessing",
    "onnxruntime",
    "pygame",
    "psutil",
    "pyttsx3",
    "segno",
    "socket",
    "sounddevice",
    "sqlite3",
    "starlette",
    "subprocess",
    "threading",
    "uvicorn",
    "vosk",
}
"""What belongs to the edge: nothing up to `ports` may know of it, so that a journal replays."""

GUARD_KNOWS = {"calc.dial", "machine", "session", "spoken", "units"}
"""All that the guard may import: what it shares a formula with it could not find wrong."""

ONE_FOR_ALL = ("session/belief.py", "session/next.py", "session/commanded.py", "guard.py")
"""What knows no operation and no kind of machine: plain data alone tells them what to do."""

MODULES = sorted((ROOT / "assistant").rglob("*.py"))


def dotted(path: Path) -> str:
    """`assistant/jobs/lathe/__init__.py` is `assistant.jobs.lathe`."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imported(source: str, module: str, *, is_package: bool) -> Iterator[str]:
    """Full dotted names that `source` imports, wherever in it the import stands."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                inside = module.split(".")
                up = inside[: len(inside) - node.level + is_package]
                base = ".".join([*up, base] if base else up)
            # `from assistant.devices import speaker` names a module as much as an attribute.
            yield from (f"{base}.{alias.name}" for alias in node.names)


def wrongs(source: str, module: str, *, is_package: bool = False) -> list[str]:
    """What `module` must not import, in words."""
    found = []
    own = module.split(".")
    for name in imported(source, module, is_package=is_package):
        parts = name.split(".")
        if parts[0] in EDGE and len(own) > 1 and ROWS.get(own[1], 0) <= ROWS["ports"]:
            found.append(f"{module} imports {parts[0]}, which belongs to the edge")
        if parts[0] != "assistant" or len(parts) < 2 or parts[1] == "__version__":
            continue
        if len(own) == 1:
            found.append(f"{module} imports {name}; the package itself imports nothing")
        elif parts[1] not in ROWS:
            found.append(f"{module} imports {name}, which has no row")
        elif parts[1] != own[1] and ROWS[parts[1]] >= ROWS[own[1]]:
            found.append(f"{module} (row {ROWS[own[1]]}) imports {name} (row {ROWS[parts[1]]})")
        elif parts[1] == own[1] == "devices" and parts[2:3] not in ([], own[2:3]):
            found.append(f"{module} imports its neighbour {name}")
    return found


@pytest.mark.parametrize("path", MODULES, ids=dotted)
def test_imports_point_up(path: Path) -> None:
    module = dotted(path)
    source = path.read_text(encoding="utf-8")
    assert wrongs(source, module, is_package=path.name == "__init__.py") == []


def test_every_module_has_a_row() -> None:
    names = {dotted(path).split(".")[1] for path in MODULES if dotted(path) != "assistant"}
    assert names <= set(ROWS)


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("assistant.calc.dial", "from assistant.machine import Machine"),
        ("assistant.jobs.keyseat", "import assistant.phrases.book"),
        ("assistant.phrases.book", "from assistant import jobs"),
        ("assistant.devices.screen", "from assistant.devices import speaker"),
        ("assistant.devices.vosk.ear", "from ..moonshine import ear"),
        ("assistant.session.decide", "def later():\n    from assistant.app import loop"),
        ("assistant.present.ear", "if True:\n    import threading"),
        ("assistant.calc.keys", "from assistant.nowhere import x"),
        ("assistant", "from assistant.app.cli import main"),
    ],
)
def test_a_wrong_import_is_found(module: str, source: str) -> None:
    assert len(wrongs(source, module)) == 1


@pytest.mark.parametrize(
    ("module", "source"),
    [
        ("assistant.calc.dial", "from assistant.units import ureg\nfrom . import trig"),
        ("assistant.devices.vosk.ear", "from .grammar import compiled\nimport vosk"),
        ("assistant.devices.speaker", "import threading\nfrom assistant.ports import Speaker"),
        ("assistant.app.wiring", "from assistant.devices import speaker, screen"),
    ],
)
def test_a_right_import_is_let_through(module: str, source: str) -> None:
    assert wrongs(source, module) == []


def outside_the_guards_few(source: str) -> list[str]:
    """What the guard imports of the assistant beside the few it may know."""
    names = [one.removeprefix("assistant.") for one in imported(source, "assistant.guard",
             is_package=False) if one.startswith("assistant.")]  # fmt: skip
    return [
        name for name in names
        if not any(f"{name}.".startswith(f"{known}.") for known in GUARD_KNOWS)
    ]  # fmt: skip


def test_the_guard_shares_no_formula_with_the_operations() -> None:
    source = (ROOT / "assistant" / "guard.py").read_text(encoding="utf-8")
    assert outside_the_guards_few(source) == []


@pytest.mark.parametrize(
    "source",
    [
        "from assistant.jobs.steps import Cut",
        "from assistant.calc import cutting",
        "import assistant.calc.dialogue",
        "def later():\n    from assistant.jobs import legs",
    ],
)
def test_what_the_guard_must_not_know_is_found(source: str) -> None:
    assert len(outside_the_guards_few(source)) == 1


# -- circles --------------------------------------------------------------------------------------


def graph(modules: Mapping[str, tuple[str, bool]]) -> dict[str, set[str]]:
    """Each module, by name to its source and whether it is a package, and those that it imports
    anywhere: in a function too, where an import hides a circle as long as nobody calls it."""
    found: dict[str, set[str]] = {}
    for module, (source, is_package) in modules.items():
        known = (_module_of(name, modules) for name in imported(source, module,
                 is_package=is_package))  # fmt: skip
        found[module] = {name for name in known if name and name != module}
    return found


def _module_of(name: str, modules: Mapping[str, object]) -> str:
    """The module that an imported name is, or is in; '' for one that isn't the assistant's."""
    while name and name not in modules:
        name = name.rpartition(".")[0]
    return name


def circle(modules: Mapping[str, tuple[str, bool]]) -> list[str]:
    """A circle of imports, the first module once more at its end; none where there is none."""
    try:
        TopologicalSorter(graph(modules)).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_imports_go_in_a_circle_nor_would_without_the_lazy_ones() -> None:
    """Rows hold packages apart; inside one a function's own import can hide a circle."""
    sources = {
        dotted(path): (path.read_text(encoding="utf-8"), path.name == "__init__.py")
        for path in MODULES
    }
    assert circle(sources) == []


def test_a_hidden_circle_is_found() -> None:
    lazy = "def later():\n    from assistant.jobs import two"
    modules = {
        "assistant.jobs": ("", True),
        "assistant.jobs.one": (lazy, False),
        "assistant.jobs.two": ("from assistant.jobs.three import x", False),
        "assistant.jobs.three": ("from . import one", False),
    }
    assert set(circle(modules)) == {f"assistant.jobs.{name}" for name in ("one", "two", "three")}
    modules["assistant.jobs.three"] = ("import json", False)
    assert circle(modules) == []


# -- one function for all -------------------------------------------------------------------------


def asks_which_job(source: str) -> list[str]:
    """Where a module looks at a plan's operation, or at the kind of a machine, a step, a doubt."""
    nodes = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Attribute))
    return [f"line {one.lineno}: {ast.unparse(one)}" for one in nodes
            if one.attr in ("operation", "kind")]  # fmt: skip


@pytest.mark.parametrize("name", ONE_FOR_ALL)
def test_what_comes_next_asks_for_no_operation_and_no_kind_of_machine(name: str) -> None:
    assert asks_which_job((ROOT / "assistant" / name).read_text(encoding="utf-8")) == []


def test_a_question_for_the_operation_is_found() -> None:
    assert len(asks_which_job('if plan.operation == "gear" or machine.kind == "lathe": x = 1')) == 2

"""Who may import whom: every module from rows above its own, or from its own package.

The rows are those of the design: pure things first, everything that touches a thread, a card or
a window last, and `app` alone knows them all. Imports are read with `ast`, those for type
checking included.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

ROWS = {
    "errors": 0,
    "textfile": 1,  # a file's text, and its TOML, before any meaning
    "units": 1,
    "fields": 1.5,  # reads quantities, for whoever reads a file
    "calc": 2,
    "likely": 2.5,  # of what a machine's file says
    "machine": 3,
    "spoken": 4,
    "jobs": 5,
    "phrases": 5,
    "session": 6,
    "present": 7,
    "ports": 8,
    "silence": 8,
    "audio": 9,
    "log": 9,
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
    "pyttsx3",
    "socket",
    "sounddevice",
    "sqlite3",
    "subprocess",
    "threading",
    "vosk",
}
"""What belongs to the edge: nothing up to `ports` may know of it, so that a journal replays."""

MODULES = sorted((ROOT / "assistant").rglob("*.py"))


def dotted(path: Path) -> str:
    """`assistant/jobs/keyseat/__init__.py` is `assistant.jobs.keyseat`."""
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

"""`wheelcall check --bundle FILE`: what a report of a fault needs, in one file, looked at first.

Program and computer, settings, the log, and what `check` found. The journal isn't in it: it holds
what was said. Paths in the home folder are written with `~`, so that nobody's name goes along.
"""

from __future__ import annotations

import importlib.metadata
import json
import platform
import sys
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import asdict
from pathlib import Path

from assistant import __version__
from assistant.app.cli.checking import check_all
from assistant.app.cli.terminal import is_a_terminal
from assistant.app.settings import Settings, settings_path
from assistant.errors import BadInput, DeviceFailed
from assistant.log import log_files

SHOWN_LINES = 12
"""Last lines of a file that are shown before it is packed; all of it is shown where it is less."""


def write_bundle(
    path: Path,
    settings: Settings,
    settings_file: Path | None,
    *,
    seconds: float,
    yes: bool,
    ask: Callable[[str], str] = input,
) -> bool:
    """Show what would be packed, ask, and pack it; whether it was.

    Raises `BadInput` where there is no such folder, a file of that name is there already, or
    nobody can be asked, `DeviceFailed` where the file can't be written.
    """
    if not path.parent.is_dir():
        raise BadInput("--bundle", path, f"there is no folder {path.parent}: name another")
    if path.exists():
        raise BadInput("--bundle", path, "is there already: name another file")
    if not yes and not is_a_terminal():
        raise BadInput("--bundle", path, "nobody can be asked here: add --yes to pack it unseen")
    parts = contents(settings, settings_file, seconds)
    for name, text in parts.items():
        lines = text.splitlines()
        print(f"\n== {name}, {len(text.encode())} bytes")
        if len(lines) > SHOWN_LINES:
            print(f"   ({len(lines) - SHOWN_LINES} lines before these)")
        print("\n".join(f"   {line}" for line in lines[-SHOWN_LINES:]))
    print("\nNo sound, no journal and no word that was said is in it.")
    if not yes and ask(f"Pack these {len(parts)} files into {path}? [y/N] ").strip() not in (
        "y", "Y", "yes",
    ):  # fmt: skip
        print("Nothing was written.")
        return False
    try:
        with zipfile.ZipFile(path, "x", zipfile.ZIP_DEFLATED) as packed:
            for name, text in parts.items():
                packed.writestr(name, text)
    except OSError as error:
        raise DeviceFailed("bundle", f"{path}: {error.strerror}") from None
    print(f"{path}: written. Send it with what you did, and what came of it.")
    return True


def contents(settings: Settings, settings_file: Path | None, seconds: float) -> Mapping[str, str]:
    """Name and text of each file of the bundle."""
    parts = {"about.txt": about()}
    chosen = settings_file or settings_path()
    if chosen.is_file():
        parts["settings.toml"] = _text(chosen)
    found = [asdict(verdict) for verdict in check_all(settings, seconds)]
    parts["check.json"] = _without_home(json.dumps(found, indent=1, ensure_ascii=False))
    for path in reversed(log_files()):
        parts[f"log/{path.name}"] = _text(path)
    return parts


def about() -> str:
    """Versions of program, system and packages."""
    wanted = importlib.metadata.requires("wheelcall") or []
    names = sorted({name.split(";")[0].split("=")[0].split("[")[0].strip() for name in wanted})
    lines = [
        f"wheelcall {__version__}",
        f"Python {platform.python_version()} ({platform.python_implementation()})",
        platform.platform(),
        f"{platform.machine()}, locale encoding {sys.stdout.encoding}",
        *(f"{name} {_version(name)}" for name in names),
    ]
    return "\n".join(lines) + "\n"


def _version(name: str) -> str:
    try:
        return importlib.metadata.version(name)
    except importlib.metadata.PackageNotFoundError:
        return "not installed"


def _text(path: Path) -> str:
    return _without_home(path.read_text(encoding="utf-8", errors="backslashreplace"))


def _without_home(text: str) -> str:
    home = str(Path.home())
    return text.replace(home, "~") if len(home) > 1 else text

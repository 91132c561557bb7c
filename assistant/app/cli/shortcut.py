"""`wheelcall shortcut`: an entry in the desktop's menu, by the freedesktop.org standards.

Desktop Entry Specification (the entry and how its command is quoted), Icon Theme
Specification 0.13, Desktop Application Autostart Specification 0.5.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import platformdirs

from assistant.app.cli.terminal import WAIT
from assistant.app.paths import NAME, find_job, known_jobs
from assistant.errors import BadInput, DeviceFailed
from assistant.textfile import visible

ICON = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64">
<rect width="64" height="64" rx="10" fill="#101418"/>
<g fill="none" stroke="#f4f1e8" stroke-width="5">
<circle cx="32" cy="32" r="20"/><circle cx="32" cy="32" r="5"/>
<path d="M32 27V12M36.3 34.5l13 7.5M27.7 34.5l-13 7.5"/></g>
<circle cx="50" cy="16" r="6" fill="#ffb000"/>
</svg>
"""
"""A handwheel with its crank."""


def make_shortcut(job: str | None, *, autostart: bool, full: bool, remove: bool) -> None:
    """Write the entry, or take it away. Raises `BadInput` for a job that isn't there and on a
    system without such menus, `DeviceFailed` where the folder can't be written."""
    if sys.platform in ("win32", "darwin"):
        raise BadInput("system", sys.platform, "its menus aren't known here; make a link yourself")
    entry, at_start, icon = _places()
    if remove:
        gone = [path for path in (entry, at_start, icon) if path.exists()]
        for path in gone:
            path.unlink()
            print(f"{path}: removed")
        if not gone:
            print("There was no shortcut.")
        return
    if job is not None:
        path = find_job(job)  # the menu starts it from another folder
        job = job if known_jobs().get(job) == path else str(path.absolute())
    text = desktop_entry(command(job, full=full), icon, job)
    for path, content in ((icon, ICON), (entry, text), *(((at_start, text),) if autostart else ())):
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(content, encoding="utf-8")
        except OSError as error:
            raise DeviceFailed("shortcut", f"{path}: {error.strerror}") from None
        print(f"{path}: written")
    print("It is in the menu, called Wheelcall" + (", and starts with the desktop." * autostart))
    print("Take it away again: wheelcall shortcut --remove")


def _places() -> tuple[Path, Path, Path]:
    """Menu entry, autostart entry, icon."""
    data, config = platformdirs.user_data_path(), platformdirs.user_config_path()
    return (
        data / "applications" / f"{NAME}.desktop",
        config / "autostart" / f"{NAME}.desktop",
        data / "icons" / "hicolor" / "scalable" / "apps" / f"{NAME}.svg",
    )


def command(job: str | None, *, full: bool) -> list[str]:
    """The command that the entry runs: this very installation, wherever it lies."""
    beside = Path(sys.executable).with_name(NAME)
    found = str(beside) if beside.exists() else shutil.which(NAME)
    start = [found] if found else [sys.executable, "-m", "assistant"]
    return ["env", f"{WAIT}=1", *start, "run", *([job] if job else []), *(["--full"] * full)]


def desktop_entry(words: list[str], icon: Path, job: str | None) -> str:
    """The entry's text."""
    about = "Numbers and next moves at a manual machine tool, by voice"
    return "\n".join(
        (
            "[Desktop Entry]",
            "Type=Application",
            "Version=1.0",  # of the keys used: validators know no newer one for them
            "Name=Wheelcall",
            f"Comment={_value(about + (f': {Path(job).stem}' if job else ''))}",
            f"Exec={_value(' '.join(map(_quoted, words)))}",
            f"Icon={_value(str(icon))}",
            "Terminal=true",
            "Categories=Utility;",
            "Keywords=machinist;mill;lathe;handwheel;shop;",
            "",
        )
    )


def _quoted(word: str) -> str:
    """A word of a command: in double quotes, `"`, `` ` ``, `$` and `\\` escaped, `%` doubled."""
    for sign in '\\"`$':
        word = word.replace(sign, f"\\{sign}")
    word = word.replace("%", "%%")
    return word if word and all(c.isalnum() or c in "-_./=:%@+," for c in word) else f'"{word}"'


def _value(text: str) -> str:
    """A value of the file, in which a backslash is an escape itself."""
    return visible(text, most=4000).replace("\\", "\\\\")

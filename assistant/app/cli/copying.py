"""`wheelcall jobs --copy`: a demo job and its machine as the operator's own, to start from."""

from __future__ import annotations

import re
from difflib import get_close_matches
from pathlib import Path

from assistant.app.paths import configs_folder, user_configs
from assistant.errors import BadInput
from assistant.textfile import read_toml

MARK = "my-"
"""What a copy's name begins with, so that the demo stays what its name calls."""


def copy_demo(name: str, called: str = "") -> None:
    """Copy the demo job `name` and the machine that it is for into the operator's folder, the job
    under the name `called`.

    Raises `BadInput` for a name that is no demo's, or under which there is a job already.
    """
    demos = {path.stem: path for path in (configs_folder() / "jobs").glob("*.toml")}
    source = demos.get(name.removesuffix(".toml"))
    if source is None:
        near = get_close_matches(name, demos, n=4, cutoff=0.5) or sorted(demos)
        raise BadInput("--copy", name, f"no demo job; wanted one of {', '.join(near)}")
    target = user_configs() / "jobs" / f"{_plain(called or MARK + source.stem, demos)}.toml"
    if target.exists():
        raise BadInput("--as", target.stem, f"{target} is there already; wanted another name")
    text = source.read_text(encoding="utf-8")
    theirs = str(read_toml(text, source)["machine"])
    mine = MARK + theirs
    machine = user_configs() / "machines" / f"{mine}.toml"
    if machine.exists():
        print(f"{machine}: there already, and kept")
    else:
        from_ = configs_folder() / "machines" / f"{theirs}.toml"
        _write(machine, from_.read_text(encoding="utf-8"))
    _write(target, re.sub(r'(?m)^(machine\s*=\s*)"[^"]*"', rf'\1"{mine}"', text, count=1))
    print("Give the machine your handwheels and the job your part, in any editor; then:")
    print(f"  wheelcall plan {target.stem}")
    print("`wheelcall help machines` and `wheelcall help jobs` explain every key.")


def _plain(name: str, demos: dict[str, Path]) -> str:
    """A name for a file that stays in its folder, and that calls no demo."""
    name = name.removesuffix(".toml")
    if not re.fullmatch(r"\w[\w .-]*", name):
        raise BadInput("--as", name, "wanted a name of letters, digits and hyphens, and no folder")
    if name in demos:
        raise BadInput("--as", name, f"a demo is called so; wanted another, as {MARK}{name}")
    return name


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("x", encoding="utf-8") as file:  # never over what came there meanwhile
        file.write(text)
    print(f"{path}: written")

"""Each key of job and machine files with a value of every wrong kind: refused in words that name
the key, whatever operation it belongs to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.app.cli.sheet import planned
from assistant.app.paths import configs_folder
from assistant.errors import BadInput, WheelcallError
from assistant.machine import load_machine

WRONG = ("nan", "inf", "0", "true", '""', "[]", "[nan]", "{}", '"-1 in"')
MACHINES = sorted((configs_folder() / "machines").glob("*.toml"))
JOBS = sorted((configs_folder() / "jobs").glob("*.toml"))


def with_wrong_values(files: list[Path]) -> Iterator[tuple[str, str, str]]:
    """File name, key and text, for the first file of each operation or kind that has the key."""
    seen: set[tuple[str, str]] = set()
    for path in files:
        text = path.read_text(encoding="utf-8")
        kind = re.findall(r'^(?:operation|kind)\s*=\s*"(.*)"', text, re.MULTILINE)[0]
        lines = text.splitlines()
        for number, line in enumerate(lines):
            key = re.match(r"(\w+)\s*=", line)
            whole = line.count("[") == line.count("]")  # or the value goes on in the next line
            if key is None or not whole or (kind, key[1]) in seen:
                continue
            seen.add((kind, key[1]))
            for wrong in WRONG:
                changed = [*lines[:number], f"{key[1]} = {wrong}", *lines[number + 1 :]]
                yield f"{path.stem} {key[1]} = {wrong}", key[1], "\n".join(changed)


@pytest.mark.parametrize("kind", ["machines", "jobs"])
def test_no_key_takes_a_value_of_the_wrong_kind_or_breaks_on_it(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "changed.toml"
    escaped, refused = [], 0
    for what, key, text in with_wrong_values(MACHINES if kind == "machines" else JOBS):
        path.write_text(text, encoding="utf-8")
        try:
            load_machine(path) if kind == "machines" else planned(str(path))
        except BadInput as error:
            refused += 1
            if "nan" in what and key not in str(error):
                escaped.append(f"{what}: doesn't name the key: {error}")
        except WheelcallError:
            refused += 1
        except Exception as error:
            escaped.append(f"{what}: {type(error).__name__}: {error}")
        else:
            if "nan" in what or "inf" in what:
                escaped.append(f"{what}: taken")
    assert escaped == []
    assert refused > 100

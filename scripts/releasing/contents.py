"""What has to be in a source archive and in a wheel, to the file, and what differs from that."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from releasing.building import HERE, PACKAGE, SHIPPED

AT_THE_TOP = ("LICENSE", "MANIFEST.in", "README.md", "pyproject.toml", HERE)
"""What a source archive holds beside the package and the shipped folders."""

MADE = {
    "wheel": r"wheelcall-[\d.]+\.dist-info/"
    r"(METADATA|RECORD|WHEEL|entry_points\.txt|top_level\.txt|licenses/LICENSE)",
    "source": r"PKG-INFO|setup\.cfg|wheelcall\.egg-info/"
    r"(PKG-INFO|SOURCES|dependency_links|entry_points|requires|top_level)(\.txt)?",
}
"""Names that setuptools adds."""


def wanted_in_wheel(names: Iterable[str]) -> dict[str, str]:
    """Of the files under version control those that a wheel holds, by their names in it."""
    wanted = {}
    for name in names:
        if name.startswith(f"{PACKAGE}/"):
            wanted[name] = name
        elif _is_shipped(name):
            wanted[f"{PACKAGE}/{name}"] = name
    return wanted


def wanted_in_source(names: Iterable[str]) -> dict[str, str]:
    """The same for a source archive."""
    return {
        name: name
        for name in names
        if name.startswith(f"{PACKAGE}/") or _is_shipped(name) or name in AT_THE_TOP
    }


def _is_shipped(name: str) -> bool:
    return name.startswith(tuple(f"{folder}/" for folder in SHIPPED))


def differences(
    root: Path, held: Mapping[str, bytes], wanted: Mapping[str, str], kind: str
) -> list[str]:
    """A line for each file that an archive of that `kind` lacks, has without need, or has with
    another content than the file at `root` that it was made of."""
    made = {name for name in held if re.fullmatch(MADE[kind], name)}
    return [
        *(f"{name} is missing" for name in sorted(wanted.keys() - held)),
        *(f"{name} has no place in it" for name in sorted(held.keys() - wanted.keys() - made)),
        *(
            f"{name} is other than {wanted[name]}"
            for name in sorted(wanted.keys() & held)
            if held[name] != (root / wanted[name]).read_bytes()
        ),
    ]

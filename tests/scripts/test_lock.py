"""The lock files hold what pyproject.toml asks for, whole, and say nothing of where from."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement


@pytest.fixture(scope="module")
def project(root: Path) -> dict[str, list[str]]:
    """Requirements of pyproject.toml by group."""
    table = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    run = table["project"]["dependencies"] + table["build-system"]["requires"]
    return {"run": run, **table["project"]["optional-dependencies"]}


ELSEWHERE = ("macos-arm64", "windows-x86-64")
OTHER_RELEASE = {"macos-arm64": {"vosk"}}
"""Where the release that Linux has lacks a wheel."""


@pytest.fixture(scope="module")
def lock(root: Path) -> dict[str, tuple[str, set[str], int]]:
    """Version, groups and number of checksums by package."""
    text = (root / "requirements.lock").read_text(encoding="utf-8")
    entries = re.findall(
        r"^# for: (.+)\n([a-z0-9-]+)==(\S+)[^\n]*\\\n((?:    --hash=sha256:[0-9a-f]{64}.*\n)+)",
        text,
        re.MULTILINE,
    )
    return {
        name: (version, set(groups.split()), hashes.count("--hash"))
        for groups, name, version, hashes in entries
    }


def test_every_line_belongs_to_an_entry(root: Path, lock: dict[str, object]) -> None:
    lines = (root / "requirements.lock").read_text(encoding="utf-8").splitlines()
    names = [line.split("==")[0] for line in lines if re.match(r"[a-z0-9]", line)]
    assert names == sorted(lock)


def test_what_is_asked_for_is_locked(
    project: dict[str, list[str]], lock: dict[str, tuple[str, set[str], int]]
) -> None:
    for group, wanted in project.items():
        for requirement in map(Requirement, wanted):
            version, groups, _ = lock[requirement.name]
            assert requirement.specifier.contains(version), requirement
            assert groups & {group, "run"}, requirement


def test_what_runs_is_bounded_at_both_ends(project: dict[str, list[str]]) -> None:
    """A wheel is installed with the newest in these ranges: the lower end is what was tested, the
    upper where a package may change what it does. What builds it may be newer."""
    ends = {
        text: {part.operator for part in Requirement(text).specifier} for text in project["run"]
    }
    loose = [text for text, found in ends.items() if found not in ({"=="}, {">=", "<"})]
    assert loose == ["setuptools>=77"]


@pytest.mark.parametrize("name", ELSEWHERE)
def test_another_platform_has_what_was_tested_here(
    root: Path,
    project: dict[str, list[str]],
    lock: dict[str, tuple[str, set[str], int]],
    name: str,
) -> None:
    text = (root / "locks" / f"{name}.lock").read_text(encoding="utf-8")
    hashes = r"(?:    --hash=sha256:[0-9a-f]{64}.*\n)+"
    entries = re.findall(rf"^([a-z0-9-]+)==(\S+) \\\n{hashes}", text, re.MULTILINE)
    assert len(entries) == len(re.findall(r"^[a-z0-9]", text, re.MULTILINE))
    there = dict(entries)
    assert list(there) == sorted(there)
    for requirement in map(Requirement, project["run"]):
        if requirement.name != "setuptools":
            assert requirement.specifier.contains(there[requirement.name]), requirement
    shared = there.keys() & lock.keys()
    assert {one for one in shared if there[one] != lock[one][0]} == OTHER_RELEASE.get(name, set())
    wanted = {one for one, (_, groups, _) in lock.items() if "run" in groups} - {"setuptools"}
    assert wanted <= there.keys()


def test_no_other_platform_has_a_lock(root: Path) -> None:
    assert {path.stem for path in (root / "locks").iterdir()} == set(ELSEWHERE)


def test_nothing_heavy_came_in(lock: dict[str, object]) -> None:
    assert not {"torch", "tensorflow", "transformers", "build123d"} & set(lock)


@pytest.mark.parametrize("name", ["requirements.lock", *(f"locks/{one}.lock" for one in ELSEWHERE)])
def test_no_address_is_in_it(root: Path, name: str) -> None:
    text = (root / name).read_text(encoding="utf-8")
    assert not re.search(r"https?:|--(extra-)?index-url|--find-links| @ ", text)


def imported(folder: Path) -> set[str]:
    """Top-level names of all modules that the code under `folder` imports, wherever in it."""
    names = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                names |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.level == 0 and node.module:
                names.add(node.module.split(".")[0])
    return names - sys.stdlib_module_names


@pytest.mark.parametrize(
    ("folder", "groups"), [("assistant", ["run", "show"]), ("tests", ["run", "test", "torture"])]
)
def test_what_is_imported_is_asked_for(
    root: Path, project: dict[str, list[str]], folder: str, groups: list[str]
) -> None:
    asked = {canonical(Requirement(text).name) for group in groups for text in project[group]}
    distributions = packages_distributions()
    own = {"assistant"}
    if folder == "tests":
        scripts = root / "scripts"
        own |= {"tests", *(path.parent.name for path in scripts.glob("*/__init__.py"))}
    missing = {
        name
        for name in imported(root / folder) - own
        # an extra that isn't installed is known by its own name alone
        if not {canonical(known) for known in [name, *distributions.get(name, [])]} & asked
    }
    assert missing == set()


def canonical(name: str) -> str:
    """A package's name as registries compare it."""
    return re.sub(r"[-_.]+", "-", name).lower()

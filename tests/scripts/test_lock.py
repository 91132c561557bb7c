"""requirements.lock holds what pyproject.toml asks for, whole, and says nothing of where from."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement


@pytest.fixture(scope="module")
def project(root: Path) -> dict[str, list[str]]:
    """Requirements of pyproject.toml by group."""
    table = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    run = table["project"]["dependencies"] + table["build-system"]["requires"]
    return {"run": run, **table["project"]["optional-dependencies"]}


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


def test_run_time_dependencies_are_exact(project: dict[str, list[str]]) -> None:
    loose = [text for text in project["run"] if "==" not in text]
    assert loose == ["setuptools>=77"]


def test_nothing_heavy_came_in(lock: dict[str, object]) -> None:
    assert not {"torch", "tensorflow", "transformers", "build123d"} & set(lock)


def test_no_address_is_in_it(root: Path) -> None:
    text = (root / "requirements.lock").read_text(encoding="utf-8")
    assert not re.search(r"https?:|--(extra-)?index-url|--find-links| @ ", text)

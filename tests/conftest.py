"""What all tests share: in CI the examples that hypothesis tries are the same at every run, so that
a change is judged by what it changed; at a desk they are new ones each time."""

from __future__ import annotations

import os
import tempfile

import pytest
from hypothesis import settings

import assistant  # noqa: F401  first: nothing that a test imports may report home

settings.register_profile("ci", derandomize=True, deadline=None, print_blob=True)
settings.register_profile("desk", deadline=None)
settings.load_profile("ci" if os.environ.get("CI") else "desk")

# what the program and its child processes log while they are tested is no part of anybody's log
os.environ["XDG_STATE_HOME"] = tempfile.mkdtemp(prefix="wheelcall-tests-")


SEEDS = 4
"""Machines and operators by chance that a change is tried on, of those that a trial has."""


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--all-seeds", action="store_true",
        help=f"trials by chance with every seed they have, not the first {SEEDS} alone",
    )  # fmt: skip


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    _first_seeds(config, items)
    _grouped(items)


def _first_seeds(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leaves out the seeds from the fifth on, but where tests are named one by one.

    Each is the same trial on another machine by chance; `scripts/torture --only shop` has all."""
    if config.getoption("all_seeds") or any("::" in arg for arg in config.args):
        return
    later = [item for item in items if _seed(item) >= SEEDS]
    config.hook.pytest_deselected(items=later)
    items[:] = [item for item in items if _seed(item) < SEEDS]


def _seed(item: pytest.Item) -> int:
    """The number of a trial by chance; 0 for all other tests."""
    seed = item.callspec.params.get("seed", 0) if hasattr(item, "callspec") else 0
    return seed if isinstance(seed, int) else 0


def _grouped(items: list[pytest.Item]) -> None:
    """With several processes (`--dist=loadgroup`) the tests of a module share one, for its
    fixtures' sake; the trials in the shop have none and are long, so each is given out alone."""
    for item in items:
        if "shop" not in item.path.parts:
            item.add_marker(pytest.mark.xdist_group(item.nodeid.partition("::")[0]))

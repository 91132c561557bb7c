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


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """With several processes (`--dist=loadgroup`) the tests of a module share one, for its
    fixtures' sake; the trials in the shop have none and are long, so each is given out alone."""
    for item in items:
        if "shop" not in item.path.parts:
            item.add_marker(pytest.mark.xdist_group(item.nodeid.partition("::")[0]))

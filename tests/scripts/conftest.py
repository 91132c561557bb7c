"""The repository's folders, for tests of what lies in scripts/."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def root() -> Path:
    """The top of the repository."""
    return Path(__file__).resolve().parents[2]

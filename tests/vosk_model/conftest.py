"""The shipped model, and the modules of its pipeline, for the tests of both."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
if str(ROOT / "scripts") not in sys.path:
    sys.path.append(str(ROOT / "scripts"))


@pytest.fixture(scope="session")
def model() -> Path:
    """The folder of the shipped model."""
    return ROOT / "voice_models" / "wheelcall-en-small"

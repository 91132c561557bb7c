"""The bench still finds what it measures; how fast that is no test asks."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("asked", "named"),
    [(("--plan", "flats-hexagon"), "cold median"), (("--turns", "flats-hexagon"), "turn median")],
)
def test_it_measures(asked: tuple[str, ...], named: str) -> None:
    done = subprocess.run(
        [sys.executable, "scripts/bench", *asked, "--rounds", "1"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert named in done.stdout

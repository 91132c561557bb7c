"""What benches share: figures from what was timed, and processes of their own."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
from functools import lru_cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
CHILD = "--child"


def percentile(values: list[float], share: float) -> float:
    """The value that `share` of `values` don't exceed."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def spread(values: list[float]) -> dict[str, float]:
    """Median and 95th percentile."""
    return {"median": statistics.median(values), "p95": percentile(values, 0.95)}


@lru_cache(maxsize=1)
def compiled_files() -> tempfile.TemporaryDirectory[str]:
    """Where the processes of this run keep their compiled files; gone at its end."""
    return tempfile.TemporaryDirectory(prefix="bench-")


def started(*what: str, keep: bool = False) -> str:
    """What a process of its own prints; or nothing, where it isn't kept."""
    own = {**os.environ, "PYTHONPYCACHEPREFIX": compiled_files().name}
    own.pop("PYTHONDONTWRITEBYTECODE", None)
    command = [sys.executable, str(Path(sys.argv[0]).resolve()), CHILD, *what]
    made = subprocess.run(command, check=True, cwd=ROOT, capture_output=keep, text=True, env=own)
    return made.stdout if keep else ""

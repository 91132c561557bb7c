"""`tests/torture/itself.py` by loudspeaker and by headset, each on a card of software, in words."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
KINDS = ("loudspeaker", "headset")


def told(minutes: float) -> tuple[str, str, bool]:
    """What was done in so many minutes, what it showed, and whether that is right."""
    runs: dict[str, Any] = {}
    for kind in KINDS:
        done = subprocess.run(
            [ROOT / "scripts" / "virtual_sound", sys.executable, "-m", "tests.torture.itself",
             kind, "--minutes", f"{minutes / len(KINDS):.2f}"],
            cwd=ROOT, capture_output=True, text=True, check=False,
        )  # fmt: skip
        if done.returncode:
            why = done.stderr.strip().splitlines()[-1:] or ["it ended"]
            return f"not done: {why[0]}", "nothing", False
        runs[kind] = json.loads(done.stdout)
        for example in runs[kind]["examples"]:
            print(f"  {example}", file=sys.stderr)
    tried = "; ".join(
        f"{kind}: {run['sentences']:,} sentences of {run['jobs']} jobs, "
        f"{run['spoken'] / 60:.0f} minutes of speaking"
        for kind, run in runs.items()
    )
    found = "; ".join(
        f"{kind}: {sum(run['heard'].values())} times something was heard, "
        f"{sum(run['acted'].values())} times anything came of it"
        for kind, run in runs.items()
    )
    return tried, found, all(run["ok"] for run in runs.values())

"""The resolver that scripts/lock and scripts/platforms ask: which releases fit where."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
UV = "uv==0.13.9"
"""It is no dependency: it gets an environment of its own under build/."""

PYTHONS = ("3.11", "3.12", "3.13")
OLDEST_MACOS = "15.0"
"""The built-in ear's package has no wheel for an older one."""
WHEELS = ("--only-binary", ":all:", "--no-binary", "srt")
"""Wheels alone, but for one of vosk's: published as source, of pure Python, and built by pip."""


def resolver() -> Path:
    """The resolver's command, installed on first use."""
    folder = ROOT / "build" / "lock"
    uv = folder / "bin" / "uv"
    if not uv.exists():
        subprocess.run([sys.executable, "-m", "venv", folder], check=True)
        subprocess.run([folder / "bin" / "pip", "install", "--quiet", UV], check=True)
    return uv


def resolve(uv: Path, into: Path, inputs: list[Path], *options: str) -> str:
    """What uv resolves `inputs` to, in the form of a requirements file, kept in `into`.

    Raises `CalledProcessError` where nothing fits; `stderr` says why.
    """
    command: list[str | Path] = [uv, "pip", "compile", *inputs, "--output-file", into, *options]
    command += ["--no-header", "--no-annotate", "--quiet"]
    # The machine's own certificates, as pip uses them: a shop's network may have its own.
    command += ["--system-certs"]
    env = {**os.environ, "MACOSX_DEPLOYMENT_TARGET": OLDEST_MACOS}
    subprocess.run(command, check=True, cwd=ROOT, env=env, stderr=subprocess.PIPE, text=True)
    return into.read_text(encoding="utf-8")

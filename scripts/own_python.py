"""Start a script again with the project's own Python, where another was used to start it.

To be imported first, before anything that isn't in the standard library. Whoever types
`scripts/bench` gets the packages of the lock, and not an error about a missing one.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

SCRIPTS = Path(__file__).resolve().parent
VENV = SCRIPTS.parent / ".venv"

os.environ["ORT_DISABLE_TELEMETRY"] = "1"  # as in the assistant: nothing of ours reports home


def enter() -> None:
    """Replace this process by the same command under .venv; end with a sentence if there is none.

    Does nothing in the project's own environment, or where the script is imported by another.
    """
    if Path(sys.prefix) == VENV or Path(sys.argv[0]).resolve().parent != SCRIPTS:
        return
    if sys.prefix != sys.base_prefix:
        return  # an environment that somebody chose on purpose
    own, set_up = VENV / "bin" / "python", VENV / ".wheelcall-run"
    # Without the mark of a finished set-up (lib.sh) packages are missing.
    if not (own.exists() and set_up.exists()):
        sys.exit(f"{sys.argv[0]} needs the project's own environment: scripts/test makes it.")
    os.execv(own, [str(own), *sys.argv])


enter()

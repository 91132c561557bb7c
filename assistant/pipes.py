"""The ends of pipes between processes, and how one is given to a process of `subprocess`: by number
on Unix, by an inherited handle on Windows."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import Any

if sys.platform == "win32":
    from multiprocessing.connection import PipeConnection as PipeEnd
else:
    from multiprocessing.connection import Connection as PipeEnd

__all__ = ["PipeEnd", "hand_over"]


def hand_over(number: int) -> dict[str, Any]:
    """The arguments of `subprocess.Popen` with which the new process gets the end of that number,
    and no other; `PipeEnd(number)` is what it has then."""
    if sys.platform == "win32":
        # Not tried: no such machine. As the documentation of `subprocess.STARTUPINFO` has it.
        os.set_handle_inheritable(number, True)
        only = subprocess.STARTUPINFO(lpAttributeList={"handle_list": [number]})
        return {"startupinfo": only}
    # In a session of its own: Ctrl-C in the terminal is for the program, not for it.
    return {"pass_fds": [number], "start_new_session": True}

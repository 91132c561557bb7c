"""Whether a display answers, told without opening a window: in microseconds, and often."""

from __future__ import annotations

import os
import re
import socket
import sys
from pathlib import Path

SECONDS = 0.1
"""A server on this machine takes a connection at once."""
X_SOCKETS = "/tmp/.X11-unix/X"


def display_answers() -> bool:
    """Whether the X or Wayland server of this machine takes connections; True where that can't be
    told so: then only opening a window tells."""
    addresses = _addresses()
    return not addresses or any(map(_answers, addresses))


def _addresses() -> list[str]:
    """Where the servers listen that SDL would try; empty where one isn't on this machine."""
    if not sys.platform.startswith("linux"):
        return []
    found = []
    wayland, named = os.environ.get("WAYLAND_DISPLAY", ""), os.environ.get("DISPLAY", "")
    if wayland:
        found.append(str(Path(os.environ.get("XDG_RUNTIME_DIR", "/"), wayland)))
    if named:
        local = re.fullmatch(r"(?:unix)?:(\d+)(?:\.\d+)?", named)
        if local is None:
            return []
        # one that was killed leaves its file behind; the name that starts with \0 is no file
        found += [X_SOCKETS + local[1], "\0" + X_SOCKETS + local[1]]
    return found


def _answers(address: str) -> bool:
    try:
        with socket.socket(socket.AF_UNIX, socket.SOCK_STREAM) as there:
            there.settimeout(SECONDS)
            there.connect(address)
    except OSError:
        return False
    return True

"""Whether there is a display, told without opening a window: in no time, and often."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

SOCKETS = Path("/proc/net/unix")
"""Linux: the sockets of this machine. Each line: number, references, protocol, flags, type, state,
inode and, where it has one, the path; `@` begins the name of one that is no file. See proc(5)."""
LISTENS = 1 << 16
"""The flag of a socket that takes connections."""
X_SOCKETS = "/tmp/.X11-unix/X"


def display_answers(sockets: Path = SOCKETS) -> bool:
    """Whether the X or Wayland server of this machine takes connections; True where that can't be
    told so: then only opening a window tells."""
    addresses = _addresses()
    if not addresses:
        return True
    try:
        lines = sockets.read_text(encoding="utf-8", errors="replace").splitlines()[1:]
    except OSError:
        return True
    return any(_listens_at(line, addresses) for line in lines)


def _listens_at(line: str, addresses: list[str]) -> bool:
    fields = line.split(maxsplit=7)
    return len(fields) == 8 and fields[7] in addresses and bool(int(fields[3], 16) & LISTENS)


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
        found += [X_SOCKETS + local[1], f"@{X_SOCKETS}{local[1]}"]
    return found

"""Folders for files of one running process, cleared by the next one where it was killed.

A folder in use holds a lock that the system gives back when its process ends, however it ends: so
what a killed process left is told from what another copy of the program is using now.
"""

from __future__ import annotations

import os
import shutil
import tempfile
import time
from contextlib import suppress
from pathlib import Path

from filelock import FileLock, Timeout

LOCK = "in-use"
YOUNG_SECONDS = 60.0
"""A folder so young may be one that another process is just making, before it holds the lock."""


class Scratch:
    """A folder of this process, gone at `close`. `what` names its kind: `voice`."""

    def __init__(self, what: str) -> None:
        clear_left_over(what)
        self._folder = tempfile.TemporaryDirectory(prefix=_prefix(what))
        self._lock = FileLock(self.path / LOCK)
        self._lock.acquire(timeout=1)

    @property
    def path(self) -> Path:
        """Where it is."""
        return Path(self._folder.name)

    def close(self) -> None:
        """Remove it with all that is in it."""
        self._lock.release()
        self._folder.cleanup()


def _prefix(what: str) -> str:
    return f"wheelcall-{what}-"


def clear_left_over(what: str) -> list[Path]:
    """Remove folders of that kind whose process is gone; those that were removed."""
    gone = []
    for folder in Path(tempfile.gettempdir()).glob(f"{_prefix(what)}*"):
        with suppress(OSError):  # another process clears it too, or it is another person's
            if _is_left_over(folder):
                shutil.rmtree(folder)
                gone.append(folder)
    return gone


def _is_left_over(folder: Path) -> bool:
    about = folder.lstat()
    ours = not hasattr(os, "getuid") or about.st_uid == os.getuid()
    if not ours or not folder.is_dir() or folder.is_symlink():
        return False
    if time.time() - about.st_mtime < YOUNG_SECONDS:
        return False
    if not (folder / LOCK).exists():
        return True
    lock = FileLock(folder / LOCK)
    try:
        lock.acquire(timeout=0)
    except Timeout:
        return False
    lock.release()
    return True

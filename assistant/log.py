"""The log: a few small files in the state folder, of what went wrong and how long things took.

No sound and no word that was said is in it: lines tell of the program and its devices alone. It is
readable by its owner alone, and nothing reads it but `wheelcall check --bundle`.
"""

from __future__ import annotations

import faulthandler
import logging
import os
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path

import platformdirs

NAME = "wheelcall"
LARGEST = 256 * 1024
"""Bytes of a file; then a new one is begun."""
KEPT = 3
"""Earlier files that are kept."""
FORM = "%(asctime)s %(process)d %(levelname)s %(name)s: %(message)s"
OWNER_ALONE = 0o600

_crashes: list[TextIOWrapper] = []
"""What `faulthandler` writes to has to stay open."""


def log_path() -> Path:
    """The file that is written now; earlier ones end in `.1`, `.2` ..."""
    return platformdirs.user_state_path(NAME, appauthor=False) / f"{NAME}.log"


def log_files() -> list[Path]:
    """Every file of the log that there is, the newest first."""
    path = log_path()
    all_of_them = [
        path,
        *(path.with_name(f"{path.name}.{number}") for number in range(1, KEPT + 1)),
    ]
    return [one for one in all_of_them if one.is_file()]


def get_log(what: str) -> logging.Logger:
    """Where a part of the program writes: `ear`, `screen`. Nothing is kept before `start_log`."""
    return logging.getLogger(f"{NAME}.{what}")


def _opened(path: str | Path) -> TextIOWrapper:
    """The file to write on at its end, made for its owner alone."""
    raw = open(path, "ab", opener=lambda name, flags: os.open(name, flags, OWNER_ALONE))  # noqa: SIM115
    return TextIOWrapper(raw, encoding="utf-8", errors="backslashreplace")


class _Rotating(RotatingFileHandler):
    def _open(self) -> TextIOWrapper:
        return _opened(self.baseFilename)


class _Appending(logging.FileHandler):
    """For a child process: it writes on, and leaves it to the program to begin a new file."""

    def _open(self) -> TextIOWrapper:
        return _opened(self.baseFilename)


def start_log(*, child: bool = False) -> None:
    """Have what is logged written to the file; where that can't be, it is lost, and nothing else.

    A `child` process has the cause of a crash in native code written there as well.
    """
    logger = logging.getLogger(NAME)
    if logger.handlers:
        return
    logging.raiseExceptions = False  # a full disk is told of by the journal, once
    logger.setLevel(logging.INFO)
    logger.propagate = False
    path = log_path()
    handler: logging.Handler
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if child:
            handler = _Appending(path)
            _crashes.append(_opened(path))
            faulthandler.enable(_crashes[-1])
        else:
            handler = _Rotating(path, maxBytes=LARGEST, backupCount=KEPT)
    except OSError:
        handler = logging.NullHandler()
    handler.setFormatter(logging.Formatter(FORM))
    logger.addHandler(handler)

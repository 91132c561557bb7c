"""A display of software for one test: an X server that draws into memory, and can be killed."""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
from types import TracebackType
from typing import Self

import pytest

needs_a_display = pytest.mark.skipif(
    shutil.which("Xvfb") is None,
    reason="no Xvfb here to make up a display: apt-get install xvfb",
)


class Display:
    """`Xvfb` on a number that nobody uses; after `kill`, `start` begins one of the same name."""

    def __init__(self) -> None:
        self._number = ""
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.kill()

    @property
    def name(self) -> str:
        """What DISPLAY has to be."""
        return f":{self._number}"

    def start(self) -> None:
        """Returns when it can be used."""
        read_end, write_end = os.pipe()
        number = [self.name] if self._number else []
        self._process = subprocess.Popen(
            ["Xvfb", *number, "-displayfd", str(write_end), "-screen", "0", "1024x600x24",
             "-nolisten", "tcp"],
            pass_fds=[write_end], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(write_end)
        with os.fdopen(read_end) as told:
            self._number = told.readline().strip() or self._number

    def kill(self) -> None:
        """As a crash would end it."""
        process, self._process = self._process, None
        if process is not None:
            process.kill()
            process.wait()

    def has_a_window(self) -> bool:
        """Whether some program has a window open on it."""
        x11 = ctypes.CDLL("libX11.so.6")
        x11.XOpenDisplay.restype = ctypes.c_void_p
        x11.XDefaultRootWindow.argtypes = [ctypes.c_void_p]
        x11.XDefaultRootWindow.restype = ctypes.c_ulong
        x11.XQueryTree.argtypes = [ctypes.c_void_p, ctypes.c_ulong, *[ctypes.c_void_p] * 4]
        x11.XCloseDisplay.argtypes = [ctypes.c_void_p]
        opened = x11.XOpenDisplay(self.name.encode())
        if not opened:
            return False
        root, parent, windows = ctypes.c_ulong(), ctypes.c_ulong(), ctypes.c_void_p()
        count = ctypes.c_uint()
        x11.XQueryTree(
            opened, x11.XDefaultRootWindow(opened), *map(ctypes.byref, (root, parent, windows)),
            ctypes.byref(count),
        )  # fmt: skip
        x11.XCloseDisplay(opened)
        return count.value > 0

"""The terminal: letters that it doesn't know, a reader that has gone, interrupts."""

from __future__ import annotations

import codecs
import io
import os
import signal
import sys
from types import MappingProxyType

PLAIN = MappingProxyType(
    {
        "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "°": " deg", "×": "x", "Ø": "dia ",
        "−": "-", "–": "-", "—": "-", "…": "...", "·": "*", "’": "'", "“": '"', "”": '"',
    }
)  # fmt: skip
"""Signs of this program, for a terminal without them: a number must stay readable."""

WAIT = "WHEELCALL_WAIT"
"""Set in a menu entry's command: the terminal that it opens closes with the program, so that an
error has to wait until it is read."""


def _in_plain_letters(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    wanted = error.object[error.start : error.end]
    found = [PLAIN.get(one) or one.encode("unicode_escape").decode("ascii") for one in wanted]
    return "".join(found), error.end


codecs.register_error("plain-letters", _in_plain_letters)


def prepare_process() -> None:
    """Have an interrupt reach us though the parent ignored it (a shell that starts a program in
    the background does), and no letter that the terminal doesn't know end the program."""
    signal.signal(signal.SIGINT, signal.default_int_handler)
    for stream, errors in (
        (sys.stdin, "replace"),
        (sys.stdout, "plain-letters"),
        (sys.stderr, "plain-letters"),
    ):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors=errors)


def is_a_terminal() -> bool:
    """Whether somebody can type."""
    return sys.stdin is not None and sys.stdin.isatty()


def wait_where_the_terminal_closes() -> None:
    """Have an error read before the window that it stands in is gone."""
    if os.environ.get(WAIT) and is_a_terminal():
        try:
            input("Press Enter to close this window. ")
        except (EOFError, KeyboardInterrupt):
            return


def nobody_reads() -> int:
    """The reader of a pipe has seen enough (`plan JOB | head`), and nothing is wrong: the exit
    status. What is still to be written goes nowhere, or Python would complain of it at the end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    return 0

"""The `wheelcall` command.

Exit status: 0 all right; 1 a job was not finished, a check failed; 2 wrong use or bad input;
3 the journal or a device that was asked for can't be used; 4 an error of the program itself;
130 interrupted.
"""

from __future__ import annotations

import os
import sys
import time

from assistant import __version__
from assistant.app.cli.exits import (
    EXIT_DEVICE,
    EXIT_INPUT,
    EXIT_INTERRUPTED,
    EXIT_PROGRAM,
    EXIT_UNFINISHED,
)
from assistant.app.cli.terminal import (
    nobody_reads,
    prepare_process,
    wait_where_the_terminal_closes,
)
from assistant.log import get_log, log_path, start_log

COMPLETING = "_WHEELCALL_COMPLETE"
"""Set by the shell where it only asks what can follow."""

LONGEST_ERROR = 2000
"""Letters of an error's line."""


def _came_of(end: SystemExit, kind: type[BaseException]) -> bool:
    """Whether Typer made this end of another, about which it says nothing itself."""
    cause: BaseException | None = end
    while cause is not None and not isinstance(cause, kind):
        cause = cause.__cause__ or cause.__context__
    return cause is not None


def _say(line: object) -> None:
    """A line about an error; what a file or its name holds is shown, and nothing acts on it."""
    from assistant.textfile import visible

    print(f"wheelcall: {visible(str(line), LONGEST_ERROR)}", file=sys.stderr)
    wait_where_the_terminal_closes()


def main() -> None:
    """Run the command line; every error raised on purpose ends in one plain line, and any other in
    one that says where its details are."""
    prepare_process()
    if COMPLETING not in os.environ:
        start_log()
    log = get_log("program")
    begun = time.monotonic()
    log.info("%s begins %s", __version__, " ".join(sys.argv[1:2]))  # what follows may be words said
    status = EXIT_PROGRAM
    try:
        status = _status()
    except SystemExit as end:
        status = end.code if isinstance(end.code, int) else 0
        raise
    except Exception as error:
        log.exception("an error of the program")
        what = "there is not enough memory" if isinstance(error, MemoryError) else repr(error)
        _say(
            f"the program failed: {what}. A job under way is kept. Details are in {log_path()}; "
            "wheelcall check --bundle FILE packs them for a report."
        )
    finally:
        log.info("ends with %s after %.1f s", status, time.monotonic() - begun)
    sys.exit(status)


def _status() -> int:
    """Run the command; the exit status, where `SystemExit` doesn't bring it."""
    from assistant.app.cli.every_command import app
    from assistant.errors import BadInput, DeviceFailed, DeviceMissing, JournalError, WheelcallError

    try:
        try:
            app(prog_name="wheelcall")
        finally:
            sys.stdout.flush()
    except BrokenPipeError:
        return nobody_reads()
    except KeyboardInterrupt:
        print("\ninterrupted", file=sys.stderr)
        return EXIT_INTERRUPTED
    except SystemExit as end:
        if _came_of(end, BrokenPipeError):
            return nobody_reads()
        if _came_of(end, KeyboardInterrupt):
            print("\ninterrupted", file=sys.stderr)
        raise
    except BadInput as error:
        _say(error)
        return EXIT_INPUT
    except (DeviceMissing, DeviceFailed, JournalError) as error:
        return _ended_by(error, EXIT_DEVICE)
    except WheelcallError as error:
        return _ended_by(error, EXIT_UNFINISHED)
    except OSError as error:
        return _ended_by(f"{error.filename or 'a file'}: {error.strerror}", EXIT_DEVICE)
    return 0


def _ended_by(error: object, status: int) -> int:
    get_log("program").error("%s", error)
    _say(error)
    return status

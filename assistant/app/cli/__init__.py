"""The `wheelcall` command.

Exit status: 0 all right; 1 a job was not finished, a check failed; 2 wrong use or bad input;
3 the journal or a device that was asked for can't be used; 130 interrupted.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping

EXIT_UNFINISHED = 1
EXIT_INPUT = 2
EXIT_DEVICE = 3
EXIT_INTERRUPTED = 130


def only_where(given: Mapping[str, bool], where: str) -> None:
    """Raises `BadInput` for the first option that was given and can only be used `where`: one that
    changed nothing would be taken for one that did."""
    from assistant.errors import BadInput

    for option, used in given.items():
        if used:
            raise BadInput(option, "given", f"it can only be used {where}")


def _came_of_an_interrupt(end: SystemExit) -> bool:
    """Whether Typer made this end of Control-C, about which it says nothing itself."""
    cause: BaseException | None = end
    while cause is not None and not isinstance(cause, KeyboardInterrupt):
        cause = cause.__cause__ or cause.__context__
    return cause is not None


def main() -> None:
    """Run the command line; every error raised on purpose ends in one plain line."""
    from assistant.app.cli.commands import app
    from assistant.errors import BadInput, DeviceFailed, DeviceMissing, JournalError

    try:
        app()
    except KeyboardInterrupt:
        print("\ninterrupted", file=sys.stderr)
        sys.exit(EXIT_INTERRUPTED)
    except SystemExit as end:
        if _came_of_an_interrupt(end):
            print("\ninterrupted", file=sys.stderr)
        raise
    except BadInput as error:
        print(f"wheelcall: {error}", file=sys.stderr)
        sys.exit(EXIT_INPUT)
    except (DeviceMissing, DeviceFailed, JournalError) as error:
        print(f"wheelcall: {error}", file=sys.stderr)
        sys.exit(EXIT_DEVICE)
    except OSError as error:
        print(f"wheelcall: {error.filename or 'a file'}: {error.strerror}", file=sys.stderr)
        sys.exit(EXIT_DEVICE)

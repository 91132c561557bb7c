"""The `wheelcall` command.

Exit status: 0 all right; 1 a job was not finished, a check failed; 2 wrong use or bad input;
3 the journal or a device that was asked for can't be used; 130 interrupted.
"""

from __future__ import annotations

import sys

EXIT_UNFINISHED = 1
EXIT_INPUT = 2
EXIT_DEVICE = 3
EXIT_INTERRUPTED = 130


def main() -> None:
    """Run the command line; every error raised on purpose ends in one plain line."""
    from assistant.app.cli.commands import app
    from assistant.errors import BadInput, DeviceFailed, DeviceMissing, JournalError

    try:
        app()
    except KeyboardInterrupt:
        print("\ninterrupted", file=sys.stderr)
        sys.exit(EXIT_INTERRUPTED)
    except BadInput as error:
        print(f"wheelcall: {error}", file=sys.stderr)
        sys.exit(EXIT_INPUT)
    except (DeviceMissing, DeviceFailed, JournalError) as error:
        print(f"wheelcall: {error}", file=sys.stderr)
        sys.exit(EXIT_DEVICE)
    except OSError as error:
        print(f"wheelcall: {error.filename or 'a file'}: {error.strerror}", file=sys.stderr)
        sys.exit(EXIT_DEVICE)

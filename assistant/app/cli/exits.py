"""The exit statuses of the commands; what they mean stands in the package's own docstring."""

from __future__ import annotations

EXIT_UNFINISHED = 1
EXIT_INPUT = 2
EXIT_DEVICE = 3
EXIT_PROGRAM = 4
EXIT_INTERRUPTED = 130

"""Every error that Wheelcall raises on purpose.

    WheelcallError
    ├── BadInput                 a value the operator or a file gave
    │   ├── ImpossibleInput      well formed, but no such part, cutter or move can exist
    │   └── BadFile              a job, machine or settings file: names file and key
    │       └── Unlikely         could be, but hardly is: taken where the file confirms it
    ├── DeviceMissing            a microphone, voice, screen or model that isn't there
    ├── DeviceFailed             one that was there and stopped answering
    └── JournalError             the journal could not be read or written

Each carries its data as attributes, so that the shell, the voice and the screen can word it
in their own way; `str()` is the sentence for the shell.
"""

from __future__ import annotations

from pathlib import Path


class WheelcallError(Exception):
    """The root: catching it catches everything raised on purpose, and no programming error."""


class BadInput(WheelcallError):
    """A value that can't be used: names the field, the value and what would be right."""

    def __init__(self, field: str, value: object, want: str) -> None:
        self.field = field
        self.value = value
        self.want = want
        super().__init__(f"{field} is {value}: {want}")


class ImpossibleInput(BadInput):
    """A value that is well formed but describes something that can't be made or measured."""


class BadFile(BadInput):
    """A value in a file: also names the file and the key."""

    def __init__(self, path: Path | str, key: str, value: object, want: str) -> None:
        self.path = str(path)
        super().__init__(f"{path}: {key}", value, want)
        self.key = key


class Unlikely(BadFile):
    """What could be so, but hardly is: the file is taken where it says that it was measured."""

    def __init__(self, path: Path | str, key: str, value: object, want: str, confirm: str) -> None:
        """`want` is the reason; `confirm` what the file says where it is so all the same."""
        super().__init__(path, key, value, want + confirm)
        self.reason = want


class DeviceMissing(WheelcallError):
    """A device that isn't there: which, why, and what the operator has to do without."""

    def __init__(self, device: str, why: str, cost: str = "") -> None:
        self.device = device
        self.why = why
        self.cost = cost
        super().__init__(f"no {device}: {why}" + (f"; {cost}" if cost else ""))


class DeviceFailed(WheelcallError):
    """A device that was in use and stopped working."""

    def __init__(self, device: str, why: str) -> None:
        self.device = device
        self.why = why
        super().__init__(f"{device} failed: {why}")


class JournalError(WheelcallError):
    """The journal could not be written or read; nothing was adopted that is not on disk."""

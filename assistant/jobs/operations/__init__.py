"""Every operation: one folder each, found by its name; and those that other packages bring.

A folder's own module, `__init__.py`, has nothing but its `OPERATION`, so that all of them can be
listed without loading what works them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from importlib import import_module
from pkgutil import iter_modules
from typing import cast

from assistant.jobs.operation import Operation
from assistant.jobs.other_packages import Brought, brought


class Operations(Mapping[str, Operation]):
    """The operations by name. One of the program's own that is asked for by name is loaded alone,
    and other packages are looked at when all are listed, or for a name that is none of its own."""

    def __getitem__(self, name: str) -> Operation:
        if name in self._folders:
            return cast(Operation, import_module(self._folders[name]).OPERATION)
        return self._brought.operations[name]

    def __iter__(self) -> Iterator[str]:
        names = (*self._folders, *self._brought.operations)
        return iter(sorted(names, key=lambda name: self[name].rank))

    def __len__(self) -> int:
        return len(self._folders) + len(self._brought.operations)

    @property
    def broken(self) -> Mapping[str, str]:
        """Operations of other packages that can't be used, each with a sentence about why."""
        return self._brought.broken

    @cached_property
    def _folders(self) -> Mapping[str, str]:
        """The program's own, and their packages."""
        folders = (one.name for one in iter_modules(__path__) if one.ispkg)
        return {folder.replace("_", "-"): f"{__name__}.{folder}" for folder in folders}

    @cached_property
    def _brought(self) -> Brought:
        return brought({name: self[name] for name in self._folders})


OPERATIONS = Operations()
"""Operation, as a job file names it -> the operation, in the order in which they are offered."""

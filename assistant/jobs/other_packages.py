"""Operations that other installed packages bring, by the entry point group `wheelcall.operations`.

    [project.entry-points."wheelcall.operations"]
    saw-cuts = "saw_cuts:OPERATION"

Whatever such a package does wrong, the program goes on without it and says so in words.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.metadata import EntryPoint, entry_points

from assistant.jobs.operation import Operation
from assistant.machine import KINDS
from assistant.replacing import replace

GROUP = "wheelcall.operations"


@dataclass(frozen=True)
class Brought:
    """What other packages bring."""

    operations: Mapping[str, Operation]
    broken: Mapping[str, str]
    """Operation, as the entry point names it -> why it can't be used, in a sentence."""


def brought(own: Mapping[str, Operation]) -> Brought:
    """What is installed now, beside the program's `own`."""
    taken, broken = dict(own), {}
    for point in sorted(entry_points(group=GROUP), key=lambda one: (one.name, one.value)):
        by = f"{point.dist.name} {point.dist.version}" if point.dist else point.value
        try:
            taken[point.name] = replace(_checked(point, taken), brought_by=by)
        except Exception as error:  # a stranger's package can raise anything
            why = (
                str(error) if isinstance(error, _UnfitError) else f"{type(error).__name__}: {error}"
            )
            broken[point.name] = f"{by} brings the operation {point.name}; it can't be used: {why}"
    return Brought({name: one for name, one in taken.items() if name not in own}, broken)


class _UnfitError(Exception):
    """What is wrong with an operation that could be loaded."""


def _checked(point: EntryPoint, taken: Mapping[str, Operation]) -> Operation:
    """The operation of an entry point, with all of its modules loaded. Raises anything at all."""
    if point.name in taken:
        raise _UnfitError("there is one of that name already")
    one = point.load()
    if not isinstance(one, Operation):
        raise _UnfitError(f"{point.value} is no Operation")
    if one.name != point.name:
        raise _UnfitError(f"it calls itself {one.name}")
    if one.called.lower() in {each.called.lower() for each in taken.values()}:
        raise _UnfitError(f"another one is called {one.called}, too")
    if one.form.field(one.main) is None:
        raise _UnfitError(f"its form has no field {one.main}")
    if not one.machines or not set(one.machines) <= set(KINDS):
        raise _UnfitError(f"its machines are not some of {', '.join(KINDS)}")
    drawn = {kind for each in taken.values() for kind in each.draws}
    if set(one.drawings) != set(one.draws) or drawn & set(one.draws):
        raise _UnfitError("its drawings are not those that it names, or are another operation's")
    if not one.works:
        raise _UnfitError("its module work has no read and plan")
    return one

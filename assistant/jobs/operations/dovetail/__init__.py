"""Dovetail: the operation `dovetail`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="dovetail",
    called="Dovetail",
    in_short="dovetails",
    summary="A dovetail, male or female, by a dovetail cutter, measured over or between two pins.",
    machines=("vertical mill",),
    main="dovetail.wide",
    draws=("dovetail",),
    rank=90,
    package=__name__,
)

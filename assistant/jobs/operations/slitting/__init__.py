"""Slitting: the operation `slitting`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="slitting",
    called="Slitting",
    in_short="slitting",
    summary="Slitting with a saw on an arbor: to a depth, or right through.",
    machines=("horizontal mill",),
    main="cut.piece",
    stays=("check-saw",),
    rank=70,
    package=__name__,
)

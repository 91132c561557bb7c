"""Thread: the operation `thread`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="thread",
    called="Thread",
    in_short="threads",
    summary="Single-point thread, unified or metric, external or internal.",
    machines=("lathe",),
    main="thread.name",
    draws=("thread",),
    stays=("check-compound", "check-gears", "check-half-nut", "measure-wires"),
    rank=250,
    package=__name__,
)

"""Facing to length: the operation `face-lathe`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="face-lathe",
    called="Facing to length",
    in_short="facing in the lathe",
    summary=(
        "Facing to length on the lathe: touch the end, clean it up, measure the length, take "
        "the rest."
    ),
    machines=("lathe",),
    main="work.length",
    draws=("faced",),
    stays=("check-compound",),
    rank=200,
    package=__name__,
)

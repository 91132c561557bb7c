"""Parting off: the operation `part`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="part",
    called="Parting off",
    in_short="parting",
    summary=(
        "Parting off: the blade set along by the length and its own width, then fed in to the "
        "centre."
    ),
    machines=("lathe",),
    main="work.length",
    draws=("parted",),
    stays=("check-blade", "measure-blade"),
    rank=210,
    package=__name__,
)

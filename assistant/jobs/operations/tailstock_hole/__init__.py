"""Hole from the tailstock: the operation `tailstock-hole`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="tailstock-hole",
    called="Hole from the tailstock",
    in_short="holes from the tailstock",
    summary=(
        "A hole from the tailstock of a lathe: centred, drilled, reamed, counterbored, sunk, or "
        "tapped."
    ),
    machines=("lathe",),
    main="work.diameter",
    rank=225,
    package=__name__,
)

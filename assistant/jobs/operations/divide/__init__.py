"""Dividing: the operation `divide`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="divide",
    called="Dividing",
    in_short="dividing",
    summary=(
        "Dividing alone: a mark, a hole or a cut at every division of a circle, or at equal angles."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="divide.divisions",
    draws=("index", "table"),
    rank=170,
    package=__name__,
)

"""Squared block: the operation `square-block`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="square-block",
    called="Squared block",
    in_short="squaring a block",
    summary=(
        "Squaring a block: six faces in the order in which each is squared from those before it."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="block.thickness",
    draws=("block",),
    rank=100,
    package=__name__,
)

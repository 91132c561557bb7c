"""Holes by coordinates: the operation `holes`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="holes",
    called="Holes by coordinates",
    in_short="holes by coordinates and bolt circles",
    summary=(
        "Holes by coordinates from two edges: single ones, rows and grids, bolt circles; drilled, "
        "reamed, counterbored or tapped, tool by tool or hole by hole."
    ),
    machines=("vertical mill", "drill press"),
    main="drill.diameter",
    draws=("holes", "bolt circle"),
    rank=160,
    package=__name__,
)

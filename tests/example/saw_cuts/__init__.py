"""Saw cuts: an operation that another package brings."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="saw-cuts",
    called="Saw cuts",
    in_short="saw cuts",
    summary="Pieces sawn off a bar by hand, counted, with what the saw takes.",
    machines=("vertical mill", "drill press"),
    main="piece.length",
    draws=("sawn bar",),
    rank=300,
    package=__name__,
)

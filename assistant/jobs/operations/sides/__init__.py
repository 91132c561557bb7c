"""Ends and sides: the operation `sides`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="sides",
    called="Ends and sides",
    in_short="ends and sides to length and width",
    summary=(
        "Ends and sides milled to length and width with the side of an end mill: one after the "
        "other or all round a block, climbing for the finish where the machine allows it."
    ),
    machines=("vertical mill",),
    main="block.length",
    draws=("sides",),
    stays=("check-flutes", "check-climbing"),
    rank=45,
    package=__name__,
)

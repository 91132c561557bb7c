"""Drilled hole: the operation `drill`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="drill",
    called="Drilled hole",
    in_short="drilling",
    summary=(
        "One hole drilled to depth, and what is done to it: pilot, pecks, reamer, "
        "counterbore, sink."
    ),
    machines=("vertical mill", "drill press"),
    main="hole.drill",
    draws=("hole",),
    rank=130,
    package=__name__,
)

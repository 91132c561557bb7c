"""Facing: the operation `face`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="face",
    called="Facing",
    in_short="faces",
    summary=(
        "A face milled to thickness: rows side by side, first till it cleans up, then to size."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="face.height",
    draws=("face",),
    rank=40,
    package=__name__,
)

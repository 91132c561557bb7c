"""Step: the operation `step`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="step",
    called="Step",
    in_short="steps",
    summary="A step along a side of a block: floor and one wall.",
    machines=("horizontal mill", "vertical mill"),
    main="step.width",
    draws=("step",),
    rank=50,
    package=__name__,
)

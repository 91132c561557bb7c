"""T-slot: the operation `tslot`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="tslot",
    called="T-slot",
    in_short="T-slots",
    summary=(
        "A T-slot: the straight slot first, a little short of the floor; then the T and the "
        "floor at once."
    ),
    machines=("vertical mill",),
    main="tslot.throat",
    stays=("check-neck",),
    rank=80,
    package=__name__,
)

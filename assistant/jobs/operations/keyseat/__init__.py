"""Keyseat: the operation `keyseat`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="keyseat",
    called="Keyseat",
    in_short="keyseats",
    summary=(
        "Straight keyseat in a shaft: slotting cutter on a horizontal mill, end mill on a "
        "vertical one."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="shaft.diameter",
    draws=("keyseat",),
    stays=("check-neck",),
    rank=10,
    package=__name__,
)

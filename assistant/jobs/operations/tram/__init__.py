"""Tramming: the operation `tram`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="tram",
    called="Tramming",
    in_short="tramming",
    summary=(
        "Tramming a head or a vice: swept with an indicator, corrected by what it says, swept "
        "again."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="tram.sweep",
    cuts=False,
    draws=("swept",),
    rank=290,
    package=__name__,
)

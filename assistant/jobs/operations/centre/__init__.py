"""Finding the middle: the operation `centre`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="centre",
    called="Finding the middle",
    in_short="finding centres",
    summary="Finding edges and centres: a corner, or the middle of a boss, a plate or a bore.",
    machines=("horizontal mill", "vertical mill", "drill press"),
    main="feature.diameter",
    cuts=False,
    draws=("centre",),
    rank=270,
    package=__name__,
)

"""Flats: the operation `flats`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="flats",
    called="Flats",
    in_short="flats",
    summary=(
        "Flats on round stock: one, two opposite, a square, a hexagon or more, by dividing "
        "head or block."
    ),
    machines=("vertical mill",),
    main="flats.across",
    draws=("flats",),
    rank=110,
    package=__name__,
)

"""Tailstock into line: the operation `tailstock`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="tailstock",
    called="Tailstock into line",
    in_short="bringing the tailstock into line",
    summary=(
        "Bringing the tailstock into line: two collars turned at one setting, measured, and "
        "the shift."
    ),
    machines=("lathe",),
    main="bar.collar",
    draws=("collars",),
    rank=240,
    package=__name__,
)

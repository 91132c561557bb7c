"""Angle: the operation `angle`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="angle",
    called="Angle",
    in_short="setting to an angle",
    summary=(
        "Setting work or a head to an angle: on a sine bar, or tilted and swept with an indicator."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="angle.degrees",
    cuts=False,
    draws=("angle",),
    rank=280,
    package=__name__,
)

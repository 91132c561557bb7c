"""Spur gear: the operation `gear`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="gear",
    called="Spur gear",
    in_short="spur gears",
    summary="One spur gear by dividing head and involute cutter.",
    machines=("horizontal mill",),
    main="gear.teeth",
    draws=("gear",),
    stays=("check-cutter",),
    rank=120,
    package=__name__,
)

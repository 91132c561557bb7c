"""Woodruff keyseat: the operation `woodruff`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="woodruff",
    called="Woodruff keyseat",
    in_short="Woodruff seats",
    summary="Woodruff keyseat: the cutter of the key's number, raised straight into the shaft.",
    machines=("horizontal mill", "vertical mill"),
    main="shaft.diameter",
    draws=("woodruff",),
    stays=("check-cutter", "check-neck"),
    rank=20,
    package=__name__,
)

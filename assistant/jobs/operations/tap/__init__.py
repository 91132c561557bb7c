"""Tapped hole: the operation `tap`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="tap",
    called="Tapped hole",
    in_short="tapping",
    summary=(
        "A tapped hole: tap drill by percentage of thread on a named basis, drilled, sunk and "
        "tapped."
    ),
    machines=("vertical mill", "drill press"),
    main="thread.thread",
    rank=140,
    package=__name__,
)

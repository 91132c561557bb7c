"""Keyway by broach: the operation `broach`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="broach",
    called="Keyway by broach",
    in_short="keyways by broach",
    summary=(
        "A keyway in a hub by push broach on a press: passes, shims, and the size across the bore."
    ),
    machines=("press",),
    main="hub.bore",
    draws=("keyway",),
    rank=30,
    package=__name__,
)

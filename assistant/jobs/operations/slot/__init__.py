"""Slot: the operation `slot`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="slot",
    called="Slot",
    in_short="slots and pockets",
    summary=(
        "A slot in a block: right through, or ending inside the work, open at one end or "
        "closed at both; as wide as the cutter or wider."
    ),
    machines=("horizontal mill", "vertical mill"),
    main="slot.width",
    draws=("slot",),
    rank=60,
    package=__name__,
)

"""Bored hole: the operation `boring-head`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="boring-head",
    called="Bored hole",
    in_short="boring with a boring head",
    summary=(
        "Boring to size with a boring head: its own dial sets the cut, each from the last "
        "measured bore."
    ),
    machines=("vertical mill",),
    main="bore.diameter",
    draws=("bore",),
    stays=("check-head",),
    rank=150,
    package=__name__,
)

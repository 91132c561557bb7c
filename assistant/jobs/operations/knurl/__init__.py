"""Knurl: the operation `knurl`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="knurl",
    called="Knurl",
    in_short="knurling",
    summary=(
        "Knurling: the blank turned to a diameter that the knurl's teeth divide, then pressed "
        "and fed."
    ),
    machines=("lathe",),
    main="work.diameter",
    draws=("knurled",),
    stays=("check-pressure",),
    rank=220,
    package=__name__,
)

"""Taper: the operation `taper`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="taper",
    called="Taper",
    in_short="tapers",
    summary="Turning an outside taper by the compound, or by setting the tailstock over.",
    machines=("lathe",),
    main="work.diameter",
    draws=("taper",),
    stays=("prove-compound", "set-compound", "set-over"),
    rank=260,
    package=__name__,
)

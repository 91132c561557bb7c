"""Turning: the operation `turn`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="turn",
    called="Turning",
    in_short="turning",
    summary=(
        "Turning to a diameter, and boring to one: touch, clean-up cut, measure, rough, finish."
    ),
    machines=("lathe",),
    main="work.diameter",
    draws=("turned", "bored"),
    stays=("check-bar",),
    rank=180,
    package=__name__,
)

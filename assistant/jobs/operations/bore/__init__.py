"""Boring: the operation `bore`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="bore",
    called="Boring",
    in_short="boring",
    summary=(
        "Turning to a diameter, and boring to one: touch, clean-up cut, measure, rough, finish."
    ),
    machines=("lathe",),
    main="work.diameter",
    stays=("check-bar",),
    work="assistant.jobs.operations.turn.work",
    rank=190,
    package=__name__,
)

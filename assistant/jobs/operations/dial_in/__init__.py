"""Dialling in: the operation `dial-in`, all of it in this folder."""

from __future__ import annotations

from assistant.jobs.operation import Operation

OPERATION = Operation(
    name="dial-in",
    called="Dialling in",
    in_short="dialling in",
    summary=(
        "Dialling work in, in a four-jaw chuck: on its outside or in its bore, by halving the "
        "reading."
    ),
    machines=("lathe",),
    main="work.within",
    cuts=False,
    draws=("dial-in",),
    rank=230,
    package=__name__,
)

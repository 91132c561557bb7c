"""What a person is asked to begin such a job: T-slot."""

from __future__ import annotations

from assistant.jobs.common.form import same_as
from assistant.jobs.field import size
from assistant.jobs.milling.form import block, cutter

_FROM_SIDE = "From the touched side."
FIELDS = block(
    size("tslot.throat", "throat", "How wide is the throat?",
         "The standard gives the rest of the slot for it.", "0.15", "2.2"),
    size("tslot.from_side", "side to the middle", "How far from the side is its middle?",
         _FROM_SIDE, "0.1", "40"),
    *cutter(("end mill",), diameter=same_as("tslot.throat"),
            offered="End mill {offer}, as the throat. Right?"),
    *cutter(("t-slot cutter",), table="t_cutter", called="T-slot cutter",
            body_called="neck"),
)  # fmt: skip

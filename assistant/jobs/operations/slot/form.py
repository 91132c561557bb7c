"""What a person is asked to begin such a job: slot."""

from __future__ import annotations

from assistant.jobs.field import pick, size, toleranced
from assistant.jobs.milling.form import block, by_machine, cutter

FIELDS = block(
    *toleranced("slot.width", "width of the slot", "How wide is the slot?",
                "As on the drawing.", "0.03", "10"),
    *toleranced("slot.depth", "depth of the slot", "How deep is the slot?",
                "From the top down.", "0.01", "10"),
    *toleranced("slot.from_side", "side to the middle", "How far from the side is its middle?",
                "From the touched side to the middle of the slot.", "0.03", "40"),
    pick("?slot.ends", "ends", "Right through, open at one end, or closed at both?",
         "A slot with an end is made by the table's dial.", ("through", "open", "closed"),
         usual="through"),
    *toleranced("slot.length", "length of the slot", "How long is the slot, over its ends?",
                "Its round ends are in it.", "0.05", "60", given="?slot.ends=open|closed"),
    *toleranced("slot.from_end", "from the end face",
                "How far from the end face does it begin?",
                "From the right-hand face to the near end of the slot.", "0.05", "60",
                given="?slot.ends=closed"),
    size("slot.corner", "corner", "What is the largest radius in its corners?",
         "Half the cutter is left there.", "0.01", "2", given="?slot.ends=open|closed",
         usual="any", aside=True),
    *cutter(("end mill", "slotting cutter"),
            kind=by_machine("slotting cutter", "end mill")),
)  # fmt: skip

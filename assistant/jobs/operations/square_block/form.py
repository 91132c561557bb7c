"""What a person is asked to begin such a job: squared block."""

from __future__ import annotations

from assistant.jobs.field import size, toleranced
from assistant.jobs.milling.form import block, by_machine, cutter

FIELDS = block(
    *(size(f"stock.{way}", f"stock {way}", f"What {way} is the stock?",
           "What there is before the first cut.", "0.1", "40")
      for way in ("thickness", "width", "length")),
    *(field for way in ("thickness", "width", "length")
      for field in toleranced(f"block.{way}", way, f"What {way} is wanted?",
                              "As on the drawing.", "0.1", "40")),
    *cutter(("face mill", "end mill"), kind=by_machine("end mill", "face mill")),
    size("skim", "the skim", "How deep is a skim that only cleans up?",
         "The faces that aren't cut to a size take so much.", "0.001", "0.1",
         usual="the usual cut", aside=True),
)  # fmt: skip

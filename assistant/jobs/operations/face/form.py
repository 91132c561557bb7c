"""What a person is asked to begin such a job: facing."""

from __future__ import annotations

from assistant.jobs.field import size, toleranced
from assistant.jobs.milling.form import ANY_CUTTER, block, by_machine, cutter

FIELDS = block(
    size("face.width", "width", "How wide is the face?", "Rows are counted across it.",
         "0.1", "40"),
    size("face.stock", "stock", "How thick is it now?", "What there is before the first cut.",
         "0.05", "20"),
    *toleranced("face.height", "thickness", "What thickness is wanted?",
                "As on the drawing.", "0.03", "20", limits_aside=False),
    *cutter(ANY_CUTTER, kind=by_machine("slotting cutter", "face mill")),
)  # fmt: skip

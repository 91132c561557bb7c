"""What a person is asked to begin such a job: step."""

from __future__ import annotations

from assistant.jobs.field import toleranced
from assistant.jobs.milling.form import ANY_CUTTER, block, by_machine, cutter

FIELDS = block(
    *toleranced("step.width", "width of the step", "How wide is the step?",
                "From the touched side in.", "0.03", "20"),
    *toleranced("step.depth", "depth of the step", "How deep is the step?",
                "From the top down.", "0.01", "10"),
    *cutter(ANY_CUTTER, kind=by_machine("slotting cutter", "end mill")),
)  # fmt: skip

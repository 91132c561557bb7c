"""What a person is asked to begin such a job: dovetail."""

from __future__ import annotations

from assistant.jobs.field import number, pick, size, toleranced
from assistant.jobs.milling.form import block, cutter

FIELDS = block(
    pick("dovetail.kind", "kind", "Male, or female?", "A tongue, or a slot.",
         ("male", "female")),
    *toleranced("dovetail.wide", "the wide side", "How wide is it, on the wide side?",
                "At the floor of a female one, at the top of a male.", "0.1", "20"),
    size("dovetail.depth", "depth", "How deep is it?", "From the top down.", "0.03", "4"),
    number("dovetail.degrees", "angle", "What angle, in degrees?", "Of its sides.", "30",
           "80", usual="60", aside=True),
    size("dovetail.pin", "pins", "What diameter are the pins?",
         "Two of a size: it is measured over or between them.", "0.03", "2"),
    *cutter(("dovetail cutter",)),
)  # fmt: skip

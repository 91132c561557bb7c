"""What a person is asked to begin such a job: facing to length."""

from __future__ import annotations

from assistant.jobs.field import pick, size, toleranced
from assistant.jobs.lathe.form import in_the_lathe, lathe_tool

FIELDS = (
    size("work.stock_length", "stock length", "How long is it now?",
         "With the other end faced.", "0.05", "60"),
    *toleranced("work.length", "length", "What length is wanted?", "As on the drawing.",
                "0.05", "60", limits_aside=False),
    size("work.diameter", "diameter", "What diameter is it?", "The speed goes by it.",
         "0.05", "20"),
    size("work.bore", "bore", "What bore has it?", "Facing stops there.", "0.03", "18",
         usual="none", aside=True),
    pick("work.by", "length by", "Length by the carriage dial, or by the compound?",
         "The compound's dial is the finer one.", ("carriage", "compound"),
         usual="compound", aside=True),
    pick("work.measured", "measured", "Measured in the chuck, or out of it?",
         "Out of it, the face is touched again.", ("in the chuck", "out of it"),
         usual="out of it", aside=True),
    *in_the_lathe(),
    *lathe_tool(),
)  # fmt: skip

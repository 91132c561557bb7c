"""What a person is asked to begin such a job: tailstock into line."""

from __future__ import annotations

from assistant.jobs.field import size
from assistant.jobs.lathe.form import in_the_lathe, lathe_tool

FIELDS = (
    size("bar.collar", "collars", "What diameter are the collars?",
         "Both are cut at one setting, and measured.", "0.2", "8"),
    size("bar.spacing", "from collar to collar", "How far apart are the collars?",
         "The correction grows with the length.", "0.5", "60"),
    size("bar.length", "length of the bar", "How long is the bar between centres?",
         "The tailstock is moved by its share.", "0.5", "80"),
    size("bar.within", "within", "Within how much of each other?", "Then it is in line.",
         "0.0001", "0.01", usual="the usual", aside=True),
    size("tool.cut", "the trial cut", "How deep is each trial cut?", "Off the diameter.",
         "0.001", "0.05", usual="the usual cut", aside=True),
    *in_the_lathe("between centres", out=False),
    *lathe_tool(cuts=()),
)  # fmt: skip

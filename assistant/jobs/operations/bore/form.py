"""What a person is asked to begin such a job: boring."""

from __future__ import annotations

from assistant.jobs.field import size, toleranced
from assistant.jobs.lathe.form import CUTS, SPRING, in_the_lathe, lathe_tool, shoulder

FIELDS = (
    size("work.hole", "hole", "What diameter is the hole?",
         "What there is before the first cut.", "0.1", "18"),
    *toleranced("work.diameter", "bore", "What diameter is wanted?", "As on the drawing.",
                "0.1", "20", limits_aside=False),
    *shoulder("floor", "floor", "Does it end at a floor?", "?floor"),
    *in_the_lathe(out=False),
    size("tool.bar", "boring bar", "How thick is the boring bar?",
         "Cuts are kept to what it stands.", "0.1", "4", usual="not looked at"),
    size("tool.bar_reach", "reach of the bar", "How far does the bar stand out?",
         "Its length decides how it springs.", "0.2", "30", usual="not looked at"),
    *lathe_tool(cuts=CUTS),
    SPRING,
)  # fmt: skip

"""What a person is asked to begin such a job: dialling in."""

from __future__ import annotations

from assistant.jobs.field import pick, size
from assistant.jobs.lathe.form import in_the_lathe

FIELDS = (
    pick("work.on", "dialled in on", "On the outside, or in the bore?",
         "Where the indicator rides.", ("outside", "bore"), usual="outside"),
    size("work.within", "within", "Within how much, over a whole turn?",
         "It is true when the indicator moves no more.", "0.0001", "0.02",
         usual="the usual"),
    *in_the_lathe("four-jaw", out=False),
)  # fmt: skip

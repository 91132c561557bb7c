"""What a person is asked to begin such a job: parting off."""

from __future__ import annotations

from assistant.jobs.field import size
from assistant.jobs.lathe.form import in_the_lathe, lathe_tool

FIELDS = (
    size("work.diameter", "diameter", "What diameter is it?", "The blade has to reach in.",
         "0.05", "12"),
    size("work.bore", "bore", "What bore has it?", "The blade goes in so far only.", "0",
         "11", usual="none"),
    size("work.length", "length", "How long is the piece?", "As it comes off, faced.",
         "0.01", "30"),
    size("work.left_for_facing", "left for facing", "How much is left for facing?",
         "On the piece, on top of its length.", "0", "0.2",
         usual="ten thou, or three tenths of a millimetre", aside=True),
    size("tool.blade", "blade", "How wide is the blade?", "It comes on top of the length.",
         "0.015", "0.4"),
    size("tool.reach", "reach of the blade", "How far does the blade stand out?",
         "It has to get to the middle, or through the wall.", "0.05", "6"),
    size("work.from_jaws", "from the jaws", "How far from the jaws is the cut?",
         "Far out the work bends and climbs on the blade.", "0.02", "12",
         usual="by how far it stands out", aside=True),
    *in_the_lathe(only=("three-jaw", "four-jaw", "collet", "faceplate"), tailstock=False),
    *lathe_tool(cuts=()),
)  # fmt: skip

"""What a person is asked to begin such a job: bored hole."""

from __future__ import annotations

from assistant.jobs.common.form import surface_speed
from assistant.jobs.field import pick, size, toleranced, yes

FIELDS = (
    *toleranced("bore.diameter", "bore", "What diameter is wanted?", "As on the drawing.",
                "0.2", "12", limits_aside=False),
    size("bore.hole", "hole", "What diameter is the hole now?",
         "What there is before the first cut.", "0.1", "11"),
    size("bore.depth", "depth", "How deep is the bore?", "The tool has to reach.", "0.05",
         "10"),
    yes("bore.through", "right through", "Right through?", "Else it ends at a floor.",
        usual="yes"),
    size("boring_head.graduation", "division of the head",
         "What is a division of the boring head?", "As marked on its dial.", "0.00005",
         "0.005"),
    pick("boring_head.reads", "the head reads", "Does it read the diameter, or the radius?",
         "A radius dial moves the size twice as much.", ("diameter", "radius")),
    size("bore.aim_inside", "how far inside the limits", "How far inside the limits?",
         "The size aimed at lies so far from the first limit.", "0", "0.01",
         usual="half a thou, or a hundredth", aside=True),
    size("boring_head.max_cut", "the deepest cut", "What is the most that a cut may take?",
         "On one side.", "0.001", "0.2", usual="the usual cut", aside=True),
    size("boring_head.finishing_cut", "the finishing cut",
         "How much is left for the finishing cut?", "On one side.", "0.001", "0.05",
         usual="the usual cut", aside=True),
    size("boring_head.reach", "reach of the tool", "How deep does the tool reach?",
         "Below the head.", "0.1", "12", usual="not looked at", aside=True),
    pick("boring_head.material", "the tool", "Is the tool HSS or carbide?",
         "The speed goes by it.", ("HSS", "carbide"), usual="HSS", aside=True),
    surface_speed("boring_head"),
)  # fmt: skip

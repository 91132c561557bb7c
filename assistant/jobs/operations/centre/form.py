"""What a person is asked to begin such a job: finding the middle."""

from __future__ import annotations

from assistant.jobs.field import pick, size

FIELDS = (
    pick("feature.kind", "what is found", "A bore, a boss, a plate, or a corner?",
         "What is touched, and from which sides.", ("corner", "boss", "plate", "bore")),
    size("feature.diameter", "diameter", "About what diameter is it?",
         "So that the way across is known.", "0.1", "40",
         given="feature.kind=boss|bore"),
    size("feature.across_x", "along", "About how long is it, along the table?",
         "So that the way across is known.", "0.1", "60", given="feature.kind=plate"),
    size("feature.across_y", "across", "About how wide is it, across the table?",
         "So that the way across is known.", "0.1", "40", given="feature.kind=plate"),
    pick("feature.x_side", "first side along", "Which side first, left or right?",
         "Of a corner: the side that it is at.", ("left", "right"), usual="left",
         aside=True),
    pick("feature.y_side", "first side across", "And front, or back?",
         "Of a corner: the side that it is at.", ("front", "back"), usual="front",
         aside=True),
    pick("tip.kind", "touched with", "With an edge finder, or with the cutter?",
         "How the sides are touched.", ("edge finder", "cutter"), usual="edge finder",
         aside=True),
    size("tip.diameter", "tip", "What diameter is the tip?", "Half of it is in every touch.",
         "0.05", "2"),
)  # fmt: skip

"""What a person is asked to begin such a job: holes by coordinates."""

from __future__ import annotations

from assistant.jobs.common.form import held
from assistant.jobs.drilling.form import (
    HOLE,
    THREAD,
    a_drill,
    depth_by,
    made_as,
    point,
    spot,
    through_or_blind,
)
from assistant.jobs.field import Field, count, number, pick, size, yes

_GRID, _CIRCLE = "?pattern=grid", "?pattern=circle"
_MADE = "?made"
_FROM_EDGES = "From the datum edge."
_BETWEEN = ("between holes", "How much may the distance between two holes be off?",
            "Two are measured at the end: a turn that was lost shows there.")  # fmt: skip
MOST_PLACES = 6
"""Holes by their own places that are asked for; a longer list is a grid, a circle or a file."""


def _place(number: int) -> tuple[Field, ...]:
    """One hole by its own place."""
    gate = f"?holes.{number}"
    before = "?pattern=places" if not number else f"?holes.{number - 1}=yes"
    here = f"{gate}=yes"
    first = ("Another hole?", "no") if number else ("The first hole?", "yes")
    return (
        yes(gate, f"hole {number + 1}", first[0], "Each hole has its own place.", usual=first[1],
            given=before, aside=not number),
        size(f"holes.{number}.x", f"x of hole {number + 1}",
             f"Hole {number + 1}: how far along, from the side edge?", _FROM_EDGES, "0", "60",
             given=here if number else before),
        size(f"holes.{number}.y", f"y of hole {number + 1}",
             f"Hole {number + 1}: how far in, from the front or back edge?", _FROM_EDGES, "0",
             "40", given=here if number else before),
    )  # fmt: skip


FIELDS = (
    pick("?pattern", "pattern", "A grid, a circle, or places one by one?",
         "How the holes lie.", ("grid", "circle", "places")),
    count("grid.columns", "columns", "How many columns?", "Holes in a row.", 1, 60,
          given=_GRID),
    count("grid.rows", "rows", "How many rows?", "Rows are counted away from the edge.", 1,
          60, given=_GRID),
    size("grid.pitch_x", "along, hole to hole", "How far from hole to hole, along the row?",
         "From middle to middle.", "0.03", "20", given=_GRID, usual="there is one column"),
    size("grid.pitch_y", "across, row to row", "How far from row to row?",
         "From middle to middle.", "0.03", "20", given=_GRID, usual="there is one row"),
    size("grid.first_x", "first hole, along", "How far along is the first hole?",
         _FROM_EDGES, "0.02", "40", given=_GRID),
    size("grid.first_y", "first hole, in", "How far in is the first hole?", _FROM_EDGES,
         "0.02", "40", given=_GRID),
    size("circle.diameter", "bolt circle", "What diameter is the bolt circle?",
         "Through the middles of the holes.", "0.1", "40", given=_CIRCLE),
    count("circle.holes", "holes", "How many holes?", "Evenly round.", 2, 240,
          given=_CIRCLE),
    number("circle.first_angle", "first hole at", "At what angle is the first hole?",
           "From straight right, anticlockwise.", "0", "360", usual="straight right",
           given=_CIRCLE),
    size("circle.centre_x", "centre, along", "How far along is the centre of the circle?",
         _FROM_EDGES, "0", "60", given=_CIRCLE),
    size("circle.centre_y", "centre, in", "How far in is the centre of the circle?",
         _FROM_EDGES, "0", "40", given=_CIRCLE),
    *(field for one in range(MOST_PLACES) for field in _place(one)),
    pick(_MADE, "what is made", "Only drilled, a hole of several tools, or a thread?",
         "Reamed, counterbored and countersunk is of several tools.", ("drill", "hole", "thread")),
    *made_as(_MADE, "drill", (
        a_drill("drill.diameter", "drill", "Which drill?", "Its size or its name."),
        *through_or_blind("drill"),
        a_drill("drill.pilot", "pilot drill", "Which pilot drill?",
                "A large drill wants one first.", usual="none"),
    )),
    *made_as(_MADE, "hole", HOLE),
    *made_as(_MADE, "thread", THREAD),
    pick("order.by", "order", "Tool by tool over all holes, or hole by hole?",
         "Hole by hole, the table stays till the last tool is out of it.", ("tool", "hole"),
         usual="tool"),
    *made_as(_MADE, "hole|thread", (
        pick("order.measured", "measured", "Which holes are measured?",
             "The depth of a blind one, a reamed size with limits; the thread is tried.",
             ("first and last", "first", "each", "none"), usual="first and last"),
    )),
    pick("datum.x_edge", "side edge", "Which side is the datum edge, left or right?",
         "Places along count from it.", ("left", "right"), usual="left"),
    pick("datum.y_edge", "front or back edge", "Which edge is the other, front or back?",
         "Places in count from it.", ("front", "back"), usual="front"),
    pick("datum.by", "edges found by", "Found by an edge finder, or by a feeler?",
         "How the edges are touched.", ("edge finder", "feeler"), usual="edge finder",
         aside=True),
    size("datum.tip", "tip", "What diameter is the tip?", "Half of it is in every place.",
         "0.05", "1"),
    yes("datum.stop", "a stop", "Does a stop give the side's place?",
        "Then that edge isn't touched again for the next part.", usual="no", aside=True),
    yes("?work", "the plate's size", "Do you give the plate's size?",
        "Then no hole breaks through an edge.", usual="no", aside=True),
    size("work.x", "plate, along", "How long is the plate?", "Along the table.", "0.2", "80",
         given="?work=yes", aside=True),
    size("work.y", "plate, across", "How wide is the plate?", "Across the table.", "0.2",
         "40", given="?work=yes", aside=True),
    *made_as(_MADE, "drill", (
        point("drill"),
        spot("drill"),
        size("drill.between", *_BETWEEN, "0.001", "1", usual="ten thou, or a quarter",
             aside=True),
        depth_by("drill"),
    )),
    *made_as(_MADE, "hole", (depth_by("hole"),)),
    *made_as(_MADE, "thread", (depth_by("thread"),)),
    *made_as(_MADE, "hole|thread", (
        pick("order.pecks", "pecks", "Is each peck counted, or by feel?",
             "By feel it is one run, and out for the chips as you see fit.",
             ("counted", "by feel"), usual="counted", aside=True),
        size("order.between", *_BETWEEN, "0.001", "1", usual="ten thou, or a quarter",
             aside=True),
    )),
    held("vice", "clamps", "angle plate"),
    pick("fixed_jaw", "the fixed jaw", "Which jaw of the vice is fixed, back or front?",
         "An edge there isn't touched again for the next part.", ("back", "front"),
         usual="back", aside=True),
)  # fmt: skip

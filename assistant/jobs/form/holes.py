"""Holes: drilled, tapped, bored, by coordinates, divided."""

from __future__ import annotations

from assistant.calc.table import rows
from assistant.calc.tapping import BASES, TAPS
from assistant.jobs.form.field import Field, Form, Known, count, number, pick, size, toleranced, yes
from assistant.jobs.form.groups import (
    DRILLING,
    MILLS,
    a_drill,
    depth_by,
    held,
    known_threads,
    surface_speed,
    through_or_blind,
)

_WORK = held("vice", "clamps", "v-blocks", "angle plate")
_DRILL_POINT = "118"


def _point(table: str) -> Field:
    return number(f"{table}.point", "the drill's point", "What angle has the drill's point?",
                  "The point comes on top of the depth.", "60", "150", usual=_DRILL_POINT,
                  aside=True)  # fmt: skip


def _spot(table: str) -> Field:
    return yes(f"{table}.spot", "spotted", "A centre drill first?",
               "A stub drill needs none before it.", usual="yes", aside=True)  # fmt: skip


def _screws(known: Known) -> tuple[str, ...]:
    """Screws whose heads the table has, in a job of that unit."""
    unit = "in" if known.unit == "inch" else "mm"
    return tuple(row["screw"] for row in rows("counterbores") if row["unit"].startswith(unit))


DRILL = Form(
    "drill", "Drilled hole", DRILLING, "hole.drill",
    (
        *through_or_blind("hole"),
        yes("?hole.ream", "reamed", "Is it reamed?", "The drill leaves the reamer its allowance.",
            usual="no"),
        size("hole.ream", "reamer", "What size is the reamer?", "As marked on it.", "0.03", "3",
             given="?hole.ream=yes"),
        pick("hole.reaming", "reamed by", "Reamed by machine, or by hand?",
             "A hand reamer takes less.", ("machine", "hand"), usual="machine",
             given="?hole.ream=yes", aside=True),
        a_drill("hole.drill", "drill", "Which drill?",
                "Its size or its name. Before a reamer it may be left to the table.",
                usual="what leaves the reamer its allowance"),
        a_drill("hole.pilot", "pilot drill", "Which pilot drill?",
                "A large drill wants one first.", usual="none"),
        yes("?hole.counterbore", "counterbored", "Counterbored for a screw?",
            "The table has the head's size.", usual="no", aside=True),
        pick("hole.counterbore.screw", "screw", "For which screw?", "A socket head.", _screws,
             given="?hole.counterbore=yes", aside=True, free=True),
        yes("?hole.countersink", "countersunk", "Countersunk?", "Its mouth is measured.",
            usual="no", aside=True),
        size("hole.countersink.diameter", "mouth", "How wide is the countersink's mouth?",
             "At the face.", "0.05", "4", given="?hole.countersink=yes", aside=True),
        number("hole.countersink.angle", "countersink", "What angle has the countersink?",
               "Of the whole cone.", "60", "120", given="?hole.countersink=yes",
               usual="82, or 90 in millimetres", aside=True),
        size("hole.depth_plus", "over on the depth", "How much deeper may it be?",
             "It is never shallower.", "0.001", "0.25", usual="fifteen thou, or four tenths",
             aside=True),
        _point("hole"),
        _spot("hole"),
        depth_by("hole"),
        _WORK,
    ),
)  # fmt: skip

TAP = Form(
    "tap", "Tapped hole", DRILLING, "thread.thread",
    (
        pick("thread.thread", "thread", "Which thread?",
             "Its size and its threads an inch, or M.", known_threads, free=True),
        *through_or_blind("thread", deep="of full thread"),
        pick("thread.tap", "tap", "Taper tap, plug tap, or bottoming tap?",
             "Its chamfer comes on top of the depth.", tuple(TAPS), usual="plug"),
        yes("?thread.drill", "its own drill", "Have you a drill of your own for it?",
            "Else the one for the percentage of thread is taken.", usual="no", aside=True),
        a_drill("thread.drill", "tap drill", "Which drill?", "Its size or its name.",
                given="?thread.drill=yes", aside=True),
        number("thread.percent", "percent of thread", "How many percent of thread?",
               "Over seventy-five it taps hard, and holds little more.", "30", "100",
               usual="75", aside=True),
        pick("thread.basis", "basis", "Percent of the classic thread, or of B1.1?",
             "What a hundred percent is.", tuple(BASES), usual="classic", aside=True),
        pick("thread.drills", "drills", "Drills of which set?", "Where the drill is chosen from.",
             ("inch", "metric", "all"), usual="as the thread", aside=True),
        _point("thread"),
        depth_by("thread"),
        _WORK,
    ),
)  # fmt: skip

BORING_HEAD = Form(
    "boring-head", "Bored hole", ("vertical mill",), "bore.diameter",
    (
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
    ),
)  # fmt: skip

_GRID, _CIRCLE = "?pattern=grid", "?pattern=circle"
_FROM_EDGES = "From the datum edge."
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


HOLES = Form(
    "holes", "Holes by coordinates", DRILLING, "drill.diameter",
    (
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
        a_drill("drill.diameter", "drill", "Which drill?", "Its size or its name."),
        *through_or_blind("drill"),
        a_drill("drill.pilot", "pilot drill", "Which pilot drill?",
                "A large drill wants one first.", usual="none"),
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
        _point("drill"),
        _spot("drill"),
        size("drill.between", "between holes", "How much metal stays between holes, at least?",
             "Less is taken for a slip.", "0.001", "1", usual="ten thou, or a quarter",
             aside=True),
        depth_by("drill"),
        held("vice", "clamps", "angle plate"),
        pick("fixed_jaw", "the fixed jaw", "Which jaw of the vice is fixed, back or front?",
             "An edge there isn't touched again for the next part.", ("back", "front"),
             usual="back", aside=True),
    ),
)  # fmt: skip

DIVIDE = Form(
    "divide", "Dividing", MILLS, "divide.divisions",
    (
        pick("?divide.by", "divided by", "By a number of divisions, or by an angle?",
             "All round, or a few at an angle.", ("divisions", "angle"), usual="divisions",
             aside=True),
        count("divide.divisions", "divisions", "How many divisions?", "All the way round.", 2,
              240, given="?divide.by=divisions"),
        number("divide.angle", "angle", "How many degrees from one to the next?",
               "Turned by the head each time.", "0.01", "180", given="?divide.by=angle"),
        count("divide.count", "how many", "How many at that angle?", "Not all round.", 2, 240,
              given="?divide.by=angle"),
        pick("divide.do", "at each", "At each: mark, drill, or cut?",
             "What is done at every division.", ("mark", "drill", "cut"), usual="cut"),
    ),
)  # fmt: skip

FORMS = (DRILL, TAP, BORING_HEAD, HOLES, DIVIDE)

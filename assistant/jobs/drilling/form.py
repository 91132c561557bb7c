"""Fields of drilled and tapped holes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

from assistant.calc import drills
from assistant.calc.table import rows
from assistant.calc.tapping import BASES, TAPS
from assistant.jobs.common.form import held, known_threads
from assistant.jobs.field import Field, Known, number, pick, size, yes
from assistant.replacing import replace


@cache
def _named(inch: bool) -> tuple[str, ...]:
    """Drills that have a name: a letter or a number. Fractions and millimetres are sizes."""
    kinds = ("number", "letter") if inch else ()
    return tuple(one.name for kind in kinds for one in drills.drills(kind))


def named_drills(known: Known) -> tuple[str, ...]:
    """Names of drills in a job of that unit."""
    return _named(known.unit == "inch")


def a_drill(
    key: str, name: str, ask: str, why: str, *, given: str = "", usual: str = "",
    aside: bool = False,
) -> Field:  # fmt: skip
    """A drill, by its size or its name."""
    return size(key, name, ask, why, "0.0135", "3.5", given=given, usual=usual, aside=aside,
                choices=named_drills, free=True)  # fmt: skip


def depth_by(table: str) -> Field:
    """By what a hole's depth is stopped."""
    return pick(f"{table}.depth_by", "depth by", "Depth by the dial, or by the stop?",
                "The stop is set once, the dial is read at every hole.", ("dial", "stop"),
                usual="dial", aside=True)  # fmt: skip


def through_or_blind(table: str, *, deep: str = "at full diameter") -> tuple[Field, ...]:
    """Whether a hole goes through, and how deep it is or how thick the work."""
    gate = f"?{table}.ends"
    return (
        pick(gate, "hole", "Right through, or blind?", "Through, the point has to come out.",
             ("through", "blind"), usual=""),
        size(f"{table}.through", "thickness", "How thick is the work there?",
             "The drill goes on till its point is out at the back.", "0.03", "10",
             given=f"{gate}=through"),
        size(f"{table}.depth", f"depth {deep}", f"How deep, {deep}?",
             "The point comes on top of it.", "0.03", "20", given=f"{gate}=blind"),
    )  # fmt: skip


def made_as(gate: str, kinds: str, fields: Iterable[Field]) -> Iterator[Field]:
    """Each asked only where that gate is one of these kinds, `hole|thread`."""
    for one in fields:
        yield replace(one, when={gate: tuple(kinds.split("|")), **one.when})


HELD = held("vice", "clamps", "v-blocks", "angle plate")
_DRILL_POINT = "118"


def point(table: str) -> Field:
    return number(f"{table}.point", "the drill's point", "What angle has the drill's point?",
                  "The point comes on top of the depth.", "60", "150", usual=_DRILL_POINT,
                  aside=True)  # fmt: skip


def spot(table: str) -> Field:
    return yes(f"{table}.spot", "spotted", "A centre drill first?",
               "A stub drill needs none before it.", usual="yes", aside=True)  # fmt: skip


def _screws(known: Known) -> tuple[str, ...]:
    """Screws whose heads the table has, in a job of that unit."""
    unit = "in" if known.unit == "inch" else "mm"
    return tuple(row["screw"] for row in rows("counterbores") if row["unit"].startswith(unit))


HOLE = (
    *through_or_blind("hole"),
    yes("?hole.ream", "reamed", "Is it reamed?", "The drill leaves the reamer its allowance.",
        usual="no"),
    size("hole.ream", "reamer", "What size is the reamer?", "As marked on it.", "0.03", "3",
         given="?hole.ream=yes"),
    size("hole.ream_plus", "reamed size, over", "How much over its size may the reamed hole be?",
         "Where limits are told it is measured.", "0", "0.02", usual="not measured",
         given="?hole.ream=yes", aside=True),
    size("hole.ream_minus", "reamed size, under", "How much under its size may the reamed hole be?",
         "Where limits are told it is measured.", "0", "0.02", usual="not measured",
         given="?hole.ream=yes", aside=True),
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
    size("hole.counterbore.below", "head below the face", "How far below the face is its head?",
         "Flush is nothing.", "0", "0.5", given="?hole.counterbore=yes", usual="flush",
         aside=True),
    size("hole.counterbore.depth_plus", "over on the counterbore",
         "How much deeper may the counterbore be?", "Where that is told it is measured.", "0.001",
         "0.1", given="?hole.counterbore=yes", usual="not measured", aside=True),
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
    point("hole"),
    spot("hole"),
)  # fmt: skip
"""The `[hole]` table, but for what keeps its depth."""

THREAD = (
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
    point("thread"),
)  # fmt: skip
"""The `[thread]` table of a tapped hole, but for what keeps its depth."""

"""What a person is asked to begin such a job: drilled hole."""

from __future__ import annotations

from assistant.calc.table import rows
from assistant.jobs.drilling.form import HELD, a_drill, depth_by, point, spot, through_or_blind
from assistant.jobs.field import Known, number, pick, size, yes


def _screws(known: Known) -> tuple[str, ...]:
    """Screws whose heads the table has, in a job of that unit."""
    unit = "in" if known.unit == "inch" else "mm"
    return tuple(row["screw"] for row in rows("counterbores") if row["unit"].startswith(unit))


FIELDS = (
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
    point("hole"),
    spot("hole"),
    depth_by("hole"),
    HELD,
)  # fmt: skip

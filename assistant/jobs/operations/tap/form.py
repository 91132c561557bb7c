"""What a person is asked to begin such a job: tapped hole."""

from __future__ import annotations

from assistant.calc.tapping import BASES, TAPS
from assistant.jobs.common.form import known_threads
from assistant.jobs.drilling.form import HELD, a_drill, depth_by, point, through_or_blind
from assistant.jobs.field import number, pick, yes

FIELDS = (
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
    depth_by("thread"),
    HELD,
)  # fmt: skip

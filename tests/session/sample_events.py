"""One of every event, as journals of version 1 hold them, in today's classes.

The job is invented. `journals/version_1.jsonl` was written from these, and is not written again
once a version of the program is out: a class that changes must still read it, if need be through
an upgrade. Until then, `python -m tests.session.sample_events` writes it anew.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from types import MappingProxyType

from assistant.jobs.plan import Plan
from assistant.jobs.steps import (
    Check,
    Cut,
    Ground,
    Index,
    Measure,
    Move,
    Note,
    OneOfMany,
    SurfaceKey,
    Touch,
)
from assistant.machine import Axis, Machine
from assistant.session import events as e
from assistant.session.codec import encode
from assistant.session.state import Change, Differs, How, Phase, Question
from assistant.spoken import DialMove, Figure, Intent, Term, Wheel
from assistant.units import inches, mm, quantity

JOURNALS = Path(__file__).with_name("journals")

SADDLE = Wheel("saddle", inches("0.200"), inches("0.001"), 1)

MOVE_IN = DialMove(
    wheel=SADDLE,
    direction="in",
    distance=inches("0.9405"),
    turns=4,
    part=Decimal("0.1405"),
    divisions=Decimal("140.5"),
    reading=inches("0.1405"),
    back_off=inches("0.020"),
)

TO_CENTRE = Figure(
    value=inches("0.9405"),
    what="saddle in",
    terms=(
        Term("half the shaft", inches("0.750")),
        Term("half the cutter", inches("0.1875")),
        Term("paper", inches("0.003")),
        Term("key", mm(8), 0),
    ),
    formula="half the shaft + half the cutter + paper",
    source="common practice, no source",
    move=MOVE_IN,
)

OVER_KEY = Figure(inches("1.666"), "over the key", 3, low=inches("1.649"), high=inches("1.664"))

STEPS = (
    Check(id="holding", title="Holding", say=("Is it tight?",), cautions=("Spindle off first.",)),
    Touch(
        id="side", title="Touch the side", axis="saddle", toward=1,
        surface="the side of the shaft", paper_fact="paper.side", paper_expected=inches("0.003"),
    ),
    Move(
        id="centre", title="To the centre line", axis="saddle", target=inches("0.9405"),
        verify=True, terms_of=TO_CENTRE, after=("Lock it.",), figure=TO_CENTRE,
    ),
    Cut(
        id="rough-1", title="First pass", number=1, of=4, depth=inches("0.060"),
        taken=inches("0.060"), remaining=inches("0.142"), kind="witness",
    ),
    Measure(
        id="over", title="Over the key", fact="size.1", gauge="micrometer", nominal=inches("1.664"),
        low=inches("1.649"), high=inches("1.664"), at_axis="knee", resolution=inches("0.001"),
    ),
    Index(id="gap-2", title="Second gap", number=2, of=24, turns=1, holes=10, circle=15),
    Note(id="speed", title="Speed", setting="speed",
         one_of_many=OneOfMany("out.3", "drill", "hole 3"),
         figure=Figure(quantity("180", "rpm"), "speed")),
)  # fmt: skip

PLAN = Plan(
    title="Keyseat, invented shaft",
    operation="keyseat",
    unit="inch",
    steps=STEPS,
    results=(("over the key", OVER_KEY), ("to the centre", TO_CENTRE)),
    sources=("common practice, no source",),
    verdict="two over the limit",
    answers=(("what_size", OVER_KEY), ("how_many", "One keyseat.")),
    depth_axis="knee",
    full_depth=inches("0.202"),
    drawing=(("shaft", inches("1.5")), ("cutter", inches("0.375"))),
)

MILL = Machine(
    name="Mill 2",
    kind="horizontal mill",
    unit="inch",
    axes=MappingProxyType(
        {"saddle": Axis("saddle", inches("0.200"), inches("0.001"), 1, True, inches("0.012"))}
    ),
    speeds=(quantity("60", "rpm"), quantity("180", "rpm")),
    plates=((15, 16), (21, 23)),
    thread_dial=(32, 8),
)

EVENTS: tuple[e.Event, ...] = (
    e.JobStarted("Keyseat, invented shaft", "keyseat", 'title = "…"', 'name = "Mill"', "Mill 2"),
    e.JobStarted("Keyseat, invented shaft", "keyseat", 'title = "…"', 'name = "Mill"', "Mill 2",
                 "0.1.0", MILL),
    e.Planned(PLAN, "new paper"),
    e.Planned(PLAN, "as this version plans it", (("centre", "to-centre"),)),
    e.PlanKept(Differs((Change(How.OTHERWISE, "Set pass 2", TO_CENTRE, OVER_KEY),), True)),
    e.Commanded("measured one point six six six",
                Intent("measured", (("size", inches("1.666")), ("axis", "knee"), ("count", 2))),
                0.93, "moonshine"),
    e.StepEntered("side", Phase.PAPER),
    e.Instructed(TO_CENTRE),
    e.Instructed(None),
    e.Confirmed("holding", skipped=True),
    e.Cautioned(("Spindle off first.",)),
    e.AxisZeroed("saddle", 1, inches("0.013")),
    e.AxisStands("saddle", inches("0.9405"), 1),
    e.Shaken(Ground.DIAL, "knee", "dial slipped"),
    e.Found(Ground.HELD),
    e.SizeTold(SurfaceKey("size"), 1, inches("1.666"), inches("0.204"), 4),
    e.FactTold("paper.side", inches("0.003")),
    e.FactTold("paper.side", None),
    e.Recorded("size.1", inches("1.666"), "over", "2026-01-05T09:00:00+00:00"),
    e.Recorded("note", "deburred", "over", "2026-01-05T09:00:00+00:00"),
    e.Asked(Question("Two and a half inches?", Intent("measured", (("size", inches("2.5")),)),
                     "implausible", "measured two and a half")),
    e.Answered(None),
    e.Adjusted("volume", "0.5"),
    e.StopSaid(),
    e.HangOnSaid(),
    e.Resumed("2026-01-05T09:30:00+00:00"),
    e.Resumed("2026-01-05T09:30:00+00:00", "0.1.0"),
    e.JobFinished("2026-01-05T10:00:00+00:00"),
    e.Undone(7),
    e.Withheld("the answer is off by a turn"),
    e.Superseded("Doubted"),
)  # fmt: skip


if __name__ == "__main__":
    lines = "".join(encode(event) + "\n" for event in EVENTS)
    (JOURNALS / "version_1.jsonl").write_text(lines, encoding="utf-8")

"""The steps of one hole: tool after tool its touch, its pecks, and the depth measured."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise

from assistant.calc.drilling import peck_plan, pilot_drill
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole import Hole, ToolWork, places
from assistant.jobs.drilling.hole_depth import FLOOR, DepthCheck
from assistant.jobs.drilling.hole_size import BoreCheck
from assistant.jobs.drilling.hole_tools import capital, feed_of, speed_note, speed_of
from assistant.jobs.drilling.quill import Quill, chuck_check, feeler_told
from assistant.jobs.drilling.stage import Stage
from assistant.jobs.steps import Check, Facts, Ground, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import magnitude, quantity

HOLDINGS = ("vice", "clamps", "v-blocks", "angle plate")


def setup_steps(machine: Machine, holding: str, through: bool) -> list[Step]:
    """Checks before a hole under a spindle: the work held, clear underneath, the tool held."""
    steps: list[Step] = [*checks.first_checks(machine.kind), checks.work(holding, False, "work")]
    if through:
        steps.append(
            Check(id="check-under", title="Clear under the hole",
                  say=("Table, parallels and vice clear under the hole?",))
        )  # fmt: skip
    steps.append(
        Check(id="check-place", title="Hole under the spindle", rests=(Ground.WORK,),
              say=("Punch mark under the spindle? Lock the table where it can be locked.",))
    )  # fmt: skip
    return [*steps, chuck_check()]


def hole_stages(quill: Quill, hole: Hole, facts: Facts) -> list[Stage]:
    """Every tool in its order; the depth of a blind hole is measured after the drill, a reamed size
    and a counterbore's depth where they have limits."""
    stages: list[Stage] = []
    for work in hole.tools:
        main = work is hole.main
        look: list[Step] = []
        if main and not hole.through:
            look = DepthCheck(quill, work, hole.full_diameter, hole.tolerance).steps(facts)
        elif work.tool.kind == "reaming" and hole.ream_limits is not None:
            look = BoreCheck(quill, work, hole.ream_limits).steps(facts)
        elif work.tool.kind == "counterboring" and hole.counterbore_plus is not None:
            wanted, plus = work.depth.value, hole.counterbore_plus
            look = DepthCheck(quill, work, wanted, plus, FLOOR).steps(facts)
        note = speed_note(work.tool, quill.machine, hole.unit, facts, main=main)
        stages.append(tool_stage(quill, work, bool(stages), facts, (note,), look, main=main))
    return stages


def pilot_first(hole: Hole) -> list[Step]:
    """What is said before a large drill for which the job names no pilot."""
    return [_pilot_note(hole)] if hole.pilot_missing else []


def deburr(quill: Quill) -> Note:
    """The end of a hole."""
    return Note(id="deburr", title="Deburr", spindle=quill.at_the_end,
                say=("Deburr the hole. Chips out by brush.",))  # fmt: skip


def hole_results(
    hole: Hole, machine: Machine, facts: Facts
) -> tuple[tuple[str, Figure], ...]:  # fmt: skip
    """Speed and feed of the drill, and how deep each tool goes."""
    return (
        ("speed", speed_of(hole.main.tool, machine, hole.unit, facts)),
        ("feed", feed_of(hole.main.tool, hole.unit)),
        *((f"{one.tool.name} depth", one.depth) for one in hole.tools
          if one.tool.kind != "spotting"),
        *_under_the_head(hole),
    )  # fmt: skip


def _under_the_head(hole: Hole) -> list[tuple[str, Figure]]:
    """What a counterbore leaves of the work under a screw's head."""
    return [
        ("under the head",
         Figure(hole.full_diameter - one.depth.value, "left under the head", places(hole.unit),
                (Term("thickness", hole.full_diameter), Term("counterbore", one.depth.value, -1)),
                "thickness - counterbore", "geometry"))
        for one in hole.tools if one.tool.kind == "counterboring" and hole.through
    ]  # fmt: skip


def tool_stage(
    quill: Quill, work: ToolWork, begun: bool, facts: Facts, fit: Sequence[Step],
    look: Sequence[Step] = (), *, main: bool = False,
) -> Stage:  # fmt: skip
    """One tool: its touch, its stop, every peck, and the `look` at what it made."""
    tool = work.tool
    ready: list[Step] = []
    if not work.depth.value.magnitude:
        cuts = tuple(quill.spot())
    else:
        ready += (
            [quill.touch_edge(tool)]
            if tool.kind == "countersinking"
            else quill.touch(tool, begun, feeler_told(facts, tool))
        )
        ready += quill.stop(tool, work.depth)
        cuts = _pecks(quill, work)
    return Stage(tool.name, tool.words, tuple(fit), tuple(ready), cuts, tuple(look), main)


@lru_cache(maxsize=64)
def _pecks(quill: Quill, work: ToolWork) -> tuple[Step, ...]:
    tool, depth = work.tool, work.depth
    full = magnitude(depth.value, quill.unit)
    ends = [full]
    if tool.kind == "drilling":
        ends = [magnitude(end, quill.unit) for end in peck_plan(depth.value, tool.dia).depths]
    ends = in_reach(ends, quill.room)
    steps: list[Step] = []
    zero = before = Decimal(0)
    for number, end in enumerate(ends, 1):
        last = number == len(ends)
        say: tuple[str, ...] = ()
        if not last:
            say = (f"Peck {number} of {len(ends)}, then right out for the chips.",)
        elif work.through and tool.kind == "drilling":
            say = ("Ease off as it breaks through.",)
        if quill.room is not None and end > quill.room:
            steps += quill.from_the_bottom(tool, number)
            zero = before
        figure = depth if last else Figure(quantity(end, quill.unit), "peck", depth.places)
        steps.append(
            quill.cut(
                tool.name if last else f"{tool.name}-peck-{number}",
                capital(tool.words) if last else f"{capital(tool.words)}: peck {number}",
                tool, figure, say=say, number=number, of=len(ends), full=full, zero=zero,
                taken=max(b - a for a, b in pairwise((Decimal(0), *ends))),
            )
        )  # fmt: skip
        before = end
    return tuple(steps)


def in_reach(ends: list[Decimal], room: Decimal | None) -> list[Decimal]:
    """The ends of the pecks, with more of them where one is longer than the quill has `room`."""
    if room is None:
        return ends
    found: list[Decimal] = []
    at = Decimal(0)
    for end in ends:
        while end - at > room:
            at += room
            found.append(at)
        found.append(end)
        at = end
    return found


def _pilot_note(hole: Hole) -> Note:
    sizes = pilot_drill(hole.main.tool.dia)
    return Note(
        id="pilot",
        title="A pilot first",
        say=("A large drill: drill a pilot first, a little over its web.",),
        figure=Figure(sizes.most, "pilot at the most", 3 if hole.unit == "inch" else 1,
                      (Term("drill", hole.main.tool.dia, 0),), "0.2 to 0.3 of the drill",
                      sizes.source),
    )  # fmt: skip

"""One hole drilled to depth, and what is done to it: pilot, pecks, reamer, counterbore, sink."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise

from assistant.calc.drilling import (
    counterbore,
    countersink_depth,
    drill_depth,
    peck_plan,
    pilot_drill,
    reaming_allowance,
)
from assistant.calc.drills import INCH_KINDS, nearest_drill
from assistant.errors import BadFile, BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole_depth import DepthCheck
from assistant.jobs.drilling.hole_tools import (
    POINT,
    HoleTool,
    Quill,
    capital,
    check_stop,
    chuck_check,
    drill_words,
    feed_of,
    paper_fact,
    read_depth_by,
    read_drill,
    section,
    speed_note,
    speed_of,
    wanted_machine,
)
from assistant.jobs.jobfile import Head
from assistant.jobs.steps import Check, Cut, Facts, Ground, Note, Overrun, Plan, Step, fact_key
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

HOLDINGS = ("vice", "clamps", "v-blocks", "angle plate")
PILOT_FROM = {"inch": Decimal("0.5"), "mm": Decimal("12.5")}
"""Holes over it want a pilot: common practice, no source."""
REAMER_CHAMFER = Decimal("0.25")
"""Of its diameter: no machine reamer's chamfer is longer. Common practice, no source."""
TOLERANCE = {"inch": "0.015", "mm": "0.4"}
"""Of a blind hole's depth, deeper only, where the job gives none: common practice, no source."""


@dataclass(frozen=True, eq=False)
class Operation:
    """One tool in the hole, and how deep it goes from its touch."""

    tool: HoleTool
    depth: Figure
    through: bool = False


@dataclass(frozen=True, eq=False)
class DrillJob:
    """One hole. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: str
    operations: tuple[Operation, ...]
    """In the order in which they are done."""
    main: Operation
    """The drill."""
    full_diameter: Quantity
    through: bool
    tolerance: Quantity
    depth_by: str
    pilot_missing: bool
    """A large drill for which the job names no pilot."""

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit


def read(head: Head, fields: Fields) -> DrillJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    hole = fields.table_at("hole")
    through = "through" in hole.table
    full = hole.length("through" if through else "depth", unit)
    point = quantity(hole.number("point", 60, 150, POINT), "degree")
    reamer = hole.optional_length("ream", unit)
    words, dia = _drill(hole, reamer, unit)
    pilot = read_drill(hole, "pilot", unit) if "pilot" in hole.table else None
    if pilot is not None and pilot[1] >= dia:
        hole.fail("pilot", str(pilot[1]), "must be smaller than the drill")
    spotted = hole.flag("spot", True)
    tolerance = hole.length("depth_plus", unit, quantity(TOLERANCE[unit], unit))
    depth_by = read_depth_by(hole)
    operations: list[Operation] = []

    def add(name: str, called: str, size: Quantity, kind: str, depth: Figure) -> Operation:
        tool = HoleTool(name, called, size, kind, head.material)
        operations.append(Operation(tool, depth, through))
        return operations[-1]

    try:
        if spotted:
            spot = Figure(dia * 0, "spotted", places(unit))
            add("spot", "centre drill", dia / 2, "spotting", spot)
        if pilot is not None:
            figure = point_figure(full, pilot[1], point, through, unit)
            called = pilot[0].replace("drill", "pilot drill")
            add("pilot", called, pilot[1], "drilling", figure)
        main = add("drill", words, dia, "drilling", point_figure(full, dia, point, through, unit))
        peck_plan(main.depth.value, dia)
        if reamer is not None:
            add("ream", "reamer", reamer, "reaming", _ream_figure(full, reamer, through, unit))
        _widened(hole, unit, reamer or dia, add)
    except BadFile:
        raise
    except BadInput as bad:
        hole.fail(bad.field, str(bad.value), bad.want)
    hole.done()
    return DrillJob(
        head=head,
        holding=fields.choice("holding", HOLDINGS, "vice"),
        operations=tuple(operations),
        main=main,
        full_diameter=full,
        through=through,
        tolerance=tolerance,
        depth_by=depth_by,
        pilot_missing=pilot is None and magnitude(dia, unit) > PILOT_FROM[unit],
    )


def places(unit: str) -> int:
    """Decimal places in which depths are shown."""
    return 4 if unit == "inch" else 2


def point_figure(
    full: Quantity, dia: Quantity, point: Quantity, through: bool, unit: str
) -> Figure:
    """Travel of a drill from its touch, with the point that comes on top."""
    found = drill_depth(full, dia, point, through)
    terms = [
        Term("thickness" if through else "depth at full diameter", found.full_diameter),
        Term("drill point", found.point),
    ]
    if through:
        terms.append(Term("to clear", found.from_touch - found.point - found.full_diameter))
    value = quantity(magnitude(found.from_touch, unit), unit)
    formula = "depth + half the diameter / tan(half the point angle)"
    return Figure(value, "from the touch", places(unit), tuple(terms), formula, "geometry")


def _drill(hole: Fields, reamer: Quantity | None, unit: str) -> tuple[str, Quantity]:
    """The drill, or the one that leaves a reamer its allowance."""
    if "drill" in hole.table or reamer is None:
        words, dia = read_drill(hole, "drill", unit)
        if reamer is not None and dia >= reamer:
            hole.fail("drill", str(dia), f"must be smaller than the reamer, {reamer}")
        return words, dia
    how = hole.choice("reaming", ("machine", "hand"), "machine")
    try:
        allowance = reaming_allowance(reamer, how)
        kinds = INCH_KINDS if unit == "inch" else ("metric",)
        found = nearest_drill(reamer - (allowance.least + allowance.most) / 2, kinds, "at or below")
    except BadInput as bad:
        hole.fail("ream", str(reamer), bad.want)
    return drill_words(found.name), found.diameter


def _ream_figure(full: Quantity, dia: Quantity, through: bool, unit: str) -> Figure:
    """Travel of a reamer from its touch: through, on till its chamfer is out at the back."""
    terms = [Term("thickness" if through else "depth", full)]
    if through:
        terms.append(Term("its chamfer, to clear", dia * REAMER_CHAMFER))
    deep = quantity(sum(magnitude(term.value, unit) for term in terms), unit)
    return Figure(deep, "from the touch", places(unit), tuple(terms))


Add = Callable[[str, str, Quantity, str, Figure], Operation]
"""Name, words, size and kind of a tool, and its depth."""


def _widened(hole: Fields, unit: str, dia: Quantity, add: Add) -> None:
    """Counterbore and countersink, where the job has them, in a hole of diameter `dia`."""
    if "counterbore" in hole.table:
        bore = hole.table_at("counterbore")
        if "screw" in bore.table:
            found = counterbore(bore.text("screw", "wanted a screw such as 1/4 or M6"))
            size, deep, source = found.dia, found.depth, found.source
        else:
            size, deep, source = bore.length("diameter", unit), bore.length("depth", unit), ""
        bore.done()
        if size <= dia:
            raise ImpossibleInput(
                "counterbore", f"{size:~}", f"must be wider than the hole, {dia:~}"
            )
        value = quantity(magnitude(deep, unit), unit)
        figure = Figure(value, "from the touch", places(unit), (Term("head height", deep),),
                        source=source)  # fmt: skip
        add("counterbore", "counterbore", size, "counterboring", figure)
        dia = size  # what a countersink finds at the face
    if "countersink" in hole.table:
        sink = hole.table_at("countersink")
        size = sink.length("diameter", unit)
        angle = quantity(sink.number("angle", 60, 120, 82 if unit == "inch" else 90), "degree")
        sink.done()
        deep = countersink_depth(size, dia, angle)
        figure = Figure(
            quantity(magnitude(deep, unit), unit),
            "from the touch",
            places(unit),
            (Term("countersink", size, 0), Term("hole", dia, 0), Term("angle", angle, 0)),
            "(countersink - hole) / 2 / tan(half the angle)",
            "geometry",
        )
        add("sink", "countersink", size, "countersinking", figure)


def plan(job: DrillJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` on one that can't drill so."""
    wanted_machine(machine, "drilling to depth")
    check_stop(job.depth_by, machine)
    quill = Quill(machine, job.unit, job.depth_by)
    steps = setup_steps(machine, job.holding, job.through)
    if job.pilot_missing:
        steps.append(_pilot_note(job))
    begun = False
    for operation in job.operations:
        main = operation is job.main
        steps.append(speed_note(operation.tool, machine, job.unit, facts, main=main))
        steps += hole_steps(quill, operation, begun, facts)
        if main and not job.through:
            steps += DepthCheck(quill, operation, job.full_diameter, job.tolerance).steps(facts)
        begun = True
    steps.append(Note(id="deburr", title="Deburr", say=("Deburr the hole. Chips out by brush.",)))
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation="drill",
        unit=job.unit,
        steps=tuple(steps),
        results=(
            ("speed", speed_of(job.main.tool, machine, job.unit, facts)),
            ("feed", feed_of(job.main.tool, job.unit)),
            *((f"{one.tool.name} depth", one.depth) for one in job.operations
              if one.tool.kind != "spotting"),
        ),
        sources=("geometry",),
        depth_axis="quill",
        full_depth=job.main.depth.value,
        drawing=(
            *section((one.tool, one.depth) for one in job.operations),
            ("thickness" if job.through else "full_diameter", job.full_diameter),
        ),
        drawing_kind="hole",
    )  # fmt: skip


def setup_steps(machine: Machine, holding: str, through: bool) -> list[Step]:
    """Checks before a hole: the work held, clear underneath, the tool held."""
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


def hole_steps(quill: Quill, operation: Operation, begun: bool, facts: Facts) -> list[Step]:
    """Touch, stop, and every peck of one tool."""
    tool = operation.tool
    nothing = quantity(0, quill.unit)
    if tool.kind == "spotting":
        return [
            Cut(id="spot", title="Spot the hole",
                say=("Spot it, no wider than the drill.",), overrun=Overrun.HOLE,
                number=1, of=1, depth=nothing, taken=nothing, kind="spotting",
                feed_axis="quill")
        ]  # fmt: skip
    return [
        *_touch(quill, tool, begun, facts),
        *quill.stop(tool, operation.depth),
        *_pecks(quill, operation),
    ]


def _touch(quill: Quill, tool: HoleTool, begun: bool, facts: Facts) -> list[Step]:
    if tool.kind == "countersinking":
        return [quill.touch_edge(tool)]
    return quill.touch(tool, begun, fact_key(facts, paper_fact(tool)))


@lru_cache(maxsize=64)
def _pecks(quill: Quill, operation: Operation) -> tuple[Step, ...]:
    tool, depth = operation.tool, operation.depth
    full = magnitude(depth.value, quill.unit)
    ends = [full]
    if tool.kind == "drilling":
        ends = [magnitude(end, quill.unit) for end in peck_plan(depth.value, tool.dia).depths]
    steps: list[Step] = []
    for number, end in enumerate(ends, 1):
        last = number == len(ends)
        say: tuple[str, ...] = ()
        if not last:
            say = (f"Peck {number} of {len(ends)}, then right out for the chips.",)
        elif operation.through and tool.kind == "drilling":
            say = ("Ease off as it breaks through.",)
        figure = depth if last else Figure(quantity(end, quill.unit), "peck", depth.places)
        steps.append(
            quill.cut(
                tool.name if last else f"{tool.name}-peck-{number}",
                capital(tool.words) if last else f"{capital(tool.words)}: peck {number}",
                tool, figure, say=say, number=number, of=len(ends), full=full,
                taken=max(b - a for a, b in pairwise((Decimal(0), *ends))),
            )
        )  # fmt: skip
    return tuple(steps)


def _pilot_note(job: DrillJob) -> Note:
    sizes = pilot_drill(job.main.tool.dia)
    return Note(
        id="pilot",
        title="A pilot first",
        say=("A large drill: drill a pilot first, a little over its web.",),
        figure=Figure(sizes.most, "pilot at the most", 3 if job.unit == "inch" else 1,
                      (Term("drill", job.main.tool.dia, 0),), "0.2 to 0.3 of the drill",
                      sizes.source),
    )  # fmt: skip

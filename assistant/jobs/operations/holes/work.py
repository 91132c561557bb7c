"""Holes by coordinates from two edges: single ones, rows and grids, bolt circles.

The plan of a pattern: edges, then every hole row by row, tool after tool.
"""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from assistant.calc.dial import Toward, settle
from assistant.calc.drilling import drill_depth, peck_plan
from assistant.calc.positions import chord
from assistant.jobs.common import checks
from assistant.jobs.common.next_part import before
from assistant.jobs.drilling.hole_tools import (
    HoleTool,
    feed_of,
    speed_note,
    speed_of,
    wanted_machine,
)
from assistant.jobs.drilling.quill import Quill, check_stop, chuck_check, feeler_told
from assistant.jobs.milling.edges import Edge
from assistant.jobs.operations.holes.job import Hole, HolesJob, depth_of, read
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, FactKey, Facts, Measure, Move, Note, Overrun, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, quantity

__all__ = ["plan", "read"]


def plan(job: HolesJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine.

    Raises `ImpossibleInput` on a machine without table and saddle or without a quill, and where
    the depth stop is wanted that it lacks.
    """
    wanted_machine(machine, "a pattern of holes")
    for axis in ("table", "saddle"):
        machine.axis(axis)
    check_stop(job.depth_by, machine)
    edges = [edge for edge in edges_of(job, machine) if not _stays(job, edge, facts)]
    steps: list[Step] = [*checks.first_checks(machine.kind), *_checks(job)]
    if len(edges) < 2:
        steps.append(_seated(job, edges))
    for edge in edges:
        steps += edge.steps(facts)
    for tool in (job.spot, job.pilot, job.drill):
        if tool is not None:
            steps.append(speed_note(tool, machine, job.unit, facts, main=tool is job.drill))
            feeler = feeler_told(facts, tool)
            steps += _round(job, machine, tool, feeler, bool(edges))
    steps += _check_between(job)
    steps.append(Note(id="deburr", title="Deburr", say=("Deburr every hole, both sides.",)))
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation="holes",
        unit=job.unit,
        steps=tuple(steps),
        results=_results(job, machine, facts),
        sources=("geometry",),
        answers=(
            ("which_hole", "At no hole yet."),
            ("holes_left", f"{len(job.holes)} holes in all."),
        ),
        depth_axis="quill",
        drawing=_map(job),
        drawing_kind="bolt circle" if job.circle is not None else "holes",
    )  # fmt: skip


@lru_cache(maxsize=16)
def edges_of(job: HolesJob, machine: Machine) -> tuple[Edge, Edge]:
    """The two datum edges."""
    return (
        Edge(machine, "table", job.x_edge, job.tip, job.unit, job.found_by),
        Edge(machine, "saddle", job.y_edge, job.tip, job.unit, job.found_by),
    )


def _checks(job: HolesJob) -> list[Step]:
    steps: list[Step] = [
        checks.work(job.holding, False, "work"),
        Check(
            id="check-square",
            title="Edge true along the table",
            say=("Edge indicated true along the table? Burrs off both edges?",),
        ),
        chuck_check(),
    ]
    if job.through:
        steps.insert(
            2,
            Check(
                id="check-under",
                title="Clear under the holes",
                say=("Parallels, clamps and table clear under every hole?",),
            ),
        )
    return steps


def _seated(job: HolesJob, found: list[Edge]) -> Check:
    """An edge that isn't found again is only where it was if nothing lies between."""
    left = {edge.axis for edge in found}
    against = [words for axis, words in (("saddle", "the fixed jaw"), ("table", "the stop"))
               if axis not in left]  # fmt: skip
    return Check(
        id="check-seated",
        title="Seated as the last one",
        say=(f"Hard against {' and '.join(against)}, no chips between?",),
    )


def _stays(job: HolesJob, edge: Edge, facts: Facts) -> bool:
    """Whether the edge lies where it lay for the part before: at the jaw that stays, or at a stop.
    The zero is over the edge itself, whatever tool is in the spindle."""
    if before(facts, edge.axis) is None:
        return False
    if edge.axis == "saddle":
        return job.holding == "vice" and job.fixed_jaw == edge.edge
    return job.stop


@lru_cache(maxsize=16)
def _round(
    job: HolesJob, machine: Machine, tool: HoleTool, feeler: FactKey, found: bool
) -> tuple[Step, ...]:
    """Every hole with one tool; `found` where an edge was found before. Kept: of all that is told
    only the feeler changes it."""
    quill = Quill(machine, job.unit, job.depth_by)
    prefix = "" if tool is job.drill else f"{tool.name}-"
    depth = _depth_figure(job, tool) if tool is not job.spot else None
    steps: list[Step] = []
    first = next(t for t in (job.spot, job.pilot, job.drill) if t is not None)
    last: Hole | None = None
    for hole in job.holes:
        lead = "Quill up clear." if last or tool is not first or not found else _away(job)
        steps += _to_hole(job, machine, hole, last, prefix, lead)
        if last is None and depth is not None:
            steps += quill.touch(tool, tool is not first, feeler)
            steps += quill.stop(tool, depth)
        steps.append(_make(job, quill, tool, hole, depth, prefix))
        last = hole
    return tuple(steps)


def _away(job: HolesJob) -> str:
    return "Edge finder out." if job.found_by == "edge finder" else "Feeler away, quill up clear."


def _to_hole(
    job: HolesJob, machine: Machine, hole: Hole, before: Hole | None, prefix: str, lead: str
) -> list[Step]:
    """Saddle to the row, then table along it: each as it lies from the datum."""
    steps: list[Step] = []
    for edge in reversed(edges_of(job, machine)):
        across = edge.axis == "table"
        at = hole.x if across else hole.y
        if before is not None and at == (before.x if across else before.y):
            continue
        unlock = f"Unlock the {edge.axis}."
        size = quantity(at, job.unit)
        steps.append(
            Move(
                id=f"{prefix}hole-{hole.number}-{edge.axis}",
                title=f"Hole {hole.number} of {len(job.holes)}: {edge.axis}",
                say=(unlock,) if steps else (lead, unlock),
                after=("Lock it.",),
                axis=edge.axis,
                target=settle(size, machine.axis(edge.axis).graduation) * edge.toward,
                approach=edge.toward,
                answers=_answers(job, hole),
                terms_of=Figure(size, f"hole {hole.number} from the {edge.edge} edge",
                                4 if job.unit == "inch" else 2,
                                (Term(f"from the {edge.edge} edge", size),), source="geometry"),
            )
        )  # fmt: skip
    return steps


def _answers(job: HolesJob, hole: Hole) -> tuple[tuple[str, Figure | str], ...]:
    count = len(job.holes)
    left = count - hole.number
    return (
        ("which_hole", f"Hole {hole.number} of {count}, row {hole.row}."),
        ("holes_left", f"{left} to go after this one." if left else "This is the last one."),
    )


def _make(
    job: HolesJob, quill: Quill, tool: HoleTool, hole: Hole, depth: Figure | None, prefix: str
) -> Cut:
    count = len(job.holes)
    answers = _answers(job, hole)
    id_ = f"{prefix}hole-{hole.number}-{'spot' if depth is None else 'drill'}"
    nothing = quantity(0, job.unit)
    if depth is None:
        return Cut(
            id=id_,
            title=f"Spot hole {hole.number} of {count}",
            say=(f"Hole {hole.number}. Spot it, no wider than the drill.",),
            overrun=Overrun.HOLE,
            number=hole.number,
            of=count,
            depth=nothing,
            taken=nothing,
            kind=tool.kind,
            feed_axis="quill",
            answers=answers,
        )
    return quill.cut(
        id_,
        f"Drill hole {hole.number} of {count}",
        tool,
        depth,
        say=(f"Hole {hole.number}.", *_chips(job, tool)),
        number=hole.number,
        of=count,
        toward=Toward.DEEPER if job.through else Toward.NEAREST,
        answers=answers,
    )


@lru_cache(maxsize=32)
def _chips(job: HolesJob, tool: HoleTool) -> tuple[str, ...]:
    deep = peck_plan(quantity(depth_of(job, tool), job.unit), tool.dia).deep
    return ("Deep: back out for the chips each diameter.",) if deep else ()


@lru_cache(maxsize=32)
def _depth_figure(job: HolesJob, tool: HoleTool) -> Figure:
    found = drill_depth(job.full_diameter, tool.dia, job.point, job.through)
    first = "thickness" if job.through else "depth at full diameter"
    terms = [Term(first, found.full_diameter), Term("drill point", found.point)]
    if job.through:
        terms.append(Term("to clear", found.from_touch - found.point - found.full_diameter))
    return Figure(
        found.from_touch,
        "from the touch",
        4 if job.unit == "inch" else 2,
        tuple(terms),
        "depth + half the diameter / tan(half the point)",
        "geometry of the point",
    )


@lru_cache(maxsize=32)
def _check_between(job: HolesJob) -> tuple[Step, ...]:
    """Two holes measured edge to edge: the check that a whole turn was not lost."""
    if len(job.holes) < 2:
        return ()
    first, last = job.holes[0], job.holes[-1]
    apart = ((last.x - first.x) ** 2 + (last.y - first.y) ** 2).sqrt()
    drill = job.drill.dia
    between = quantity(apart, job.unit) - drill
    return (
        Measure(
            id="measure-between",
            title=f"Between holes {first.number} and {last.number}",
            spindle="off",
            spindle_words="Spindle off.",
            say=(f"Measure hole {first.number} to hole {last.number}.",
                 "Between their near edges."),
            cautions=checks.MEASURE_CAUTIONS,
            fact="between",
            gauge="caliper",
            figure=Figure(between, "between the near edges", 3 if job.unit == "inch" else 2,
                          (Term("centres apart", quantity(apart, job.unit)),
                           Term("drill", drill, -1)),
                          "distance of the centres less the drill", "geometry"),
            nominal=between,
            low=between - job.between,
            high=between + job.between,
            band_low=between - job.between * 30,
            band_high=between + job.between * 30,
            grows=True,
            too_far="too far apart",
            optional=True,
        ),
    )  # fmt: skip


def _results(
    job: HolesJob, machine: Machine, facts: Facts
) -> tuple[tuple[str, Figure], ...]:  # fmt: skip
    results = [
        ("speed", speed_of(job.drill, machine, job.unit, facts)),
        ("feed", feed_of(job.drill, job.unit)),
        ("drill depth", _depth_figure(job, job.drill)),
    ]
    if job.circle is not None:
        apart = chord(job.circle.diameter, job.circle.holes)
        results.append(
            ("chord", Figure(apart, "between neighbouring centres", 4 if job.unit == "inch" else 2,
                             (Term("bolt circle", job.circle.diameter, 0),),
                             "diameter x sin(180 / holes)", "plane geometry"))
        )  # fmt: skip
    return tuple(results)


@lru_cache(maxsize=16)
def _map(job: HolesJob) -> tuple[tuple[str, Quantity], ...]:
    """The map as it is seen from above: right and back are positive, the datum is at 0, 0."""
    sx = 1 if job.x_edge == "left" else -1
    sy = 1 if job.y_edge == "front" else -1

    def size(value: Decimal) -> Quantity:
        return quantity(value, job.unit)

    dims: list[tuple[str, Quantity]] = []
    for hole in job.holes:
        dims.append((f"x_{hole.number}", size(hole.x * sx)))
        dims.append((f"y_{hole.number}", size(hole.y * sy)))
    dims.append(("hole", job.drill.dia))
    if job.circle is not None:
        dims.append(("circle", job.circle.diameter))
        dims.append(("centre_x", size(job.circle.centre_x * sx)))
        dims.append(("centre_y", size(job.circle.centre_y * sy)))
    return tuple(dims)

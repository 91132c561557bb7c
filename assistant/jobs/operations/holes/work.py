"""Holes by coordinates from two edges: single ones, rows and grids, bolt circles.

The plan of a pattern: edges, then what is made at each place, tool by tool or hole by hole.
"""

from __future__ import annotations

from decimal import Decimal

from assistant.calc.positions import chord
from assistant.jobs.common import checks
from assistant.jobs.common.next_part import before
from assistant.jobs.drilling.hole_tools import wanted_machine
from assistant.jobs.drilling.quill import check_stop, chuck_check
from assistant.jobs.milling.edges import Edge
from assistant.jobs.operations.holes.job import HolesJob, read
from assistant.jobs.operations.holes.rounds import edges_of, left_in, rounds
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Measure, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, quantity

__all__ = ["plan", "read"]

ALL_MADE = (("which_hole", "All are made."), ("holes_left", "None left."))


def plan(job: HolesJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine.

    Raises `ImpossibleInput` on a machine without table and saddle or without a quill, and where
    the depth stop is wanted that it lacks.
    """
    wanted_machine(machine, "a pattern of holes")
    for axis in ("table", "saddle"):
        machine.axis(axis)
    check_stop(job.made.depth_by, machine)
    edges = [edge for edge in edges_of(job, machine) if not _stays(job, edge, facts)]
    steps: list[Step] = [*checks.first_checks(machine.kind), *_checks(job)]
    if len(edges) < 2:
        steps.append(_seated(job, edges))
    for edge in edges:
        steps += edge.steps(facts)
    steps += rounds(job, machine, facts, bool(edges))
    steps += _check_between(job, facts)
    steps.append(Note(id="deburr", title="Deburr", say=("Deburr every hole, both sides.",),
                      answers=ALL_MADE))  # fmt: skip
    return Plan(
        new_tool=checks.NEW_POINT,
        title=job.head.title,
        operation="holes",
        unit=job.unit,
        steps=tuple(steps),
        results=_results(job, machine, facts),
        sources=job.made.sources,
        answers=(
            ("which_hole", "At no hole yet."),
            ("holes_left", f"{len(job.places)} holes in all."),
            *job.made.answers,
        ),
        depth_axis="quill",
        drawing=_map(job, facts),
        drawing_kind="bolt circle" if job.circle is not None else "holes",
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
    if job.made.through:
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


def _check_between(job: HolesJob, facts: Facts) -> tuple[Step, ...]:
    """Two holes measured edge to edge: the check that a whole turn was not lost."""
    made = left_in(job, facts)
    if len(made) < 2:
        return ()
    first, last = made[0], made[-1]
    apart = ((last.x - first.x) ** 2 + (last.y - first.y) ** 2).sqrt()
    wide, within = job.made.widest, job.order.between
    between = quantity(apart, job.unit) - wide
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
                           Term("hole at the face", wide, -1)),
                          "distance of the centres less the hole at the face", "geometry"),
            nominal=between,
            low=between - within,
            high=between + within,
            band_low=between - within * 30,
            band_high=between + within * 30,
            grows=True,
            too_far="too far apart",
            optional=True,
            answers=ALL_MADE,
        ),
    )  # fmt: skip


def _results(
    job: HolesJob, machine: Machine, facts: Facts
) -> tuple[tuple[str, Figure], ...]:  # fmt: skip
    results = list(job.made.results(machine, facts))
    if job.circle is not None:
        apart = chord(job.circle.diameter, job.circle.holes)
        results.append(
            ("chord", Figure(apart, "between neighbouring centres", 4 if job.unit == "inch" else 2,
                             (Term("bolt circle", job.circle.diameter, 0),),
                             "diameter x sin(180 / holes)", "plane geometry"))
        )  # fmt: skip
    return tuple(results)


def _map(job: HolesJob, facts: Facts) -> tuple[tuple[str, Quantity], ...]:
    """The map as it is seen from above: right and back are positive, the datum is at 0, 0."""
    sx = 1 if job.x_edge == "left" else -1
    sy = 1 if job.y_edge == "front" else -1

    def size(value: Decimal) -> Quantity:
        return quantity(value, job.unit)

    dims: list[tuple[str, Quantity]] = []
    for hole in job.places:
        dims.append((f"x_{hole.number}", size(hole.x * sx)))
        dims.append((f"y_{hole.number}", size(hole.y * sy)))
    dims.append(("hole", job.made.main.tool.dia))
    kept = left_in(job, facts)
    dims += [(f"out_{one.number}", size(Decimal(1))) for one in job.places if one not in kept]
    if job.circle is not None:
        dims.append(("circle", job.circle.diameter))
        dims.append(("centre_x", size(job.circle.centre_x * sx)))
        dims.append(("centre_y", size(job.circle.centre_y * sy)))
    return tuple(dims)

"""What is made from the tailstock: a hole, a tapped hole, or a centre for the work to run on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from assistant.calc.drilling import (
    CentreDrill,
    centre_depth,
    centre_drill,
    centre_drill_iso,
    countersink_depth,
    point_length,
)
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.drilling.hole import ToolWork, places
from assistant.jobs.drilling.hole_steps import tool_stage
from assistant.jobs.drilling.hole_tools import POINT, HoleTool, feed_of, speed_note, speed_of
from assistant.jobs.drilling.made import Made, Sizes, read_staged, which_of
from assistant.jobs.drilling.quill import Quill, read_depth_by
from assistant.jobs.drilling.tapped import ByHand
from assistant.jobs.steps import Answer, Facts, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, mm, quantity

KINDS = ("hole", "thread", "centre")
"""The tables of a job file, of which it has one."""
DEPTH_BY = ("dial", "scale")
FROM_THE_TAILSTOCK = ByHand(
    "The chuck is turned by hand, out of gear.",
    ("in the tailstock chuck, oil on.", "Unclamp the tailstock: it has to follow the tap."),
    ("Never leave the chuck key in while you turn it.",),
)


@dataclass(frozen=True, eq=False)
class Centre:
    """A 60 degree centre, for the work to run on."""

    unit: str
    main: ToolWork
    size: CentreDrill
    mouth: Quantity
    depth_by: str
    through: bool = False
    answers: tuple[tuple[str, Answer], ...] = ()

    @property
    def tools(self) -> tuple[ToolWork, ...]:
        """The one there is."""
        return (self.main,)

    @property
    def widest(self) -> Quantity:
        """Of its mouth."""
        return self.mouth

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the centre drill's sizes are from."""
        return "geometry", self.size.source

    @cached_property
    def drawing(self) -> Sizes:
        """The pilot as a hole, the cone as a countersink."""
        cone = countersink_depth(self.mouth, self.size.pilot, quantity(60, "degree"))
        sizes = {
            "drill_across": self.size.pilot,
            "drill_deep": self.main.depth.value,
            "drill_point": point_length(self.size.pilot, quantity(POINT, "degree")),
            "sink_across": self.mouth,
            "sink_deep": cone,
            "sink_point": cone,
            "full_diameter": self.main.depth.value,
        }
        return tuple((n, quantity(magnitude(q, self.unit), self.unit)) for n, q in sizes.items())

    def steps(self, quill: Quill, facts: Facts) -> list[Step]:
        """In to its depth, and a look at its mouth."""
        mouth = Figure(self.mouth, "wide at the mouth", places(self.unit) - 1,
                       (Term("mouth", self.mouth),))  # fmt: skip
        note = speed_note(self.main.tool, quill.machine, self.unit, facts)
        return [
            *tool_stage(quill, self.main, False, facts, (note,)).steps,
            Note(id="look", title="Look at the centre", spindle="off", figure=mouth,
                 say=("Slide the tailstock back. Chips out by brush. Bright all round?",)),
        ]  # fmt: skip

    def results(self, machine: Machine, facts: Facts) -> tuple[tuple[str, Figure], ...]:
        """Speed, feed and travel."""
        tool = self.main.tool
        return (
            ("speed", speed_of(tool, machine, self.unit, facts)),
            ("feed", feed_of(tool, self.unit)),
            ("centre depth", self.main.depth),
        )


def read_made(fields: Fields, unit: str, material: str) -> Made:
    """The one of `[hole]`, `[thread]` and `[centre]` that the file has; every error is a `BadFile`
    that names file, key and value."""
    kind = which_of(fields, KINDS)
    if kind == "centre":
        return _read_centre(fields.table_at(kind), unit, material)
    return read_staged(fields, kind, unit, material, DEPTH_BY, FROM_THE_TAILSTOCK)


def _read_centre(table: Fields, unit: str, material: str) -> Centre:
    name = table.text("size", "wanted a centre drill, such as 3 or A2.5")
    mouth = table.length("mouth", unit)
    by = read_depth_by(table, DEPTH_BY)
    table.done()
    try:
        size = _centre_drill(name.strip())
    except BadInput as bad:
        table.refuse("size", name, bad.want)
    try:
        deep = centre_depth(size, mouth)
    except BadInput as bad:
        table.refuse("mouth", str(mouth), bad.want)
    figure = Figure(
        quantity(magnitude(deep, unit), unit), "from the touch", places(unit),
        (Term("mouth", mouth, 0), Term("pilot", size.pilot, 0)),
        "pilot x 1.25 + (mouth - pilot) / 2 / tan 30", size.source,
    )  # fmt: skip
    words = f"{'' if name[:1].upper() == 'A' else 'number '}{name.strip()} centre drill"
    tool = HoleTool("drill", words, mouth, "spotting", material)
    return Centre(unit, ToolWork(tool, figure), size, mouth, by)


def _centre_drill(name: str) -> CentreDrill:
    """By its number, or by `A` and its pilot in millimetres."""
    if name[:1].upper() != "A":
        return centre_drill(name)
    try:
        pilot = mm(name[1:].strip())
    except ArithmeticError:
        raise BadInput("size", name, "wanted a number 00 to 8, or A2.5 and such") from None
    return centre_drill_iso(pilot)

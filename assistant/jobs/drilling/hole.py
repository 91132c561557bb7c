"""One hole as a job file has it: its tools in their order, and how deep each goes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.drilling import (
    counterbore,
    countersink_depth,
    drill_depth,
    peck_plan,
    reaming_allowance,
)
from assistant.calc.drills import INCH_KINDS, nearest_drill
from assistant.errors import BadFile, BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.drilling.hole_tools import POINT, HoleTool, drill_words, read_drill, section
from assistant.jobs.drilling.quill import read_depth_by
from assistant.jobs.to_size.sizing import Toleranced, toleranced
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, magnitude, quantity

PILOT_FROM = {"inch": Decimal("0.5"), "mm": Decimal("12.5")}
"""Holes over it want a pilot: common practice, no source."""
REAMER_CHAMFER = Decimal("0.25")
"""Of its diameter: no machine reamer's chamfer is longer. Common practice, no source."""
TOLERANCE = {"inch": "0.015", "mm": "0.4"}
"""Of a blind hole's depth, deeper only, where the job gives none: common practice, no source."""


@dataclass(frozen=True, eq=False)
class ToolWork:
    """One tool in the hole, and how deep it goes from its touch."""

    tool: HoleTool
    depth: Figure
    through: bool = False


@dataclass(frozen=True, eq=False)
class Hole:
    """What is made of one hole. Compared by identity: made once, when the job is read."""

    unit: str
    tools: tuple[ToolWork, ...]
    """In the order in which they are used."""
    main: ToolWork
    """The drill."""
    full_diameter: Quantity
    through: bool
    tolerance: Quantity
    depth_by: str
    pilot_missing: bool
    """A large drill for which the job names no pilot."""
    ream_limits: Toleranced | None = None
    """Of the reamed size; None where the job gives none, and nothing is measured."""
    counterbore_plus: Quantity | None = None
    """How much deeper its counterbore may be; None where the job doesn't say, and nothing is
    measured."""

    @property
    def drawing(self) -> tuple[tuple[str, Quantity], ...]:
        """Its sizes for the drawing."""
        return (
            *section((one.tool, one.depth) for one in self.tools),
            ("thickness" if self.through else "full_diameter", self.full_diameter),
        )


def read_hole(hole: Fields, unit: str, material: str, ways: tuple[str, ...]) -> Hole:
    """The `[hole]` table, taken whole; `ways` are those by which its depth can be kept. Every
    error is a `BadFile` that names file, key and value."""
    through = "through" in hole.table
    full = hole.length("through" if through else "depth", unit)
    point = quantity(hole.number("point", 60, 150, POINT), "degree")
    reamer = hole.optional_length("ream", unit)
    limits = _ream_limits(hole, unit)
    words, dia = _drill(hole, reamer, unit)
    pilot = read_drill(hole, "pilot", unit) if "pilot" in hole.table else None
    if pilot is not None and pilot[1] >= dia:
        hole.fail("pilot", str(pilot[1]), "must be smaller than the drill")
    spotted = hole.flag("spot", True)
    tolerance = hole.length("depth_plus", unit, quantity(TOLERANCE[unit], unit))
    depth_by = read_depth_by(hole, ways)
    tools: list[ToolWork] = []

    def add(name: str, called: str, size: Quantity, kind: str, depth: Figure) -> ToolWork:
        tools.append(ToolWork(HoleTool(name, called, size, kind, material), depth, through))
        return tools[-1]

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
        counterbore_plus = _widened(hole, unit, reamer or dia, add)
        _room_under(tools, full, unit)
    except BadFile:
        raise
    except BadInput as bad:
        hole.fail(bad.field, str(bad.value), bad.want)
    hole.done()
    return Hole(
        unit=unit,
        tools=tuple(tools),
        main=main,
        full_diameter=full,
        through=through,
        tolerance=tolerance,
        depth_by=depth_by,
        pilot_missing=pilot is None and magnitude(dia, unit) > PILOT_FROM[unit],
        ream_limits=limits,
        counterbore_plus=counterbore_plus,
    )


def _ream_limits(hole: Fields, unit: str) -> Toleranced | None:
    """Of the reamed size, where the file gives any."""
    if not {"ream_plus", "ream_minus"} & hole.table.keys():
        return None
    return toleranced(hole, "ream", unit)


def places(unit: str) -> int:
    """Decimal places in which depths are shown."""
    return Unit(unit).places


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


Add = Callable[[str, str, Quantity, str, Figure], ToolWork]
"""Name, words, size and kind of a tool, and its depth."""


def _room_under(tools: list[ToolWork], full: Quantity, unit: str) -> None:
    """A counterbore needs metal left under the head. Raises `ImpossibleInput` where none is."""
    for one in tools:
        deep = magnitude(one.depth.value, unit)
        if one.tool.kind == "counterboring" and deep >= magnitude(full, unit):
            raise ImpossibleInput(
                "counterbore", f"{one.depth.value:~}",
                f"leaves nothing under the head in {full:~}: wanted less",
            )  # fmt: skip


def _widened(hole: Fields, unit: str, dia: Quantity, add: Add) -> Quantity | None:
    """Counterbore and countersink, where the job has them, in a hole of diameter `dia`; how much
    deeper the counterbore may be, where the job says so."""
    plus: Quantity | None = None
    if "counterbore" in hole.table:
        bore = hole.table_at("counterbore")
        plus = bore.optional_length("depth_plus", unit)
        below = quantity(0, unit)
        if "screw" in bore.table:
            below = bore.length("below", unit, below, zero_ok=True)
            found = counterbore(bore.text("screw", "wanted a screw such as 1/4 or M6"), below)
            size, deep, source = found.dia, found.depth, found.source
        else:
            size, deep, source = bore.length("diameter", unit), bore.length("depth", unit), ""
        bore.done()
        if size <= dia:
            raise ImpossibleInput(
                "counterbore", f"{size:~}", f"must be wider than the hole, {dia:~}"
            )
        value = quantity(magnitude(deep, unit), unit)
        terms = [Term("head height", deep - below)]
        if below.magnitude:
            terms.append(Term("below the face", below))
        figure = Figure(value, "from the touch", places(unit), tuple(terms), source=source)
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
    return plus

"""What a taper job file says: the taper, how it is cut, the size that is held."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.tapers import (
    NOT_BY_COMPOUND,
    Taper,
    standard_taper,
    taper_from_angle,
    taper_from_diameters,
    taper_per_foot,
)
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.diameter import Diameter, read_diameter
from assistant.jobs.lathe.setup import LatheJob, check_stick_out, read_holding
from assistant.jobs.lathe.speed import Turning, read_turning
from assistant.replacing import replace
from assistant.units import Quantity, inches, magnitude, mm, quantity

NOT_BORED = (
    "not planned here: a tapered hole is bored by the compound at the same angle and tried with "
    "its plug, not measured over two marks. Only outside tapers"
)
MOST_ROUNDS = 5
"""More corrections of the angle than this mean that something slips."""
STEEPEST_SET_OVER = 5
"""Degrees from the centre line: beyond it the centres stand too far askew."""
PROVE = {"inch": inches(1), "mm": mm(25)}
"""Travel over which the setting is proved with an indicator."""
WITHIN = {"inch": Decimal("0.0005"), "mm": Decimal("0.01")}
"""Of the difference between the two diameters measured: nearer than this is right."""
LEFT = {"inch": Decimal("0.040"), "mm": Decimal("1")}
"""Left on the diameter until the taper is right."""


@dataclass(frozen=True, eq=False)
class TaperJob(LatheJob):
    """An outside taper, its small end at the tailstock."""

    taper: Taper
    source: str
    by_compound: bool
    total: Quantity | None
    """Between the ends of the work, on which the set-over depends."""
    one: Diameter
    """The size that is held, `away` from the small end."""
    away: Decimal
    at: str
    length: Decimal
    spacing: Decimal
    within: Decimal
    turning: Turning

    @property
    def wanted(self) -> Decimal:
        """Change of diameter over the spacing."""
        return self.taper.ratio * self.spacing


def read(head: Head, fields: Fields) -> TaperJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    table, work, tool = (
        fields.table_at("taper"),
        fields.table_at("work"),
        fields.table_at("tool", {}),
    )
    if table.choice("side", ("external", "internal"), "external") == "internal":
        table.fail("side", "'internal'", NOT_BORED)
    taper, source = _taper(table, unit)
    by_compound = table.choice("method", ("compound", "tailstock"), "compound") == "compound"
    length = magnitude(table.length("length", unit), unit)
    spacing = magnitude(table.length("spacing", unit, quantity(length * 3 / 4, unit)), unit)
    at = work.choice("at", ("small end", "large end"), "large end")
    away = length if at == "large end" else Decimal(0)
    one = read_diameter(work, tool, unit, inner=False, taper=taper.ratio * away)
    job = TaperJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {}), unit),
        taper=taper,
        source=source,
        by_compound=by_compound,
        total=None if by_compound else work.length("total_length", unit),
        one=replace(one, finish=max(one.finish, LEFT[unit]), what=f"the {at}"),
        away=away,
        at=at,
        length=length,
        spacing=spacing,
        within=magnitude(table.length("within", unit, quantity(WITHIN[unit], unit)), unit),
        turning=read_turning(tool, head.material, unit, work.length("stock", unit),
                             by_hand="compound" if by_compound else ""),
    )  # fmt: skip
    for part in (table, work, tool):
        part.done()
    _check(job, table, fields)
    return job


def _taper(table: Fields, unit: str) -> tuple[Taper, str]:
    """The taper, given in one way of four."""
    ways = [key for key in ("family", "per_foot", "included_angle", "large") if key in table.table]
    if len(ways) != 1:
        table.fail(
            "family",
            ", ".join(ways) or "missing",
            "give one: family and size, per_foot, included_angle, or large, small and over",
        )
    try:
        if ways == ["family"]:
            family = table.text("family", "wanted morse, brown-sharpe")
            found = standard_taper(family, table.text("size", "wanted a size such as 3"))
            if not found.by_compound:
                table.refuse("family", family, NOT_BY_COMPOUND)
            return taper_per_foot(Decimal(found.taper_per_foot.magnitude)), found.source
        if ways == ["per_foot"]:
            return taper_per_foot(table.number("per_foot", 0, 12)), "the drawing"
        if ways == ["included_angle"]:
            angle = quantity(table.number("included_angle", 0, 89), "degree")
            return taper_from_angle(angle), "the drawing"
        large, small = table.length("large", unit), table.length("small", unit)
        return taper_from_diameters(large, small, table.length("over", unit)), "the drawing"
    except ImpossibleInput as bad:
        table.fail(bad.field.replace(" ", "_"), str(bad.value), bad.want)
    except BadInput as bad:
        table.fail(getattr(bad, "key", bad.field).split(".")[-1], str(bad.value), bad.want)


def _check(job: TaperJob, table: Fields, fields: Fields) -> None:
    check_stick_out(job, fields, job.q(job.length), "taper")
    if job.spacing > job.length:
        table.fail("spacing", str(job.spacing), f"longer than the taper of {job.length}")
    if job.by_compound:
        return
    if job.holding.how != "between centres":
        fields.fail(
            "holding.how",
            repr(job.holding.how),
            "the tailstock is set over for work between centres",
        )
    half = magnitude(job.taper.half_angle, "degree")
    if half > STEEPEST_SET_OVER:
        table.fail("method", "'tailstock'", f"too steep at {half:.2f} degrees: use the compound")
    if job.total is not None and job.m(job.total) < job.length:
        fields.fail("work.total_length", str(job.total), "shorter than the taper")

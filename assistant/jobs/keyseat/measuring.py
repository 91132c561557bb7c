"""What is measured at a keyseat, and what is said around it."""

from __future__ import annotations

from assistant.jobs import checks, mill
from assistant.jobs.keyseat.depths import Depths
from assistant.jobs.keyseat.job import cutter_width
from assistant.jobs.keyseat.setup import places
from assistant.jobs.lands import together
from assistant.jobs.steps import Measure, Note
from assistant.spoken import Figure, Term
from assistant.units import quantity


def look_at_the_mark(depths: Depths) -> Measure:
    return Measure(
        id=depths.id("look-at-mark"),
        title="Look at the mark",
        spindle="off",
        spindle_words="Spindle off.",
        say=("Look at the mark. Is it even, end to end?",),
        cautions=checks.MEASURE_CAUTIONS,
        fact=depths.fact("mark"),
        gauge="by eye",
        kind="even",
        optional=True,
    )


def walls(depths: Depths) -> Measure:
    seat = depths.seat
    land = (seat.shaft - seat.width.nominal) / 2
    slack = quantity(mill.SLACK[depths.unit], depths.unit)
    shaft, cutter = (depths.in_job_unit(size) for size in
                     (seat.shaft, cutter_width(depths.job, depths.facts)))  # fmt: skip
    least, most = together(shaft, cutter, depths.unit)
    return Measure(
        id="measure-walls",
        title="Both walls to the sides of the shaft",
        spindle="off",
        spindle_words="Spindle off.",
        say=("Measure both walls: front and back, to the side of the shaft.",),
        cautions=checks.MEASURE_CAUTIONS,
        fact="walls",
        gauge="caliper",
        kind="walls",
        figure=Figure(
            land,
            "wall to side of shaft",
            places(depths.unit),
            (Term("half the shaft", seat.shaft / 2), Term("half the seat", seat.width.nominal / 2,
                                                          -1)),
            source="geometry",
        ),
        nominal=land,
        band_low=land - slack,
        band_high=land + slack,
        sum_low=least,
        sum_high=most,
        optional=True,
    )  # fmt: skip


def measure_size(depths: Depths, fact: str, before_finishing: bool) -> Measure:
    figure = depths.size_figure
    low, high = depths.limits
    unit = depths.unit
    slack = quantity("0.030" if unit == "inch" else "0.8", unit)
    name = figure.what
    lead = "Before the finishing cut, measure" if before_finishing else "Measure"
    say = f"{lead} {name}."
    foreseen = high
    if before_finishing:
        foreseen = depths.size_of(depths.full - depths.finishing_cut)
    return Measure(
        id="measure-" + fact.replace(".", "-"),
        title=f"{'Before finishing: ' if before_finishing else ''}{name}",
        spindle_words="Spindle off.",
        say=(say,),
        cautions=checks.MEASURE_CAUTIONS,
        fact=fact,
        gauge="micrometer",
        figure=figure,
        # "two over" is over the limit, before the finishing cut too
        nominal=high,
        low=low,
        high=high,
        band_low=low - slack,
        band_high=max(foreseen, high) + slack,
        at_axis=depths.axis.name,
        resolution=quantity("0.001" if unit == "inch" else "0.01", unit),
    )


def something_springs(depths: Depths) -> Note:
    return Note(
        id=depths.id("something-springs"),
        title="Still over after several finishing cuts",
        say=("Still over after several cuts. Something springs or slips. Look before you go on.",),
    )


def deburr() -> Note:
    """The end of the work."""
    return Note(
        id="deburr",
        title="Deburr, try the key",
        say=("Deburr both edges, and try the key.",),
        cautions=("Edges are sharp. Brush, never fingers.",),
    )

"""What is measured at a keyseat, and what is said around it."""

from __future__ import annotations

from assistant.jobs.common import checks
from assistant.jobs.milling import mill
from assistant.jobs.milling.lands import together
from assistant.jobs.operations.keyseat.depths import SeatWork
from assistant.jobs.operations.keyseat.job import cutter_width
from assistant.jobs.operations.keyseat.setup import places
from assistant.jobs.steps import Measure, Note
from assistant.spoken import Figure, Term
from assistant.units import magnitude, quantity


def walls(work: SeatWork) -> Measure:
    seat = work.seat
    land = (seat.shaft - seat.width.nominal) / 2
    slack = quantity(mill.SLACK[work.unit], work.unit)
    shaft, cutter = (magnitude(size, work.unit) for size in
                     (seat.shaft, cutter_width(work.job, work.facts)))  # fmt: skip
    least, most = together(shaft, cutter, work.unit)
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
            places(work.unit),
            (Term("half the shaft", seat.shaft / 2), Term("half the seat", seat.width.nominal / 2,
                                                          -1)),
            source="geometry",
        ),
        nominal=land,
        band_low=land - slack,
        band_high=land + slack,
        sum_low=least,
        sum_high=most,
        at_axis=work.axis.name,
        optional=True,
    )  # fmt: skip


def deburr() -> Note:
    """The end of the work."""
    return Note(
        id="deburr",
        title="Deburr, try the key",
        say=("Deburr both edges, and try the key.",),
        cautions=("Edges are sharp. Brush, never fingers.",),
    )

"""How the work is held for each side, and how the cutter is brought beside it."""

from __future__ import annotations

from decimal import Decimal

from assistant.calc.dial import settle
from assistant.calc.exact import at_least
from assistant.jobs.milling import mill
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.operations.sides.job import SIZE_OF, SidesJob
from assistant.jobs.operations.sides.side import Side
from assistant.jobs.steps import Facts, Ground, Move, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term

CLEAR = {"inch": Decimal("0.100"), "mm": Decimal("2.5")}
"""Room between cutter and jaws when the last cut is made: common practice, no source."""
OUT_STEP = {"inch": Decimal("0.05"), "mm": Decimal(1)}
"""How finely it is told how far the work stands out: it is set with a rule."""
TURNING = ("Spindle stopped and isolated while you turn the work.",)


def stands_out(job: SidesJob, size: str) -> Figure:
    """How far the work has to stand out, so that the jaws are never met: what comes off that side
    at the most, and room for the cutter."""
    off = job.stock[size] - job.sizes[size].low
    step = OUT_STEP[job.unit]
    out = at_least(off + CLEAR[job.unit], step) * step
    return Figure(
        job.q(out), "out past what holds it, at least", 2 if job.unit == "inch" else 0,
        (Term("comes off", job.q(off)), Term("room for the cutter", job.q(CLEAR[job.unit]))),
        "what comes off + room for the cutter", "common practice, no source",
    )  # fmt: skip


def hold(job: SidesJob, number: int, side: Side) -> list[Step]:
    """Held for the side of that number: in one setting for all, turned round for each."""
    if number > 1 and not job.turned:
        return []
    line_up = "Line it up with the table, by an indicator along one side."
    figure: Figure | None = None
    if job.turned:
        what = "end" if side.axis == "table" else "side"
        # how it lies, not what is done: told anew when it moved, nobody must turn it once more
        over = f"The {'other' if number > 1 else 'first'} {what} over the edge."
        say = (over, "Square to the table? Burrs off. Tight?")
        if job.height is None:
            figure = stands_out(job, SIZE_OF[side.axis])
    elif job.height is not None:
        say = ("Held low: jaws and clamps below the cut?", line_up)
    elif job.milled == "ends":
        say = ("Both ends over the edges.", line_up)
        figure = stands_out(job, "length")
    else:
        say = ("Clamps and packing inside all that is cut?", line_up)
    return [
        Note(
            id=f"side-{number}-hold",
            title="Hold it" if number == 1 else "Turn it round",
            spindle="off",
            say=say,
            figure=figure,
            cautions=TURNING if job.turned else (),
            rests=(Ground.WORK,),
            anew=(Ground.WORK,) if number > 1 else (),
        )
    ]


def lower(job: SidesJob, machine: Machine, facts: Facts, number: int, side: Side) -> list[Step]:
    """The cutter beside the work, as deep as the sides go, after each holding."""
    if number > 1 and not job.turned:
        return []
    axis = machine.axis(job.depth_axis)
    name, way = f"side-{number}", f"{axis.name.capitalize()} {axis.way(1)}"
    off = f"Run the {side.away} till the cutter's off the {side.called}."
    if job.height is None:
        down = (f"{way}, till its end is past the bottom edge.",
                "Clear of jaws and packing? Lock it.")  # fmt: skip
        if number > 1:
            down = ("Its end still past the bottom edge?", "Clear of jaws and packing?")
        return [
            Move(
                id=f"{name}-lower",
                title="Cutter past the bottom edge",
                say=(off, *down),
                axis=axis.name,
                target=None,
                done_words="clear",
            )
        ]  # fmt: skip
    steps = touch_top(
        machine, axis.name, 1, job.paper, facts,
        surface="the top of the work", name=f"{name}-top",
        say=("Cutter over the work.", f"Touch the top: {way.lower()}, gently."),
    )  # fmt: skip
    target = settle(job.q(job.height), axis.graduation, halves=False)
    return [
        *steps,
        Move(
            id=f"{name}-height",
            title="Cutter down to the height of the sides",
            spindle="off",
            # in the words of the move itself: told anew after trouble, the cutter is over the work
            say=(off,),
            after=("Lock it. Clear of jaws and clamps there?",),
            axis=axis.name,
            target=target,
            approach=1,
            limit=target,
            terms_of=Figure(job.q(job.height), "height of the sides", mill.places(job.unit),
                            (Term("height", job.q(job.height)),), source="the drawing"),
        ),
    ]  # fmt: skip

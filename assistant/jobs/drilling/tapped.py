"""A tapped hole as a job file has it: drill by percentage of thread, sunk, and tapped by hand."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from assistant.calc.drilling import countersink_depth
from assistant.calc.drills import INCH_KINDS, KINDS
from assistant.calc.tapping import BASES, TAPS, TapDrill, TapTurns, metric_tap_drill, tap_turns
from assistant.calc.tapping import percent_of_thread as percent_left
from assistant.calc.tapping import tap_drill as choose_drill
from assistant.calc.thread_series import Thread, find_thread
from assistant.errors import BadFile, BadInput
from assistant.fields import Fields
from assistant.jobs.drilling.hole import ToolWork, places, point_figure
from assistant.jobs.drilling.hole_depth import DepthCheck
from assistant.jobs.drilling.hole_steps import tool_stage
from assistant.jobs.drilling.hole_tools import (
    POINT,
    HoleTool,
    drill_words,
    feed_of,
    read_drill,
    section,
    speed_note,
    speed_of,
)
from assistant.jobs.drilling.quill import Quill, read_depth_by
from assistant.jobs.drilling.stage import Stage
from assistant.jobs.steps import Answer, Check, Cut, Facts, Note, Overrun, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

SETS = {"inch": INCH_KINDS, "metric": ("metric",), "all": KINDS}
SINK_OVER = Decimal("1.05")
"""Of the thread's diameter: how wide the mouth is sunk, so that no burr is thrown up (common
practice, no source)."""
EASY = Decimal(75)
"""Percent of thread over which a tap turns hard for little strength: common practice, no source."""


@dataclass(frozen=True, eq=False)
class Tapped:
    """One tapped hole. Compared by identity: made once, when the job is read."""

    unit: str
    thread: Thread
    tap: str
    basis: str
    chosen: TapDrill
    turns: TapTurns
    full_thread: Quantity
    """Depth of full thread; through, the thickness."""
    through: bool
    drill: ToolWork
    spot: ToolWork
    sink: ToolWork
    depth_by: str

    @property
    def tools(self) -> tuple[ToolWork, ...]:
        """What goes into the hole before the tap."""
        return self.spot, self.drill, self.sink

    @property
    def percent(self) -> Decimal:
        """Percent of thread that the drill leaves, on the basis named."""
        return self.chosen.percent_classic if self.basis == "classic" else self.chosen.percent_b11


def read_tapped(given: Fields, unit: str, material: str, ways: tuple[str, ...]) -> Tapped:
    """The `[thread]` table, taken whole; `ways` are those by which its depth can be kept. Every
    error is a `BadFile` that names file, key and value."""
    basis = given.choice("basis", tuple(BASES), "classic")
    tap = given.choice("tap", tuple(TAPS), "plug")
    through = "through" in given.table
    full = given.length("through" if through else "depth", unit)
    point = quantity(given.number("point", 60, 150, POINT), "degree")
    depth_by = read_depth_by(given, ways)
    try:
        thread = find_thread(given.text("thread", "wanted a thread such as 1/4-20 or M8"))
        chosen = _chosen(given, thread, basis, unit)
        turns = tap_turns(full, thread.pitch, tap, not through)
    except BadFile:
        raise
    except BadInput as bad:
        given.fail(bad.field, str(bad.value), bad.want)
    given.done()
    drill = HoleTool("drill", drill_words(chosen.drill), chosen.dia, "drilling", material)
    deep = point_figure(turns.hole_depth, chosen.dia, point, through, unit)
    mouth = thread.major * SINK_OVER
    sink_depth = quantity(
        magnitude(countersink_depth(mouth, chosen.dia, quantity(90, "degree")), unit), unit
    )
    return Tapped(
        unit=unit,
        thread=thread,
        tap=tap,
        basis=basis,
        chosen=chosen,
        turns=turns,
        full_thread=full,
        through=through,
        drill=ToolWork(drill, deep, through),
        spot=ToolWork(
            HoleTool("spot", "centre drill", chosen.dia / 2, "spotting", material),
            Figure(full * 0, "spotted", places(unit)),
        ),
        sink=ToolWork(
            HoleTool("sink", "countersink", mouth, "countersinking", material),
            Figure(sink_depth, "from the touch", places(unit),
                   (Term("mouth", mouth, 0), Term("hole", chosen.dia, 0)),
                   "(mouth - hole) / 2 / tan 45", "geometry"),
        ),
        depth_by=depth_by,
    )  # fmt: skip


def _chosen(given: Fields, thread: Thread, basis: str, unit: str) -> TapDrill:
    """The drill of the job file, or the one for the percentage."""
    if "drill" in given.table:
        words, dia = read_drill(given, "drill", unit)
        name = str(given.table["drill"])
        return TapDrill(
            drill=name if words != "drill" else f"{magnitude(dia, unit):f}",
            dia=dia,
            hole=dia,
            percent_classic=percent_left(thread.major, thread.pitch, dia),
            percent_b11=percent_left(thread.major, thread.pitch, dia, "B1.1"),
        )
    sets = given.choice("drills", tuple(SETS), "metric" if thread.metric else "inch")
    if "percent" not in given.table and thread.metric and sets == "metric":
        return metric_tap_drill(thread.major, thread.pitch)
    percent = given.number("percent", 30, 100, Decimal(75))
    return choose_drill(thread.major, thread.pitch, percent, basis, SETS[sets])


@dataclass(frozen=True)
class ByHand:
    """How a tap is started true and turned by hand."""

    turned: str
    """Said with the spindle isolated: what is turned."""
    start: tuple[str, ...]
    """Said of the tap, after its name."""
    cautions: tuple[str, ...] = ()


UNDER_THE_SPINDLE = ByHand(
    "The tap is turned by hand.",
    ("in the chuck, to start it true.", "Tapping oil on. Let the quill follow it."),
)


def thread_stages(quill: Quill, job: Tapped, by_hand: ByHand, facts: Facts) -> list[Stage]:
    """Spotted, drilled, measured where it is blind, sunk, and tapped by hand."""
    stages: list[Stage] = []
    for one in job.tools:
        main = one is job.drill
        fit: list[Step] = [speed_note(one.tool, quill.machine, job.unit, facts, main=main)]
        look: list[Step] = []
        if main:
            fit.append(_which_drill(job))
        if main and not job.through:
            plus = job.thread.pitch
            look = DepthCheck(quill, one, job.turns.hole_depth, plus).steps(facts)
        stages.append(tool_stage(quill, one, bool(stages), facts, fit, look, main=main))
    return [*stages, _tapping(job, quill.name, by_hand)]


def tapped_answers(job: Tapped) -> tuple[tuple[str, Answer], ...]:
    """The questions that a tapped hole answers."""
    return (("tap_turns", _turns_figure(job)), ("which_drill", _drill_answer(job)))


def tapped_sources(job: Tapped) -> tuple[str, ...]:
    """Where its numbers are from."""
    return tuple(dict.fromkeys((job.thread.source, "common practice")))


def tapped_drawing(job: Tapped) -> tuple[tuple[str, Quantity], ...]:
    """Its sizes for the drawing."""
    return (
        *section((one.tool, one.depth) for one in job.tools),
        ("thickness" if job.through else "full_diameter", job.turns.hole_depth),
        ("thread_across", job.thread.major),
        ("thread_deep", job.full_thread),
        ("pitch", job.thread.pitch),
    )


def _drill_answer(job: Tapped) -> str:
    words = job.drill.tool.words
    return f"{words[:1].upper()}{words[1:]}, {job.percent:.0f} percent of thread."


def _basis_words(job: Tapped) -> str:
    return "three quarters H" if job.basis == "classic" else "five eighths H"


def _which_drill(job: Tapped) -> Note:
    after = [f"{job.percent:.0f} percent of thread, on the {_basis_words(job)} basis."]
    if job.percent > EASY + 5:
        after.append("That taps hard. A size larger loses little strength.")
    return Note(
        id="tap-drill",
        title=f"Tap drill for {job.thread.name}",
        say=(f"Is it the {job.drill.tool.words}? Measure it.",),
        after=tuple(after),
        figure=Figure(
            quantity(magnitude(job.chosen.dia, job.unit), job.unit),
            "tap drill",
            places(job.unit),
            (Term("thread", job.thread.major, 0), Term("pitch", job.thread.pitch, 0),
             Term("exact hole", job.chosen.hole, 0)),
            "thread - percent x full thread x pitch, and the drill nearest to it",
            f"percent of {_basis_words(job)} a side; {job.thread.source}",
        ),
    )  # fmt: skip


def _turns_figure(job: Tapped) -> Figure:
    """Turns from where it bites, up to the next quarter: the last of the thread must be full."""
    quarters = (job.turns.turns * 4).quantize(Decimal("0.000001"))
    quarters = quarters.to_integral_value(rounding=ROUND_CEILING)
    return Figure(
        quantity(quarters / 4, "turn"),
        "of the tap, from where it bites",
        2,
        (Term("full thread", job.full_thread, 0), Term("pitch", job.thread.pitch, 0),
         Term("chamfer, threads", quantity(TAPS[job.tap], "dimensionless"), 0)),
        "full thread / pitch + threads of the chamfer",
        "common practice; chamfers of ASME B94.9, from memory",
    )  # fmt: skip


def _tapping(job: Tapped, axis: str, by_hand: ByHand) -> Stage:
    """By hand, started true in the machine: spindle off, and never under power here."""
    nothing = quantity(0, job.unit)
    say = ["Back half a turn for each turn, to break the chip."]
    if not job.through:
        say.append("Blind: out often for the chips, and stop before the bottom.")
    name = job.tap.capitalize()
    fit = (
        Check(
            id="check-tap",
            title="Spindle isolated",
            spindle="off",
            spindle_words="Spindle off and isolated?",
            say=(by_hand.turned,),
            cautions=("A tap that binds breaks: back it out, never force it.", *by_hand.cautions),
        ),
        Note(
            id="tap-start",
            title=f"{name} tap, {job.thread.name}",
            say=(f"{name} tap {by_hand.start[0]}", *by_hand.start[1:]),
        ),
    )
    look = Note(id="try-gauge", title="Try the thread",
                say=("Chips out by brush. Try the gauge, or the screw itself.",))  # fmt: skip
    return Stage(
        "tap", f"{job.tap} tap", fit, (),
        (Cut(
            id="tap",
            title=f"Tap {job.thread.name}",
            spindle="off",
            say=tuple(say),
            overrun=Overrun.NONE, number=1,
            of=1,
            depth=nothing,
            taken=nothing,
            kind="tapping",
            figure=_turns_figure(job),
            feed_axis=axis,
        ),),
        (look,), each=("Start it true, oil on.", *(() if job.through else ("Out often.",))),
    )  # fmt: skip


def tapped_results(job: Tapped, machine: Machine, facts: Facts) -> tuple[tuple[str, Figure], ...]:
    """The drill, its speed and depth, and the turns of the tap."""
    unit = job.unit
    percent = quantity(job.percent, "dimensionless")
    return (
        ("speed", speed_of(job.drill.tool, machine, unit, facts)),
        ("feed", feed_of(job.drill.tool, unit)),
        ("tap drill", _which_drill(job).figure or job.drill.depth),
        ("percent of thread", Figure(percent, f"percent of thread, of {_basis_words(job)}", 0)),
        ("drill depth", job.drill.depth),
        ("turns of the tap", _turns_figure(job)),
    )

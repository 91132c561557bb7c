"""Before the first cut of a thread: checks, wires and blank measured, the touch, picking up."""

from __future__ import annotations

from decimal import Decimal

from assistant.calc.thread_dial import DialRule
from assistant.jobs.common.checks import MEASURE_CAUTIONS
from assistant.jobs.common.off_size import Expected
from assistant.jobs.lathe.setup import CROSS, TOUCH_CAUTIONS, dial_check
from assistant.jobs.operations.thread.job import ThreadJob
from assistant.jobs.steps import Check, Measure, Move, Note, Step, Touch
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.units import Unit, magnitude, quantity


def checks(job: ThreadJob, machine: Machine, rule: DialRule) -> list[Step]:
    tpi = job.thread.tpi
    pitch = (
        f"{job.thread.pitch.to('mm').magnitude.normalize():f} millimetre pitch"
        if tpi is None
        else f"{tpi:f} threads an inch"
    )
    gears = Check(
        id="check-gears",
        title=f"Gears set for {job.thread.name}",
        say=(f"Gears set for {pitch}, spindle stopped?",),
        after=_transposing(job, machine),
    )
    found: list[Step] = [gears]
    say: tuple[str, ...]
    if rule.open_half_nut:
        say = ("Half nut free? Tool out first, at the end, every time.",)
    else:
        say = ("The half nut stays closed for this pitch: reverse to come back.",
               "Screwed-on chuck? It can unscrew in reverse. Go easy.")  # fmt: skip
    found.append(Check(id="check-half-nut", title="Half nut", say=say))
    found.append(
        Check(id="check-relief", title="End of the thread",
              say=("A groove or a mark where the thread ends? Mind the shoulder.",))
    )  # fmt: skip
    if job.by_compound:
        found.append(_compound(job, machine))
    else:
        found.append(dial_check(machine))
    return found


def _transposing(job: ThreadJob, machine: Machine) -> tuple[str, ...]:
    metric_screw = machine.lead_screw is not None and "meter" in str(machine.lead_screw.units)
    if metric_screw == job.thread.metric:
        return ()
    return ("Not the lead screw's own system: transposing gears in?",)


def _compound(job: ThreadJob, machine: Machine) -> Check:
    """Which angle it stands at, and what its scale reads there."""
    square = magnitude(job.set_over, "degree")
    reads = square if machine.compound_zero == "square" else 90 - square
    say = ["Compound set over from square to the axis. On its scale:"]
    if job.inner:
        say.insert(0, "For a bore the compound feeds out.")
    return Check(
        id="check-compound",
        title="Compound set over",
        say=tuple(say),
        figure=Figure(
            quantity(reads, "degree"), "the compound reads", 1,
            (Term("from square to the axis", job.set_over, 0),),
            f"this scale reads 0 {'square to' if machine.compound_zero == 'square' else 'along'} "
            "the axis",
            "common practice",
        ),
        after=("Slack taken up the way it feeds?",),
    )  # fmt: skip


def wires(job: ThreadJob) -> list[Step]:
    slack = job.wire / 5
    return [
        Measure(
            id="measure-wires",
            title="Wires, measured",
            say=("Measure the wires: three alike.",),
            fact="wire.size",
            gauge="micrometer",
            figure=Figure(job.wire, "wire", Unit(job.unit).fine_places,
                          (Term("pitch", job.thread.pitch.to(job.unit), 0),),
                          "best wire: pitch / square root of 3", "Machinery's Handbook"),
            nominal=job.wire,
            band_low=job.wire - slack,
            band_high=job.wire + slack,
            resolution=Unit(job.unit).size("0.0001", "0.001"),
            optional=True,
        )
    ]  # fmt: skip


def blank(job: ThreadJob) -> Measure:
    """What the thread is cut into: the depth is counted from it."""
    _basic, low, high = (size.to(job.unit) for size in job.blank)
    what = "the bore" if job.inner else "the outside"
    slack = Unit(job.unit).size("0.030", "0.8")
    return Measure(
        id="measure-blank",
        title=f"{what.capitalize()}, measured",
        spindle="off",
        spindle_words="Spindle off.",
        say=(f"Measure {what} that the thread goes on."
             if not job.inner else "Measure the bore.",),
        cautions=MEASURE_CAUTIONS,
        fact="blank.size",
        gauge="micrometer" if not job.inner else "bore gauge",
        figure=Figure(high if not job.inner else low, what, Unit(job.unit).fine_places,
                      source=job.thread.source, low=low, high=high),
        nominal=high if not job.inner else low,
        low=low,
        high=high,
        band_low=low - slack,
        band_high=high + slack,
        resolution=Unit(job.unit).size("0.0001", "0.001"),
        grows=job.inner,
        too_far="too big" if job.inner else "too small",
    )  # fmt: skip


def blank_expected(job: ThreadJob) -> Expected:
    """What the thread goes on, by the limits of its class."""
    _basic, low, high = job.blank
    small, large = "The crests come out flat. Other stock, or ask.", "Turn it down first."
    if job.inner:
        small, large = "Bore it out first.", "The thread comes out shallow. Other stock, or ask."
    return Expected(
        "blank.size", "the bore" if job.inner else "the outside", job.m(low), job.m(high),
        Unit(job.unit).fine_places, small, large,
    )  # fmt: skip


def zero_of(axis: Axis) -> str:
    """Where it touched, as it is said: a dial that can't be set reads no zero there."""
    return "its zero" if axis.settable else "its reading at the touch"


def touch(job: ThreadJob, machine: Machine) -> list[Step]:
    """The tool touched to the turning work, and both dials zeroed there."""
    sign = -1 if job.inner else 1
    where = "the bore" if job.inner else "the outside"
    steps: list[Step] = [
        Touch(
            id="touch-work",
            title=f"Touch {where}",
            spindle="on",
            spindle_words="Spindle on, half nut open.",
            say=(f"Cross slide in, gently, till it marks {where}."
                 if not job.inner else "Cross slide out, gently, till it marks the bore.",),
            cautions=TOUCH_CAUTIONS,
            axis=CROSS,
            toward=sign,
            surface=where,
        )
    ]  # fmt: skip
    if job.by_compound:
        steps.append(_zero_compound(sign, where, machine))
    zero = zero_of(machine.axis(CROSS))
    steps.append(
        Move(id="to-start", title="Off the end",
             say=("Clear of the end. Carriage to the start.",) if not job.by_compound
             else (f"Carriage to the start, cross slide at {zero}.",),
             axis="carriage", target=None, done_words="clear")
    )  # fmt: skip
    return steps


def to_zeros(job: ThreadJob, machine: Machine) -> list[Step]:
    """For the next part with the dials as they are: back to where the tool touched the last one."""
    start = Move(
        id="to-start", title="Off the end", say=("Clear of the end. Carriage to the start.",),
        axis="carriage", target=None, done_words="clear",
    )  # fmt: skip
    if not job.by_compound:
        return [start]
    return [
        start,
        Move(
            id="compound-to-zero",
            title="Compound to its zero",
            axis="compound",
            target=job.q(Decimal(0)),
            approach=-1 if job.inner else 1,
            lock=False,
        ),
        Check(
            id="check-level",
            title="Cross slide to its zero",
            say=(f"Cross slide to {zero_of(machine.axis(CROSS))}, by hand.",
                 "Is the point level with the outside? A turn off, it isn't."),
        ),
    ]  # fmt: skip


def _zero_compound(sign: int, where: str, machine: Machine) -> Touch:
    to_zero = " to zero" if machine.axis("compound").settable else ""
    return Touch(
        id="zero-compound",
        title="Zero the compound too",
        say=(f"Don't move it. Now the compound's dial{to_zero} as well.",),
        axis="compound",
        toward=sign,
        surface=where,
    )


def picked_up(job: ThreadJob, machine: Machine) -> list[Step]:
    """The tool back into a thread that was begun, and what is left of it."""
    sign = -1 if job.inner else 1
    low, high = (job.q(job.over_wires(size, job.wire))
                 for size in (job.limits.pitch_min, job.limits.pitch_max))  # fmt: skip
    groove = "the groove"
    steps: list[Step] = [
        Note(id="pick-up", title="Pick the thread up", spindle="off",
             say=("Half nut closed on its line. Turn the spindle forward by hand.",
                  "That takes the slack up. Then leave it standing.")),
        Touch(id="touch-groove", title="Into the groove",
              say=("Work the tool down into the groove with both slides.",
                   "Touching both flanks? Then the cross slide's zero is there."),
              axis=CROSS, toward=sign, surface=groove),
    ]  # fmt: skip
    if job.by_compound:
        steps.append(_zero_compound(sign, groove, machine))
    steps.append(
        Measure(
            id="measure-picked-up",
            title="What is left, over the wires",
            say=("Tool clear. Measure over the wires.",),
            cautions=MEASURE_CAUTIONS,
            fact="pickup.size",
            gauge="micrometer",
            figure=Figure(high, "over the wires", Unit(job.unit).fine_places, low=low, high=high),
            nominal=high + job.q(job.first_cut),
            low=low,
            high=high,
            band_low=low - job.q(job.depth),
            band_high=high + job.q(job.depth * 2),
            at_axis=job.axis_name,
            resolution=Unit(job.unit).size("0.0001", "0.001"),
            too_far="too deep",
        )
    )
    steps.append(
        Move(id="to-start", title="Off the end", say=("Cross slide clear. Carriage to the start.",),
             axis="carriage", target=None, done_words="clear")
    )  # fmt: skip
    return steps

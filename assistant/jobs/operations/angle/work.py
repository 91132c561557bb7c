"""Setting work or a head to an angle: on a sine bar, or tilted and swept with an indicator.

A sine bar is stacked with gauge blocks; what stands on it is then parallel to the table, and an
indicator run along it must not move. A tilted vice, table or head is proved by the rise of an
indicator over a measured run. Either way the last word is the indicator's.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.angles import sine_bar_stack, tilt_angle, tilt_rise
from assistant.errors import BadInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.milling.mill import wanted_machine
from assistant.jobs.operations.tram.work import Sweep
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Measure, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity

BY_SCALE = quantity(2, "degree")
"""How far off a part stands at most that was set by its scale: common practice, no source."""
METHODS = ("sine bar", "tilt")
PARTS = ("vice", "head", "table")
MOST_ROUNDS = 8
STEEP = 45
"""Degrees above which a small error in the stack grows: the complement is set instead."""
LIMIT = {"inch": Decimal("0.0005"), "mm": Decimal("0.01")}
SOURCE = "Handbook of Machining and Metalworking Calculations, ch. 4"
DRAWING = "the drawing"


@dataclass(frozen=True, eq=False)
class AngleJob:
    """What is set to an angle. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    method: str
    part: str
    """What is tilted."""
    angle: Quantity
    bar: Quantity | None
    """The sine bar, between its rolls."""
    run: Quantity
    """Length over which the indicator is run."""
    limit: Quantity
    """How far from true over that run is good enough."""

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit


def read(head: Head, fields: Fields) -> AngleJob:
    """The job from its file."""
    table = fields.table_at("angle")
    method = table.choice("method", METHODS)
    degrees = table.number("degrees", "0.01", "89.99")
    job = AngleJob(
        head=head,
        method=method,
        part=table.choice("part", PARTS, "vice"),
        angle=quantity(degrees, "degree"),
        bar=table.length("bar", head.unit) if method == "sine bar" else None,
        run=table.length("run", head.unit),
        limit=table.length("limit", head.unit, quantity(LIMIT[head.unit], head.unit)),
    )
    table.done()
    if job.bar is not None and degrees > STEEP:
        want = f"over {STEEP} on a sine bar: set {90 - degrees:f} from the other face"
        fields.fail("angle.degrees", f"{degrees:f}", want)
    if job.limit >= job.run / 10:
        fields.fail("angle.limit", str(job.limit), "must be far less than the run")
    try:
        tilt_rise(job.run, job.angle)
    except BadInput as bad:
        fields.fail("angle.degrees", bad.value, bad.want)
    return job


@dataclass(frozen=True)
class _Work:
    job: AngleJob
    facts: Facts

    @cached_property
    def stack(self) -> Figure:
        """Gauge blocks under the bar."""
        job = self.job
        assert job.bar is not None
        terms = (Term("sine bar", job.bar, 0), Term("angle", job.angle, 0))
        return Figure(sine_bar_stack(job.bar, job.angle), "stack", Unit(job.unit).fine_places,
                      terms, "length x sine of the angle", SOURCE)  # fmt: skip

    @cached_property
    def rise(self) -> Figure:
        """How far the indicator rises over the run."""
        job = self.job
        terms = (Term("run", job.run, 0), Term("angle", job.angle, 0))
        return Figure(tilt_rise(job.run, job.angle), "rise over the run", 4, terms,
                      "run x tangent of the angle", "geometry")  # fmt: skip

    def on_sine_bar(self) -> list[Step]:
        """Stack, and prove it: the work's face must run level."""
        job = self.job
        sweep = Sweep(
            job.unit, self.facts, "x", ("at the left", "at the right"), job.run, job.limit,
            Decimal(1), "Something is under it. Wipe blocks, rolls and work.",
        )  # fmt: skip
        return [
            Note(
                id="stack",
                title="Gauge blocks under the sine bar",
                say=("Blocks, bar and plate wiped. Wring the stack.",),
                figure=self.stack,
                after=("Stack under one roll. Work against the bar's stop.",),
            ),
            Check(
                id="check-clamped",
                title="Clamped",
                say=("Clamped hard to an angle plate? The bar only sets it, it holds nothing.",),
            ),
            *sweep.steps(),
        ]

    def tilted(self) -> list[Step]:
        """Set by its scale, proved by the indicator's rise, tapped till it is right."""
        job = self.job
        steps: list[Step] = [
            Note(
                id="scale",
                title=f"Tilt the {job.part}",
                say=(f"Set the {job.part} by its scale: that's only a start.",),
                figure=Figure(job.angle, "tilt", 3, source=DRAWING),
                cautions=("It can drop when it is slackened. Hold it.",),
                after=("Snug it up.",),
            )
        ]
        wanted = self.rise.value
        for round_ in range(1, MOST_ROUNDS + 1):
            fact = f"rise.{round_}"
            steps.append(self._measure(fact))
            told = self.facts.get(fact)
            if not is_quantity(told) or self._good(told):
                break
            if round_ == MOST_ROUNDS:
                words = "Still out. Look for dirt, or a bolt that pulls it round."
                steps.append(Note(id="look", title="Still out", say=(words,)))
                break
            out = magnitude(told, job.unit) - magnitude(wanted, job.unit)
            steps.append(
                Note(
                    id=f"tap-{round_}",
                    title="Tap it over",
                    say=("Too steep. Tap it flatter." if out > 0 else "Too flat. Tap it steeper.",),
                    figure=Figure(
                        quantity(abs(out), job.unit), "off the rise", 4,
                        (Term("measured", told), Term("wanted", wanted, -1),
                         Term("it stands at", tilt_angle(job.run, told), 0)), source="geometry",
                    ),
                    after=("Tighten, and measure again.",),
                )
            )  # fmt: skip
        return steps

    def _good(self, told: Quantity) -> bool:
        job = self.job
        out = magnitude(told, job.unit) - magnitude(self.rise.value, job.unit)
        return abs(out) <= magnitude(job.limit, job.unit)

    def _measure(self, fact: str) -> Measure:
        job = self.job
        wanted, places = self.rise.value, 4
        shown = quantity(round_places(magnitude(wanted, job.unit), places), job.unit)
        # the quill goes along its own tilted line, where the run would be the slope
        say = (
            ("Test bar in the spindle. Indicator on the table, level, against it.",
             "Knee moved by the run, by its dial. How far did the indicator move?")
            if job.part == "head"
            else ("Table moved by the run, by its dial. How far did the indicator rise?",)
        )  # fmt: skip
        return Measure(
            id="measure-" + fact.replace(".", "-"),
            title="Rise over the run",
            say=say,
            fact=fact,
            gauge="indicator",
            figure=self.rise,
            nominal=shown,
            low=shown - job.limit,
            high=shown + job.limit,
            band_low=self._rise_at(job.angle - BY_SCALE),
            band_high=self._rise_at(job.angle + BY_SCALE),
        )

    def _rise_at(self, angle: Quantity) -> Quantity:
        """The rise at another angle, none below the level and no more than at the steepest."""
        steepest = quantity("89.9", "degree")
        return tilt_rise(self.job.run, min(max(angle, angle * 0), steepest))


def plan(job: AngleJob, machine: Machine, facts: Facts) -> Plan:
    """The plan."""
    kinds = ("vertical mill",) if job.part == "head" else ("vertical mill", "horizontal mill")
    wanted_machine(machine, kinds, f"tilting the {job.part}")
    made = _Work(job, facts)
    steps: list[Step] = [*checks.first_checks(machine.kind)]
    steps.append(
        Check(
            id="check-ready",
            title="Ready to set",
            say=("Spindle isolated. Everything wiped, no burrs?",),
        )
    )
    steps += made.on_sine_bar() if job.method == "sine bar" else made.tilted()
    last = "Tilted the head? Tram it before the next job."
    steps.append(
        Note(
            id="set",
            title="Set",
            say=("Tight all round? It has to stay through the cut.",)
            + ((last,) if job.part == "head" else ()),
        )
    )
    results: list[tuple[str, Figure]] = [("rise over the run", made.rise)]
    answers: list[tuple[str, Figure | str]] = []
    if job.bar is not None:
        results.insert(0, ("stack", made.stack))
        answers.append(("what_stack", made.stack))
    return Plan(
        title=job.head.title,
        operation="angle",
        unit=job.unit,
        steps=tuple(steps),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results)),
        answers=tuple(answers),
        drawing=(
            ("angle", job.angle),
            ("run", job.run),
            *((("bar", job.bar),) if job.bar is not None else ()),
        ),
        drawing_kind="angle",
    )

"""Tramming a head or a vice: swept with an indicator, corrected by what it says, swept again.

The indicator is read at both ends; the difference over the sweep is what is out. A head swings
about its middle, so half of the difference is taken out at one end; a vice is held by one bolt
at one end, so the whole of it is taken out at the other. Common practice, no source.

A head that nods turns about a knuckle behind the spindle, and how far behind isn't known: the back
end hardly moves, or moves the other way. It is corrected at the front, by a half at first, and
then by what the last correction really did.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.angles import tilt_angle, tram_correction
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.milling.mill import wanted_machine
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Measure, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, magnitude, quantity

MOST_ROUNDS = 8
LIMIT = {"inch": Decimal("0.0005"), "mm": Decimal("0.01")}
"""Difference over the sweep that is good enough, where the job is silent: common practice."""
BAND = {"inch": Decimal("0.200"), "mm": Decimal(5)}
MOST_SHARE = Decimal("2.5")
"""Of the difference: at the front of a head that nods about a knuckle two sweeps behind."""
COMMON = "common practice, no source"
KINDS = ("head", "vice")


@dataclass(frozen=True, eq=False)
class TramJob:
    """What is trammed. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    kind: str
    sweep: Quantity
    """From one reading to the other: the circle's diameter, or along the jaw."""
    limit: Quantity
    nods: bool
    """Whether the head also tilts front to back."""

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit


def read(head: Head, fields: Fields) -> TramJob:
    """The job from its file."""
    tram = fields.table_at("tram")
    job = TramJob(
        head=head,
        kind=tram.choice("what", KINDS),
        sweep=tram.length("sweep", head.unit),
        limit=tram.length("limit", head.unit, quantity(LIMIT[head.unit], head.unit)),
        nods=tram.flag("nods", False),
    )
    tram.done()
    if job.limit >= job.sweep / 10:
        fields.fail("tram.limit", str(job.limit), "must be far less than the sweep")
    if job.nods and job.kind == "vice":
        fields.fail("tram.nods", "true", "only a head nods")
    return job


@dataclass(frozen=True)
class Sweep:
    """One direction that is swept: both ends read, corrected, and swept again."""

    unit: str
    facts: Facts
    name: str
    """`x` or `y`, before its facts."""
    ends: tuple[str, str]
    sweep: Quantity
    limit: Quantity
    share: Decimal
    """How much of the difference is taken out at the second end: a half, or all."""
    how: str
    """What to do, in a sentence."""
    nods: bool = False
    """About a place behind the far end: corrected at the first end, and learning from it."""

    def difference(self, round_: int) -> Quantity | None:
        """Second end less first; None where it was not told, nothing where it was even."""
        told = self.facts.get(f"{self.name}.{round_}")
        if told in ("even", "skipped"):
            return quantity(0, self.unit)
        first, second = (self.facts.get(f"{self.name}.{round_}.{s}") for s in ("left", "right"))
        if not (is_quantity(first) and is_quantity(second)):
            return None
        return quantity(magnitude(second, self.unit) - magnitude(first, self.unit), self.unit)

    @property
    def last(self) -> Quantity | None:
        """What it was out when it was last swept."""
        found = [self.difference(n) for n in range(1, MOST_ROUNDS + 1)]
        told = [one for one in found if one is not None]
        return told[-1] if told else None

    def steps(self) -> list[Step]:
        """Sweeps and corrections till it is good."""
        steps: list[Step] = []
        for round_ in range(1, MOST_ROUNDS + 1):
            steps.append(self._read(round_))
            out = self.difference(round_)
            if out is None or abs(out) <= self.limit:
                break
            if round_ == MOST_ROUNDS:
                words = "Still out. Look for dirt, a loose bolt, a worn slide."
                steps.append(Note(id=f"{self.name}-look", title="Still out", say=(words,)))
                break
            steps.append(self._correct(round_, out))
        return steps

    def _read(self, round_: int) -> Measure:
        first, second = self.ends
        nothing, most = quantity(0, self.unit), quantity(BAND[self.unit], self.unit)
        say = f"Read the indicator {first}, then {second}. Even? Say so."
        return Measure(
            id=f"sweep-{self.name}-{round_}",
            title=f"Sweep, {first} and {second}",
            say=(say,),
            fact=f"{self.name}.{round_}",
            gauge="indicator",
            kind="walls",
            sides=(f"reading {first}", f"reading {second}"),
            figure=Figure(self.limit, "most between them", 4, source=COMMON),
            band_low=nothing,
            band_high=most,
            optional=True,
        )

    def _share(self, round_: int) -> Decimal:
        """How much of the difference is taken out in that round."""
        share = self.share
        for earlier in range(1, round_ if self.nods else 1):
            was, became = self.difference(earlier), self.difference(earlier + 1)
            if was is None or became is None or not was.magnitude:
                continue
            came_in: Decimal = 1 - (became / was).magnitude
            # a reading is never so good that the next share could be trusted to be anything
            share = min(share / came_in, MOST_SHARE) if came_in > 0 else share
            share = max(share, self.share)
        return share

    def _correct(self, round_: int, out: Quantity) -> Note:
        size = quantity(abs(magnitude(out, self.unit)), self.unit)
        share = self._share(round_)
        higher = (out.magnitude > 0) != self.nods
        figure = Figure(
            size * share, f"{'down' if higher else 'up'} {self.ends[0 if self.nods else 1]}", 4,
            (Term("difference of the readings", size, 0),
             Term("over the sweep", self.sweep, 0),
             Term("angle out", tilt_angle(self.sweep, size), 0)),
            _share_words(share, self.share), COMMON,
        )  # fmt: skip
        return Note(
            id=f"correct-{self.name}-{round_}",
            title="Take it out",
            say=(self.how, "Bring the reading:"),
            figure=figure,
            after=("Tighten. It moves as you tighten: sweep again.",),
        )


def _share_words(share: Decimal, at_first: Decimal) -> str:
    if share != at_first:
        return "the difference, by what the last correction did"
    return "half the difference" if share < 1 else "the difference"


def _sweeps(job: TramJob, facts: Facts) -> list[Sweep]:
    if job.kind == "vice":
        how = "One bolt snug on the left. Tap the right end."
        return [Sweep(job.unit, facts, "x", ("at the left", "at the right"), job.sweep, job.limit,
                      Decimal(1), how)]  # fmt: skip
    how = "Slacken the head till it just moves. Tap it."
    sweeps = [Sweep(job.unit, facts, "x", ("at the left", "at the right"), job.sweep, job.limit,
                    Decimal("0.5"), how)]  # fmt: skip
    if job.nods:
        sweeps.append(
            Sweep(job.unit, facts, "y", ("in front", "at the back"), job.sweep,
                            job.limit, Decimal("0.5"), f"{how} Both ends move.", nods=True)
        )  # fmt: skip
    return sweeps


def plan(job: TramJob, machine: Machine, facts: Facts) -> Plan:
    """The plan."""
    kinds = ("vertical mill",) if job.kind == "head" else ("vertical mill", "horizontal mill")
    wanted_machine(machine, kinds, f"tramming a {job.kind}")
    sweeps = _sweeps(job, facts)
    steps: list[Step] = [*checks.first_checks(machine.kind), *_ready(job)]
    for sweep in sweeps:
        steps += sweep.steps()
    steps.append(
        Note(
            id="done",
            title="Tight, and swept once more",
            say=("All bolts tight? Sweep it once more, and note it.",),
        )
    )
    out = sweeps[0].last or quantity(0, job.unit)
    results = [
        ("most between the readings", Figure(job.limit, "most between the readings", 4,
                                             source=COMMON)),
        ("out over a foot" if job.unit == "inch" else "out over 300",
         Figure(tram_correction(out, job.sweep,
                                quantity(12 if job.unit == "inch" else 300, job.unit)),
                "out over a foot" if job.unit == "inch" else "out over 300 mm", 4,
                (Term("difference", out, 0), Term("sweep", job.sweep, 0)),
                "difference x length / sweep", "geometry")),
    ]  # fmt: skip
    return Plan(
        title=job.head.title,
        operation="tram",
        unit=job.unit,
        steps=tuple(steps),
        results=tuple(results),
        sources=(COMMON,),
        answers=(("how_big", results[1][1]),),
        drawing=(
            ("sweep", job.sweep),
            ("limit", job.limit),
            ("vice", quantity(int(job.kind == "vice"), "dimensionless")),
        ),
        drawing_kind="swept",
    )


def _ready(job: TramJob) -> list[Step]:
    if job.kind == "head":
        say = ("Spindle isolated, in neutral. Table clean, quill up and locked?",)
        indicator = "Indicator on a bar in the spindle. A little pressed, zero at the left."
    else:
        say = ("Spindle isolated. Vice and table wiped, no burrs?",)
        indicator = "Indicator to the fixed jaw, a little pressed. Zero at the left."
    return [
        Check(id="check-ready", title="Ready to sweep", say=say),
        Note(
            id="indicator",
            title="Indicator",
            say=(indicator, "Turn the spindle by hand, over the slots with care.")
            if job.kind == "head"
            else (indicator, "Run the table by hand."),
            cautions=("A head can drop or swing when it is slackened. Hold it.",)
            if job.kind == "head"
            else (),
        ),
    ]

"""A shoulder on a turned diameter, or the floor of a blind bore, cut to its length at the end.

The diameter is roughed and finished short of it. Then the tool is run clear, set along by the
carriage's dial or by the compound along the bed, and fed across to the diameter, until the length
that is measured is in. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import Toward, settle
from assistant.calc.turning import shoulder_stops
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.lathe.diameter import DiameterWork
from assistant.jobs.lathe.setup import CROSS, TOUCH_CAUTIONS, LatheJob, places
from assistant.jobs.steps import Cut, Facts, Move, Note, Step, Touch
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing, Toleranced, toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, magnitude, quantity

USUAL = {"inch": Decimal("0.020"), "mm": Decimal("0.5")}
"""Left on the length until the diameter is in: common practice, no source."""
ROOM = {"inch": (Decimal("0.100"), Decimal("0.020")), "mm": (Decimal("2.5"), Decimal("0.5"))}
"""On the diameter, by which the tool is run clear: of the outside of the stock, into the hole."""
START = {"inch": Decimal("-0.100"), "mm": Decimal("-3")}
"""Where the carriage begins a cut, before the end face."""


@dataclass(frozen=True)
class Shoulder:
    """From the end face to the shoulder or floor."""

    size: Toleranced
    by: str
    """`carriage` or `compound`."""
    left: Decimal
    """Left on it until the diameter is in."""
    inner: bool
    which: str = ""
    """`second`, `third`: where a shaft has several."""

    @property
    def name(self) -> str:
        """In shop words."""
        name = "floor" if self.inner else "shoulder"
        return f"{self.which} {name}" if self.which else name

    @property
    def prefix(self) -> str:
        """Of its facts and steps."""
        return self.name.replace(" ", "-")


def read_shoulder(fields: Fields, unit: str, inner: bool) -> Shoulder | None:
    """The `[shoulder]` or `[floor]` table, where the job has one."""
    key = "floor" if inner else "shoulder"
    if fields.take(key, "", None) is None:
        return None
    table = fields.table_at(key)
    size = toleranced(table, "length", unit)
    found = Shoulder(
        size=size,
        by=table.choice("by", ("carriage", "compound"), "carriage"),
        left=magnitude(table.length("left_on", unit, quantity(USUAL[unit], unit)), unit),
        inner=inner,
    )
    if found.left >= size.low:
        table.fail("left_on", str(found.left), "must be less than the length")
    table.done()
    return found


def stop(job: LatheJob, machine: Machine, shoulder: Shoulder) -> Quantity:
    """Where the carriage stops while the diameter is cut, set short to its dial."""
    (exact,) = shoulder_stops([job.q(shoulder.size.nominal)], job.q(shoulder.left))
    return settle(
        exact, machine.axis("carriage").graduation, Toward.SHALLOWER, halves=False
    )  # fmt: skip


def start(job: LatheJob, machine: Machine) -> Quantity:
    """Where the carriage begins, before the end face: it is run back there, so that it stands
    nearer by the backlash than its dial counts."""
    axis = machine.axis("carriage")
    before = with_slack(-START[job.unit], job.m(axis.backlash))
    return settle(job.q(-before), axis.graduation, Toward.DEEPER, halves=False)


def with_slack(room: Decimal, backlash: Decimal) -> Decimal:
    """Room to be left by a dial that is turned back: as wanted, or more where the backlash would
    else take more than half of it."""
    return max(room, room / 2 + backlash)


def check_dial(job: LatheJob, machine: Machine, shoulder: Shoulder) -> None:
    """Raises `ImpossibleInput` where the dial is too coarse for the limits of the length."""
    axis = machine.axis(shoulder.by)
    band = shoulder.size.high - shoulder.size.low
    if job.m(axis.graduation) > band:
        raise ImpossibleInput(
            f"{shoulder.name} length", f"limits {band.normalize():f} {job.unit} apart",
            f"the {axis.name} dial reads to {job.m(axis.graduation).normalize():f}: "
            "use the compound, or wider limits",
        )  # fmt: skip


def before(job: LatheJob, machine: Machine, shoulder: Shoulder) -> list[Step]:
    """The end face touched, and where the cuts stop."""
    if shoulder.by == "carriage":
        return [
            Touch(
                id="touch-face",
                title="Touch the end face",
                spindle="on",
                say=("Carriage left, gently, till the tool marks the end face.",),
                cautions=TOUCH_CAUTIONS,
                axis="carriage",
                toward=1,
                surface="the end face",
            )
        ]
    where = stop(job, machine, shoulder)
    return [
        Touch(
            id="touch-compound",
            title="Compound along the bed",
            say=(
                "Compound along the bed, proved with an indicator.",
                "Take up its slack going in. Tool just marking the end face.",
            ),
            axis="compound",
            toward=1,
            surface="the end face",
        ),
        Note(
            id="carriage-stop",
            title="Carriage stop",
            say=("Set the carriage stop this far on from there. Try it.",),
            figure=Figure(
                where, f"to the {shoulder.name}, left short", places(job.unit),
                (Term("length", job.q(shoulder.size.nominal)),
                 Term("left on", job.q(shoulder.size.nominal) - where, -1)),
                source="common practice",
            ),
        ),
    ]  # fmt: skip


def finishing(
    job: LatheJob, machine: Machine, facts: Facts, shoulder: Shoulder, work: DiameterWork,
    stock: Decimal,
) -> list[Step]:  # fmt: skip
    """The shoulder or floor cut to its length, from what it measures."""
    unit, size = job.unit, shoulder.size
    begun = job.m(stop(job, machine, shoulder))
    name = shoulder.name
    sizing = Sizing(
        what=f"the length to the {name}" if not shoulder.inner else "the depth to the floor",
        gauge="depth micrometer",
        low=size.low,
        high=size.high,
        at_zero=Decimal(0),
        unit=unit,
        places=Unit(unit).coarse_places,
        too_far="too long" if not shoulder.inner else "too deep",
        advice="Too far. Face the end to save the length, if the drawing lets you.",
        source="the drawing",
    )
    length = DepthWork(
        unit=unit,
        machine=machine,
        facts=facts,
        axis_name=shoulder.by,
        sizing=sizing,
        aim=size.aim((size.high - size.low) / 4),
        limit=shoulder.left,
        # by the compound the roughed shoulder is measured before anything: a stop is set by eye
        finish=shoulder.left if shoulder.by == "compound" else shoulder.left / 2,
        start=begun,
        origin=Decimal(0) if shoulder.by == "carriage" else -begun,
        prefix=shoulder.prefix,
        name=name,
        look="",
        made=f"the {name}",
        full=work.aim,
    )
    stroke = AcrossStroke(work, machine, stock, shoulder)
    return [*stroke.back(shoulder.prefix), *length.steps(stroke)]


@dataclass(frozen=True)
class AcrossStroke:
    """A cut across to the diameter, with the length set while the tool is clear of it."""

    work: DiameterWork
    machine: Machine
    stock: Decimal
    shoulder: Shoulder

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Set it along, lock, feed across to the diameter and no further."""
        way = self.work.axis.way(self.work.sign)
        to = "bore" if self.shoulder.inner else "diameter"
        lock = "Lock the carriage."
        if self.shoulder.by == "compound":
            lock = "Carriage hard on its stop, and locked."
        return [
            replace(move, after=(lock,)),
            replace(
                cut,
                spindle="on",
                spindle_words="Spindle on.",
                say=(f"Feed the cross slide {way} to the {to}, no further.",),
                feed_axis=CROSS,
                feed_target=self.work.finished_at,
                feed_approach=self.work.sign,
                limit=self.work.deepest(self.work.offset),
                pass_limit=quantity(self._across, self.work.unit),
            ),
        ]

    @property
    def _across(self) -> Decimal:
        """From the stock to the diameter, as the dial counts it."""
        return abs(self.work.sizing.size_of(self.work.aim) - self.stock) * self.work.on_dial

    def back(self, name: str) -> list[Step]:
        """Run clear across, by the dial: the length stays set while it is measured."""
        room = ROOM[self.work.unit][1 if self.shoulder.inner else 0]
        on_dial, slack = self.work.on_dial, magnitude(self.work.axis.backlash, self.work.unit)
        clear = self._across + with_slack(room * on_dial, slack)
        target = settle(
            self.work.finished_at - quantity(clear, self.work.unit) * self.work.sign,
            self.work.axis.graduation, halves=False,
        )  # fmt: skip
        return [
            Move(
                id=f"{name}-clear",
                title="Tool clear of the cut",
                say=("Leave the carriage where it is.",) if name != self.shoulder.prefix else (),
                axis=CROSS,
                target=target,
                approach=-self.work.sign,
                lock=False,
            )
        ]

"""A dovetail, male or female, by a dovetail cutter, measured over or between two pins.

The straight slot (or tongue) is milled to depth first, as a job of its own. Then each side is
touched with the cutter on the floor and taken out by its share; the second side comes from the
measurement over the pins.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property, lru_cache

from assistant.calc import angles
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import ACROSS, BlockJob, BlockWork
from assistant.jobs.milling.centring import SideTouch
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, Note, Step
from assistant.jobs.to_size.depth_work import DepthWork, tells_a_depth
from assistant.jobs.to_size.sizing import Sizing, Toleranced, toleranced
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, quantity

DRAWING = "the drawing"
SOURCE = "dovetail slides, from memory of Machinery's Handbook"


@dataclass(frozen=True, eq=False)
class DovetailJob(BlockJob):
    """A dovetail."""

    female: bool
    wide: Toleranced
    """Sharp-cornered width at the wide end."""
    depth: Quantity
    angle: Quantity
    """Of the sides to the base."""
    pin: Quantity


@lru_cache(maxsize=32)
def _dovetail(job: DovetailJob) -> angles.Dovetail:
    """The dovetail of the drawing, at the width that is aimed at."""
    wide = job.q(job.wide.aim(job.aim_inside))
    return angles.dovetail(wide, job.depth, job.angle, job.pin, female=job.female)


def read(head: Head, fields: Fields) -> DovetailJob:
    """The job from its file."""
    table = fields.table_at("dovetail")
    job = DovetailJob(
        **block.common(head, fields, ("dovetail cutter",)),  # type: ignore[arg-type]
        female=table.choice("kind", ("male", "female")) == "female",
        wide=toleranced(table, "wide", head.unit),
        depth=table.length("depth", head.unit),
        angle=quantity(table.number("degrees", 30, 80, Decimal(60)), "degree"),
        pin=table.length("pin", head.unit),
    )
    table.done()
    try:
        found = _dovetail(job)
    except BadInput as bad:
        table.fail(bad.field, bad.value, bad.want)
    if job.cutter.width < job.depth:
        fields.fail("cutter.width", str(job.cutter.width), f"the dovetail is {job.depth} deep")
    if job.female and job.cutter.diameter >= found.narrow:
        fields.fail("cutter.diameter", str(job.cutter.diameter),
                    f"doesn't go into the slot of {job.m(found.narrow):.4f}")  # fmt: skip
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
    job: DovetailJob = field()

    @cached_property
    def found(self) -> angles.Dovetail:
        """Sizes of the dovetail."""
        return _dovetail(self.job)

    @property
    def straight(self) -> Quantity:
        """Width of the straight slot or tongue that is there to begin with."""
        return self.found.narrow if self.job.female else self.found.wide

    @cached_property
    def now(self) -> Decimal:
        """That width as measured."""
        return mill.told(self.job, self.facts, "straight.width", self.straight)

    @cached_property
    def share(self) -> Decimal:
        """What each side is taken out by, from the straight wall at the floor."""
        job = self.job
        end = job.m(self.found.wide if job.female else self.found.narrow)
        share = (end - self.now) / 2 if job.female else (self.now - end) / 2
        mouth = job.m(self.found.narrow) + job.wide.high - job.wide.nominal
        if job.female and self.now > mouth:
            raise ImpossibleInput(
                "straight slot", f"{self.now.normalize():f} {job.unit}",
                f"wider than the dovetail's mouth, {mouth:.4f} at most",
            )  # fmt: skip
        if share <= 0:
            raise ImpossibleInput(
                "straight width", f"{self.now:.4f} {job.unit}",
                f"wanted {job.m(self.straight):.4f}: nothing is left for the sides",
            )  # fmt: skip
        return share

    def _way(self, first: bool) -> int:
        """Travel of the saddle into the first (touched) side or the other: from inside a slot it
        is the other way about."""
        way = self.way if first else -self.way
        return -way if self.job.female else way

    def _uncut(self, first: bool) -> str:
        """Where the metal lies: outside a slot, inside of a tongue."""
        near = self.job.side if first else self.ahead
        far = self.ahead if first else self.job.side
        return near if self.job.female else far

    def _side(self, first: bool) -> SideTouch:
        wall = self.job.side if first else self.ahead
        name = "first" if first else "second"
        return SideTouch(
            self.machine.axis(ACROSS), self._way(first), self.job.unit, self.facts, Decimal(0),
            f"the {wall} wall", name, f"paper.{name}",
        )  # fmt: skip

    def _sizing(self) -> Sizing:
        job, found = self.job, self.found
        measured = job.m(found.over_pins)
        aim = job.wide.aim(job.aim_inside)
        what = "between the pins" if job.female else "over the pins"
        # the other side is cut: this one makes the size, one for one
        zero = measured - self.share if job.female else measured + self.share
        return Sizing(
            what, "micrometer" if not job.female else "inside micrometer",
            measured - (aim - job.wide.low), measured + (job.wide.high - aim), zero, job.unit,
            Decimal(1 if job.female else -1), mill.places(job.unit),
            "too wide" if job.female else "too narrow", "Too far. Ask before you go on.",
            (Term("wide end", job.q(aim), 0), Term("pin", job.pin, 0),
             Term("angle", job.angle, 0)), SOURCE, "Corners clean, pins in both.",
        )  # fmt: skip

    def side_work(self, first: bool) -> DepthWork:
        """One side."""
        job, touch = self.job, self._side(first)
        name = "first" if first else "second"
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=ACROSS,
            sizing=self._sizing(),
            aim=self.share,
            limit=job.m(job.cutter.max_pass),
            finish=Decimal(0) if first else job.wall,
            origin=touch.way * touch.paper,
            sign=touch.way,
            prefix=name,
            name=f"{job.side if first else self.ahead} side",
            full=job.m(job.depth),
            terms=(Term("straight width now", job.q(self.now), 0),),
            formula="half of what the straight walls lack at the floor",
            made="the wall",
        )

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        what = "slot" if job.female else "tongue"
        steps = self.setup(
            Note(
                id="straight-first",
                title=f"Straight {what} first",
                say=(f"The straight {what} is milled to depth before this.",),
                figure=Figure(self.straight, f"straight {what}", 4, source=SOURCE),
            )
        )
        steps.append(
            mill.measure_work(job, "straight.width", f"the straight {what}", self.straight)
        )
        axis = job.depth_axis
        steps += touch_top(
            self.machine, axis, 1, job.paper, self.facts, surface="the floor",
            say=(f"Cutter over the floor. {axis.capitalize()} {self.depth_axis.way(1)}, gently.",),
        )  # fmt: skip
        for first in (True, False):
            wall = job.side if first else self.ahead
            steps.append(self._side(first).touch(f"Cutter on the floor, at the {wall} wall."))
            work, uncut = self.side_work(first), self._uncut(first)
            # touched beside the wall: set there, the cut would go into it sideways
            made: list[Step] = [self.off_the_end(work.prefix, uncut)]
            for step in work.steps(self.stroke(uncut, sideways=True)):
                if not (first and tells_a_depth(step)):
                    made.append(step)
            steps += self.fed_by(uncut, made)
        steps.append(mill.deburr("Break the sharp edges. Try the mating part.", "Spindle off."))
        return steps


def plan(job: DovetailJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the straight part leaves nothing for the sides."""
    mill.wanted_machine(machine, ("vertical mill",), "a dovetail cutter")
    made = _Work(job, machine, facts)
    size = made.side_work(False).sizing.figure
    results: list[tuple[str, Figure]] = [
        (size.what, size),
        ("narrow end", Figure(made.found.narrow, "narrow end", 4, source=SOURCE)),
        ("each side", made.side_work(True).aim_figure),
        ("largest pin", Figure(made.found.largest_pin, "largest pin", 4, source="geometry")),
        *made.spindle_results(),
    ]
    return Plan(
        title=job.head.title,
        operation="dovetail",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(("over_pins", size),),
        depth_axis=job.depth_axis,
        full_depth=job.depth,
        drawing=(("wide", made.found.wide), ("narrow", made.found.narrow), ("depth", job.depth),
                 ("pin", job.pin)),
        drawing_kind="dovetail",
    )  # fmt: skip

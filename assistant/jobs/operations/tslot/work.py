"""A T-slot: the straight slot first, a little short of the floor; then the T and the floor at once.

The T-slot cutter has nowhere to throw its chips and can't be lowered in the slot: it goes right
through, slowly, and runs out of the far end before the knee is touched.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from assistant.calc.exact import in_unit
from assistant.calc.slots import TSlot, t_slot
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import spindle
from assistant.jobs.common.spindle import SpeedAndFeed, speed_and_feed
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import BlockJob, BlockWork
from assistant.jobs.milling.mill import MillCutter
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Ground, Move, Note, Step, Touch
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing, Toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity

SHORT = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""How far the straight slot stays short of the floor: common practice, no source."""


@dataclass(frozen=True, eq=False)
class TSlotJob(BlockJob):
    """A T-slot. `cutter` makes the straight slot."""

    slot: TSlot
    t_cutter: MillCutter
    from_side: Quantity
    """From the touched side to the middle of the slot."""

    @cached_property
    def second(self) -> mill.Milling:
        """The same job with the T-slot cutter, for its speed and feed; one object for good."""
        return mill.Milling(
            self.head, self.t_cutter, self.holding, self.depth_axis, self.witness, self.finish,
            self.aim_inside,
        )  # fmt: skip


def read(head: Head, fields: Fields) -> TSlotJob:
    """The job from its file."""
    unit = head.unit
    table = fields.table_at("tslot")
    try:
        slot = t_slot(table.length("throat", unit))
    except BadInput as bad:
        table.fail("throat", bad.value, bad.want)
    job = TSlotJob(
        **block.common(head, fields, ("end mill",)),  # type: ignore[arg-type]
        slot=slot,
        t_cutter=mill.read_cutter(fields.table_at("t_cutter"), unit, ("t-slot cutter",)),
        from_side=table.length("from_side", unit),
    )
    table.done()
    if abs(job.m(job.cutter.width) - in_unit(slot.throat, unit)) > SHORT[unit]:
        fields.fail("cutter.diameter", str(job.cutter.diameter), f"the throat is {slot.throat}")
    tee = job.t_cutter
    for name, size, (low, high) in (
        ("diameter", tee.diameter, slot.head_width),
        ("width", tee.width, slot.head_height),
    ):
        if not in_unit(low, unit) <= job.m(size) <= in_unit(high, unit):
            fields.fail(f"t_cutter.{name}", str(size), f"wanted {low} to {high} for this throat")
    if tee.body is not None and job.m(tee.body) >= in_unit(slot.throat, unit):
        fields.fail("t_cutter.body", str(tee.body), f"the neck must pass the throat, {slot.throat}")
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
    job: TSlotJob = field()

    def _m(self, size: Quantity) -> Decimal:
        return in_unit(size, self.job.unit)

    @cached_property
    def floor(self) -> Toleranced:
        """Depth of the whole slot: the middle of what the standard allows."""
        low, high = (self._m(size) for size in self.job.slot.slot_depth)
        return Toleranced((low + high) / 2, low, high)

    @cached_property
    def straight(self) -> DepthWork:
        """The straight slot, left short of the floor."""
        job, short = self.job, SHORT[self.job.unit]
        aim = self.floor.nominal - short
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                "the depth of the slot", "depth gauge", aim - short / 2, aim + short / 2,
                Decimal(0), job.unit, places=mill.size_places(job.unit), source=job.slot.source,
            ),
            aim=aim,
            limit=job.m(job.cutter.max_pass),
            witness=job.witness,
            gives=mill.GIVES,
            terms=(Term("depth of the T-slot", job.q(self.floor.nominal)),
                   Term("left for the T cutter", job.q(short), -1)),
            formula="depth of the T-slot - what is left for the T cutter",
        )  # fmt: skip

    @cached_property
    def tee(self) -> DepthWork:
        """The T, to the floor, in one."""
        job = self.job
        aim = self.floor.nominal
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                "the depth of the T-slot", "depth gauge", self.floor.low, self.floor.high,
                Decimal(0), job.unit, places=mill.size_places(job.unit), source=job.slot.source,
            ),
            aim=aim,
            limit=aim,
            prefix="tee",
            name="T",
            terms=(Term("middle of the standard's depth", job.q(aim)),),
        )  # fmt: skip

    def tee_speed(self) -> SpeedAndFeed:
        """Of the T-slot cutter."""
        cutting = mill.cutting_of(self.job.second)
        return speed_and_feed(cutting, self.machine, self.job.unit, self.facts)

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        middle = job.m(job.from_side)
        steps = self.setup()
        # the middle stays where it is, whichever cutter is in
        steps += [
            replace(step, by=(Ground.WORK,))
            for step in self.touch_side()
            if isinstance(step, Touch)
        ]
        steps.append(
            self.to_first(middle, Term("side to the middle", job.from_side), title="To the middle")
        )
        steps += self.touch_top()
        steps += self.straight.steps(self.stroke())
        steps += self._change()
        steps += self.touch_top(name="tee")
        for step in self.tee.steps(self.stroke(sideways=True)):
            steps.append(self._through(step))
        steps.append(mill.deburr())
        return steps

    def _change(self) -> list[Step]:
        axis = self.job.depth_axis
        down = self.depth_axis.way(-1)
        speed = [replace(note, id=f"tee-{note.id}") for note in spindle.notes(self.tee_speed())]
        return [
            Note(
                id="change-cutter",
                title="Change to the T-slot cutter",
                say=(
                    f"{axis.capitalize()} {down}, clear. Change to the T-slot cutter.",
                    "Don't touch the saddle: it stands on the middle.",
                ),
                cautions=("Spindle isolated while you change the cutter.",),
                anew=(Ground.TOOL,),
            ),
            Check(
                id="check-neck",
                title="Thin neck",
                say=("Thin neck, go easy.", "Chips have nowhere to go: stop, and brush them out."),
            ),
            *speed,
        ]

    def _through(self, step: Step) -> Step:
        if isinstance(step, Cut):
            return replace(step, say=("Hand feed, slowly. Stop often, and clear the chips.",))
        if isinstance(step, Move) and step.done_words == "clear":
            down = f"{self.job.depth_axis} {self.depth_axis.way(-1)}"
            return replace(
                step,
                title="Out of the far end",
                spindle="",
                spindle_words="",
                say=(f"Run on out of the far end. Never {down} in the slot.",),
            )
        return step


def plan(job: TSlotJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the cutters can't reach."""
    made = _Work(job, machine, facts)
    made.check_reach(made.straight.aim)
    reach = job.t_cutter.reach
    if reach is not None and job.m(reach) <= made.tee.aim:
        raise ImpossibleInput(
            "T-slot cutter", f"{job.m(reach):f} {job.unit} long in the neck",
            f"the slot is {made.tee.aim:.3f} deep: wanted a longer one",
        )  # fmt: skip
    tee = made.tee_speed()
    results: list[tuple[str, Figure]] = [
        ("the depth of the T-slot", made.tee.sizing.figure),
        ("full depth", made.tee.aim_figure),
        ("straight slot", made.straight.aim_figure),
        *made.spindle_results(),
        ("speed, T cutter", tee.speed),
        ("feed, T cutter", tee.feed),
    ]
    width, height = (f"{job.m(s).normalize():f}" for s in (job.t_cutter.diameter,
                                                           job.t_cutter.width))  # fmt: skip
    return Plan(
        title=job.head.title,
        operation="tslot",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(
            ("which_feed", made.which_feed),
            ("what_cutter", f"T cutter {width} across, {height} high."),
        ),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.tee.aim),
        drawing=(
            ("width", job.q(made.cutter)),
            ("depth_full", job.q(made.tee.aim)),
            ("head_width", job.t_cutter.diameter),
            ("head_height", job.t_cutter.width),
        ),
        drawing_kind="slot",
    )

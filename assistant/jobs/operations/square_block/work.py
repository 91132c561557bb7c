"""Squaring a block: six faces in the order in which each is squared from those before it.

A face that is only cleaned up is skimmed till it is; its opposite is then milled to size from
what it measures. A round bar between the moving jaw and the rough side keeps the finished face
flat against the fixed jaw. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.common.off_size import need_metal
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import block, mill
from assistant.jobs.milling.block import BlockJob, BlockWork
from assistant.jobs.milling.clean_up import SKIM, CleanUp
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, Ground, Measure, Note, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing, Toleranced, toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

DRAWING = "the drawing"
DIRECTIONS = ("thickness", "width", "length")


@dataclass(frozen=True, slots=True)
class Face:
    """One face: how it is held, and the size it is milled to."""

    number: int
    set_up: tuple[str, ...]
    size: str = ""
    """The direction that it makes to size; empty where it is only cleaned up."""
    check: str = ""
    """What is tried with a square afterwards."""
    opposite: int = 0
    """The face on the other side, where that was cleaned up before."""


FACES = (
    Face(1, ("The largest face up. Rough side down on parallels.",)),
    Face(2, ("Face one to the fixed jaw. A round bar at the moving jaw.",),
         check="Try face two against face one with a square. No light?"),
    Face(3, ("Face one still to the fixed jaw, face two down.", "Bar in, tap it down."),
         "width", opposite=2),
    Face(4, ("Face one down on parallels, face two to the fixed jaw.",
             "No bar now. Tap it down."), "thickness", opposite=1),
    Face(5, ("An end up. Face one to the fixed jaw, stood upright with a square.",),
         check="Try the end against faces one and two. No light?"),
    Face(6, ("The finished end down, face one to the fixed jaw. Tap it down.",), "length",
         opposite=5),
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class SquareJob(BlockJob):
    """A block to be squared."""

    stock: tuple[Quantity, Quantity, Quantity]
    """Thickness, width, length before."""
    sizes: tuple[Toleranced, Toleranced, Toleranced]
    skim: Decimal

    def direction(self, name: str) -> tuple[Decimal, Toleranced]:
        """Stock and size in a direction."""
        place = DIRECTIONS.index(name)
        return self.m(self.stock[place]), self.sizes[place]


def read(head: Head, fields: Fields) -> SquareJob:
    """The job from its file."""
    unit = head.unit
    base = block.common(head, fields, ("face mill", "end mill"))
    stock, size = fields.table_at("stock"), fields.table_at("block")
    before = [stock.length(name, unit) for name in DIRECTIONS]
    after = [toleranced(size, name, unit) for name in DIRECTIONS]
    job = SquareJob(
        **base,  # type: ignore[arg-type]
        stock=(before[0], before[1], before[2]),
        sizes=(after[0], after[1], after[2]),
        skim=magnitude(fields.length("skim", unit, quantity(SKIM[unit], unit)), unit),
    )
    stock.done()
    size.done()
    for name in DIRECTIONS:
        rough, wanted = job.direction(name)
        if rough <= wanted.high + job.skim:
            fields.fail(f"stock.{name}", f"{rough:f}",
                        f"too little to square it to {wanted.nominal:f}, with a skim")  # fmt: skip
    if job.m(job.cutter.diameter) < job.m(job.stock[1]):
        fields.fail("cutter.diameter", str(job.cutter.diameter),
                    f"a face is {job.stock[1]} wide: wanted a cutter that covers it")  # fmt: skip
    return job


@dataclass(frozen=True)
class _Work(BlockWork):
    def face(self, face: Face) -> list[Step]:
        """One face: held, touched, cut, tried."""
        name = f"face-{face.number}"
        # a size that will stand up in the vice is measured while the block is out of it
        steps = [self._measure_stock(face)] if face.size else []
        steps.append(
            Note(
                id=f"{name}-hold",
                title=f"Face {face.number}: hold it",
                spindle="off",
                say=(f"Face {face.number}.", *face.set_up, "Burrs off. Tight?"),
                cautions=("Spindle stopped and isolated while you turn the work.",),
                rests=(Ground.WORK,),
                anew=(Ground.WORK,),
            )
        )
        steps += self.touch_top(block.COVERED, stays=False, name=name)
        steps += self._to_size(face) if face.size else self._skims(face).steps(self.stroke())
        if face.check:
            steps.append(
                Measure(
                    id=f"{name}-square",
                    title=f"Face {face.number}: square?",
                    spindle="off",
                    spindle_words="Spindle off.",
                    say=("Deburr, and wipe.", face.check),
                    cautions=checks.MEASURE_CAUTIONS,
                    fact=f"{name}.square",
                    gauge="square",
                    kind="even",
                    optional=True,
                )
            )
        answer = (("which_face", f"Face {face.number} of six. {face.set_up[0]}"),)
        return [replace(step, answers=answer) for step in steps]

    def _skims(self, face: Face) -> CleanUp:
        """Skims till it is clean all over."""
        job = self.job
        assert isinstance(job, SquareJob)
        return CleanUp(
            unit=job.unit,
            axis=self.depth_axis,
            facts=self.facts,
            prefix=f"face-{face.number}",
            title=f"Face {face.number}",
            skim=job.skim,
            limit=self._skimmed_at_most(face),
            pass_limit=job.m(job.cutter.max_pass),
        )

    def _skimmed_at_most(self, face: Face) -> Decimal:
        """How deep a face may be skimmed: so that a skim is left for the one opposite."""
        job = self.job
        assert isinstance(job, SquareJob)
        size = face.size or next(one.size for one in FACES if one.opposite == face.number)
        rough, wanted = job.direction(size)
        return rough - wanted.high - job.skim

    def _about_now(self, face: Face) -> Decimal:
        """What is left of the stock once the face opposite is clean, as foreseen: it is measured
        before anything is cut, so that there is always taken to be something left to cut."""
        job = self.job
        assert isinstance(job, SquareJob)
        rough, wanted = job.direction(face.size)
        opposite = next(one for one in FACES if one.number == face.opposite)
        least = min(rough - job.skim, wanted.high + job.skim)
        return max(rough - self._skims(opposite).takes, least)

    def _measure_stock(self, face: Face) -> Step:
        job = self.job
        now = job.q(self._about_now(face))
        made = mill.measure_work(job, f"stock.{face.size}", f"the {face.size} now", now)
        return replace(made, say=("Take the block out.", *made.say))

    def _to_size(self, face: Face) -> list[Step]:
        """From what it measures now to the size on the drawing."""
        job = self.job
        assert isinstance(job, SquareJob)
        _, wanted = job.direction(face.size)
        now = mill.told(job, self.facts, f"stock.{face.size}", job.q(self._about_now(face)))
        aim = now - wanted.aim(job.aim_inside)
        need_metal(face.size, now, now - aim, job.unit)
        work = DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                f"the {face.size}", "micrometer", wanted.low, wanted.high, now, job.unit,
                Decimal(-1), mill.size_places(job.unit), "undersize",
                "Undersize. Ask before you go on.",
                (Term(f"{face.size} on the drawing", job.q(wanted.nominal)),), DRAWING,
            ),
            aim=aim,
            limit=job.m(job.cutter.max_pass),
            finish=job.finish,
            gives=mill.GIVES,
            prefix=f"face-{face.number}",
            name=f"face {face.number}",
            terms=(Term(f"{face.size} now", job.q(now)),
                   Term(f"{face.size} wanted", job.q(now - aim), -1)),
        )  # fmt: skip
        return work.steps(self.stroke())


def plan(job: SquareJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where nothing is left to cut."""
    made = _Work(job, machine, facts)
    made.check_reach(job.skim)
    steps = made.setup()
    for face in FACES:
        steps += made.face(face)
    steps.append(mill.deburr("Deburr all twelve edges.", "Spindle off."))
    results: list[tuple[str, Figure]] = []
    for name, size in zip(DIRECTIONS, job.sizes, strict=True):
        results.append(
            (name, Figure(job.q(size.nominal), name, mill.size_places(job.unit),
                          low=job.q(size.low), high=job.q(size.high), source=DRAWING))
        )  # fmt: skip
    results += made.spindle_results()
    return Plan(
        title=job.head.title,
        operation="square-block",
        unit=job.unit,
        steps=tuple(steps),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(("which_feed", made.which_feed),),
        depth_axis=job.depth_axis,
        drawing=tuple((name, job.q(size.nominal))
                      for name, size in zip(DIRECTIONS, job.sizes, strict=True)),
        drawing_kind="block",
    )  # fmt: skip

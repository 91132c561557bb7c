"""One spur gear by dividing head and involute cutter.

Two spaces are roughed and the tooth between them is measured; the other spaces are roughed at the
same reading. Then all are finished to the depth that the measured tooth asks for, and the first
finished tooth is measured again while there is still something to correct.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache

from assistant.errors import ImpossibleInput
from assistant.jobs.common.facts import Told, as_facts, told
from assistant.jobs.common.next_part import before
from assistant.jobs.milling import mill
from assistant.jobs.milling.centring import SideTouch
from assistant.jobs.milling.dividing import Dividing
from assistant.jobs.milling.strokes import ThroughStroke
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.operations.gear.job import GearJob, blank_expected, read
from assistant.jobs.operations.gear.tooth import SOURCE, tooth_work
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Move, Note, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.legs import Reached
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.units import Quantity, quantity

__all__ = ["plan", "read"]

MOST_ROUNDS = 4


@dataclass(frozen=True)
class _Work:
    job: GearJob
    machine: Machine
    facts: Facts

    @cached_property
    def blank(self) -> Decimal:
        """Outside diameter, as measured."""
        return mill.told(self.job, self.facts, "blank.diameter", self.job.gear.blank)

    @property
    def short(self) -> Decimal:
        """How much smaller in radius the blank is than it should be."""
        return (self.job.m(self.job.gear.blank) - self.blank) / 2

    @cached_property
    def dividing(self) -> Dividing:
        """One tooth at a time."""
        return Dividing(self.machine, self.job.teeth)

    @cached_property
    def vernier(self) -> Figure:
        """Where the depth slide of a gear tooth vernier is set."""
        gear = self.job.gear
        terms = [Term("chordal addendum", gear.chordal_addendum)]
        if self.short:
            terms.append(Term("blank too small, in radius", self.job.q(self.short), -1))
        return Figure(gear.chordal_addendum - self.job.q(self.short), "set the depth slide", 4,
                      tuple(terms), source=SOURCE)  # fmt: skip

    @cached_property
    def work(self) -> DepthWork:
        """The depth, judged by the tooth's thickness."""
        return tooth_work(self.job, self.machine, self.facts, self.blank, self.short)

    @cached_property
    def side(self) -> SideTouch:
        """The side of the blank: the cutter has to stand over its middle."""
        return SideTouch(
            self.machine.axis("saddle"), 1, self.job.unit, self.facts,
            mill.cutter_size(self.job, self.facts) / 2, "the back of the blank",
        )  # fmt: skip

    @cached_property
    def centre_figure(self) -> Figure:
        """Half the blank, half the cutter, paper."""
        half = Term("half the blank", self.job.q(self.blank / 2))
        return self.side.figure(self.blank / 2, half, what="side to centre",
                                places=mill.places(self.job.unit))  # fmt: skip

    @cached_property
    def stroke(self) -> ThroughStroke:
        """Right through the face of the blank."""
        return ThroughStroke(self.machine.axis(self.job.depth_axis), self.machine.axis("table"))

    # -- steps ----------------------------------------------------------------------------------

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        cutter = Check(
            id="check-cutter",
            title=f"Cutter number {job.gear.cutter}",
            say=(f"Cutter number {job.gear.cutter}, its pitch right? Blank tight on its arbor?",),
        )
        steps = mill.setup(job, self.machine, self.facts, what="blank", extra=(cutter,))
        steps.append(mill.measure_work(job, "blank.diameter", "the blank", job.gear.blank))
        steps += blank_expected(job).asked(self.facts, job.unit)
        steps += self.dividing.setup()
        down = f"{job.depth_axis.capitalize()} {self.machine.axis(job.depth_axis).way(-1)}"
        if before(self.facts, "saddle") is None:  # the head stays, and so does its middle
            steps += [
                self.side.touch("Cutter behind the blank, down to its middle."),
                self.side.move("to-centre", "Over the middle of the blank", self.centre_figure,
                               self.blank / 2, "Don't back it off.", f"{down}, clear. Then:"),
            ]  # fmt: skip
        steps += touch_top(
            self.machine, job.depth_axis, 1, job.paper, self.facts,
            surface="the top of the blank",
            say=(f"Now touch the top: {job.depth_axis} "
                 f"{self.machine.axis(job.depth_axis).way(1)}, gently.",),
        )  # fmt: skip
        steps.append(
            Move(id="table-out", title="Table out before the knee comes up",
                 say=("Run the table out till the cutter's off the blank.",), axis="table",
                 target=None, done_words="clear")
        )  # fmt: skip
        steps += _spaces(job, self.machine, told(self.facts, *SPACE_FACTS))
        steps.append(mill.deburr("Count the teeth. Deburr both faces.", "Spindle off."))
        return steps

    def spaces(self) -> tuple[Step, ...]:
        """Every space roughed and finished, without the settings at which the knee stands already:
        space after space is cut at one depth, and nobody wants to be told so two dozen times."""
        kept: list[Step] = []
        stands: Quantity | None = None
        for step in (*self._roughing(), *self._finishing()):
            if isinstance(step, Move) and step.axis == self.job.depth_axis:
                if step.target == stands:
                    continue
                stands = step.target
            kept.append(step)
        return tuple(kept)

    @property
    def _of(self) -> int:
        """Passes of a space, the finishing cut among them."""
        return len(self.work.passes) + bool(self.work.finishing_cut)

    @property
    def _roughed(self) -> list[Reached]:
        """What the tooth measured before any space was finished."""
        return [one for one in self.work.reached if one.cuts < self._of]

    def _roughing(self) -> list[Step]:
        """All spaces, but for the finishing cut; the tooth between the first two is measured."""
        steps: list[Step] = []
        work = self.work
        rough = [one.depth for one in work.passes]
        if not work.finishing_cut:
            return steps
        roughed = self._roughed
        # to one reading: the first measurement is of what they are cut to
        offset = roughed[-1].offset if len(roughed) > 1 else Decimal(0)
        for space in range(1, self.job.teeth + 1):
            if space > 1:
                steps.append(self._index(f"rough-{space}-index", space))
            for number, depth in enumerate(rough, 1):
                before = rough[number - 2] if number > 1 else Decimal(0)
                last = number == len(rough)
                target = work.position(depth, offset)
                steps += self._cut(f"rough-{space}-{number}", space, target,
                                   depth, before, (number, self._of), last)  # fmt: skip
            if space == 2:
                steps += self._measure(1)
        return steps

    def _finishing(self) -> list[Step]:
        """All spaces to the depth that the measured tooth asks for."""
        work, teeth = self.work, self.job.teeth
        steps: list[Step] = []
        roughed = self._roughed
        finished = work.reached[len(roughed) :]
        if roughed and roughed[-1].standing is not Standing.SHORT and not finished:
            return self._past()  # in already, at the reading that all are roughed to
        reached = Decimal(0) if not work.finishing_cut else work.aim - work.finishing_cut
        target = self._target(roughed[-1] if roughed else None)
        number, judged = max(2, len(roughed) + 1), False
        shallow: list[int] = []
        for space in range(1, teeth + 1):
            first = space == 1 and bool(work.finishing_cut)
            if space > 1 or first:
                division = teeth + 1 if first else space
                steps.append(self._index(f"finish-{space}-index", division))
            count = (self._of, self._of)
            steps += self._cut(f"finish-{space}", space, target, work.aim, reached, count, True)
            if judged or space == 1 or len(shallow) + 1 > MOST_ROUNDS:
                continue
            steps += self._measure(number)
            told = finished[number - len(roughed) - 1] if number <= len(work.reached) else None
            if told is None or told.standing is not Standing.SHORT:
                judged = True
                # told again since, in doubt: what is left is cut as the last of them says
                target = target if told is None else self._target(finished[-1])
                continue
            # still fat: deeper from here on, and those before it once more at the end
            target = self._target(told)
            shallow = list(range(1, space))
            steps += self._cut(f"deeper-{space}", space, target, work.aim, reached, count, True)
            number += 1
        for place, space in enumerate(shallow):
            division = teeth + 1 if place == 0 else space
            steps.append(self._index(f"again-{space}-index", division))
            steps += self._cut(f"again-{space}", space, target, work.aim, reached,
                               (self._of, self._of), True)  # fmt: skip
        return [*steps, *self._past()]

    def _past(self) -> list[Step]:
        """What is said where the last tooth came out too thin."""
        if self.work.standing is not Standing.PAST:
            return []
        return [Note(id="too-far", title="Too thin", say=(self.work.sizing.advice,))]

    def _target(self, last: Reached | None) -> Quantity:
        """Where the knee stands for full depth, by a measured tooth."""
        work = self.work
        if last is None:
            return work.position(work.aim)
        if last.standing is not Standing.SHORT:
            return work.position(last.depth, last.offset)
        return work.position(work.finish_from(last), last.offset)

    def _index(self, id_: str, number: int) -> Step:
        return self.dividing.index(number, self.job.teeth, id_)

    def _measure(self, number: int) -> list[Step]:
        note = Note(
            id=f"vernier-{number}",
            title="Gear tooth vernier",
            spindle="off",
            spindle_words="Spindle off.",
            say=("The tooth between the last two spaces.",),
            figure=self.vernier,
        )
        return [note, self.work.measurement(number)]

    def _cut(
        self, name: str, space: int, target: Quantity, depth: Decimal, before: Decimal,
        count: tuple[int, int], last: bool,
    ) -> list[Step]:  # fmt: skip
        job, work = self.job, self.work
        taken = job.q(max(Decimal(0), depth - before))
        number, of = count
        kind = "finishing" if depth == work.aim and work.finishing_cut else "roughing"
        move = Move(
            id=f"{name}-set",
            title=f"Space {space}: set the depth",
            after=("Lock it.",),
            axis=work.axis.name,
            target=target,
            approach=1,
            terms_of=work.aim_figure,
            depth_after=job.q(depth),
            surface=work.surface,
            deeper=1,
            limit=work.deepest(work.offset),
            pass_limit=job.q(work.limit),
        )
        cut = Cut(
            id=f"{name}-cut",
            title=f"Space {space} of {job.teeth}, pass {number} of {of}",
            number=number,
            of=of,
            depth=job.q(depth),
            taken=taken,
            remaining=job.q(max(Decimal(0), work.aim - depth)),
            kind=kind,
            surface=work.surface,
            figure=work.aim_figure,
            alone=space == 1 and kind == "roughing",
        )
        return [*self.stroke.passes(move, cut), *self.stroke.back(name)]


SPACE_FACTS = ("blank.diameter", "pass.", "size.")
"""What the cutting of the spaces depends on."""


@lru_cache(maxsize=16)
def _spaces(job: GearJob, machine: Machine, kept: Told) -> tuple[Step, ...]:
    """Nine tenths of the plan: kept until one of its facts changes."""
    return _Work(job, machine, as_facts(kept)).spaces()


def plan(job: GearJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the plates can't divide so, or the cutter can't reach."""
    mill.wanted_machine(machine, ("horizontal mill",), "a gear cutter")
    made = _Work(job, machine, facts)
    body = job.cutter.body
    if body is not None and (job.cutter.diameter - body) / 2 <= job.q(made.work.aim):
        raise ImpossibleInput("cutter reach", str(body), "the collar would rub: a smaller one")
    gear, setting = job.gear, mill.speed_of(job, machine, facts)
    blank = Figure(gear.blank, "blank", mill.places(job.unit),
                   (Term("pitch diameter", gear.pitch_dia), Term("addendum", gear.addendum * 2)),
                   "pitch diameter + twice the addendum", SOURCE)  # fmt: skip
    results: list[tuple[str, Figure]] = [
        ("the tooth", made.work.sizing.figure),
        ("full depth", made.work.aim_figure),
        ("whole depth", Figure(gear.whole_depth, "whole depth", 4, source=SOURCE)),
        ("blank", blank),
        ("depth slide", made.vernier),
        ("side to centre", made.centre_figure),
        ("index", made.dividing.figure),
        ("speed", setting.speed),
        ("feed", setting.feed),
    ]
    return Plan(
        title=job.head.title,
        operation="gear",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(
            ("what_cutter", f"Cutter number {gear.cutter}, for {gear.cutter_for}."),
            ("what_blank", blank),
        ),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.work.aim),
        drawing=(
            ("teeth", quantity(job.teeth, "dimensionless")),
            ("blank", job.q(made.blank)),
            ("depth_full", job.q(made.work.aim)),
        ),
        drawing_kind="gear",
    )

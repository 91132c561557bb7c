"""The order of the work: find the centre and the place, touch, plunge, try the key, finish."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc import woodruff
from assistant.calc.exact import at_least
from assistant.jobs.common.next_part import before
from assistant.jobs.milling import mill
from assistant.jobs.milling.centring import SideTouch, walls
from assistant.jobs.milling.lands import lands_told, pause_at
from assistant.jobs.milling.strokes import PlungeStroke
from assistant.jobs.milling.touching import HELD_BY, touch_top
from assistant.jobs.operations.woodruff.job import WoodruffJob, expected, seat_of
from assistant.jobs.steps import Check, Facts, Note, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.infeed import NOTHING
from assistant.jobs.to_size.sizing import Sizing, Toleranced
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity

ROOM = {"inch": Decimal("0.250"), "mm": Decimal(6)}
"""Room between cutter and shaft while anything is moved across or measured."""


@dataclass(frozen=True)
class Work:
    """The job on one machine with what was told."""

    job: WoodruffJob
    machine: Machine
    facts: Facts

    @property
    def flat(self) -> bool:
        """Whether the cutter lies flat: on a vertical mill."""
        return self.machine.kind == "vertical mill"

    @cached_property
    def across(self) -> Axis:
        """The axis that finds the centre of the shaft."""
        return self.machine.axis("knee" if self.flat else "saddle")

    @cached_property
    def depth(self) -> Axis:
        """The axis that sinks the cutter."""
        return self.machine.axis("saddle" if self.flat else "knee")

    @property
    def sign(self) -> int:
        """The way of that axis: knee up; saddle out into the front, in into the back."""
        return -1 if self.flat and self.job.side == "front" else 1

    @cached_property
    def seat(self) -> woodruff.WoodruffSeat:
        """With shaft and key as measured."""
        return seat_of(self.job, self.facts)

    @property
    def arc(self) -> Decimal:
        """The depth from which on the cut is as wide as the cutter."""
        return self.job.m(self.seat.chordal_height)

    @property
    def _pause(self) -> Decimal:
        return pause_at(self.arc, self.job.m(self.depth.graduation), self.job.unit)

    @property
    def shaft(self) -> Decimal:
        return mill.told(self.job, self.facts, "shaft.diameter", self.job.shaft)

    @property
    def key_height(self) -> Decimal:
        return mill.told(self.job, self.facts, "key.height", self.job.key.height.nominal)

    @cached_property
    def depths(self) -> Toleranced:
        """From the top of the shaft to the bottom of the seat."""
        given = self.seat.depth_from_top
        return Toleranced(*(self.job.m(size) for size in (given.nominal, given.low, given.high)))

    @cached_property
    def sizing(self) -> Sizing:
        """The key in the seat: over it, or how far it stands above the shaft."""
        over = self.job.measure == "over the key"
        zero = self.key_height + (self.shaft if over else 0)
        key = Term("key", self.job.q(self.key_height))
        top = Term("shaft", self.job.q(self.shaft))
        deep = Term("depth from the top", self.job.q(self.depths.nominal), -1)
        return Sizing(
            what="over the key" if over else "the key above the shaft",
            gauge="micrometer" if over else "depth gauge",
            low=zero - self.depths.high,
            high=zero - self.depths.low,
            at_zero=zero,
            unit=self.job.unit,
            slope=Decimal(-1),
            places=mill.size_places(self.job.unit),
            advice="Too deep: the key will sit low. A taller key, or ask. Don't shim it.",
            terms=(top, key, deep) if over else (key, deep),
            source=self.seat.source,
            how="Chips out, key in and seated.",
        )

    @property
    def lift(self) -> Decimal:
        """Whole turns that take the shaft clear of the cutter."""
        turn = self.job.m(self.depth.per_turn)
        room = self.depths.high + ROOM[self.job.unit] + self.key_height
        return at_least(room, turn) * turn

    @property
    def _light(self) -> Quantity:
        """Whole turns that are enough to look at a mark."""
        turns = mill.whole_turns(self.depth, self.job.q(ROOM[self.job.unit]))
        room: Quantity = self.depth.per_turn * turns
        return room

    @cached_property
    def work(self) -> DepthWork:
        """The plunge: a witness, most of it in one, and the rest from the measurement."""
        aim = self.depths.aim(self.job.aim_inside)
        return DepthWork(
            unit=self.job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=self.depth.name,
            sizing=self.sizing,
            aim=aim,
            limit=aim,
            witness=self.job.witness,
            finish=self.job.finish,
            most_after=self.job.m(self.job.cutter.max_pass),
            pause=NOTHING if self.flat else self._pause,
            gives=mill.GIVES,
            sign=self.sign,
            lift=self.lift,
            terms=(
                Term("chordal height", self.seat.chordal_height),
                Term("depth at the side", self.seat.side_depth.nominal),
                Term("deep of nominal, to be inside", self.job.q(aim - self.depths.nominal)),
            ),
            formula="chordal height + depth at the side wall + aim inside the band",
            look="Is the mark in the middle, and where the seat should be?",
        )

    @cached_property
    def side(self) -> SideTouch:
        """The touch that the centre of the shaft is found from."""
        return SideTouch(
            self.across, 1, self.job.unit, self.facts,
            mill.cutter_size(self.job, self.facts) / 2,
            "the top of the shaft" if self.flat else "the back of the shaft",
        )  # fmt: skip

    @cached_property
    def end(self) -> SideTouch:
        """The touch that the place along the shaft is found from."""
        return SideTouch(
            self.machine.axis("table"), 1, self.job.unit, self.facts,
            self.job.m(self.job.cutter.diameter) / 2, "the right-hand end face", "table",
        )  # fmt: skip

    @property
    def _centre_stays(self) -> bool:
        """Whether the centre line of the part before still holds: V blocks keep it."""
        kept = before(self.facts, self.across.name) is not None
        return kept and self.job.holding == "v-blocks" and not self.flat

    @cached_property
    def centre_figure(self) -> Figure:
        half = self.shaft / 2
        term = Term("half the shaft", self.job.q(half))
        places = mill.places(self.job.unit)
        return self.side.figure(half, term, what="side to centre", places=places)

    @cached_property
    def along_figure(self) -> Figure:
        from_end = self.job.m(self.job.from_end)
        term = Term("end face to the seat", self.job.from_end)
        places = mill.places(self.job.unit)
        return self.end.figure(from_end, term, what="end to the seat", places=places)

    # -- steps --------------------------------------------------------------------------------

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        away = f"{self.depth.name.capitalize()} {self.depth.way(-self.sign)}"
        into = f"{self.depth.name.capitalize()} {self.depth.way(self.sign)}"
        steps = mill.setup(
            job, self.machine, self.facts, what="shaft", hand_axis=self.depth.name,
            direction=False, extra=self._checks(),
        )  # fmt: skip
        for measure, one in zip(
            (mill.measure_work(job, "shaft.diameter", "the shaft", job.shaft),
             mill.measure_work(job, "key.height", "the key's height", job.key.height.nominal)),
            expected(job), strict=True,
        ):  # fmt: skip
            steps += [measure, *one.asked(self.facts, job.unit)]
        if not self._centre_stays:
            steps += [
                self._touch_side(),
                self.side.move("to-centre", "To the centre line", self.centre_figure,
                               self.shaft / 2, "Don't back it off.",
                               f"{away}, clear of the shaft. Then:"),
            ]  # fmt: skip
        steps.append(
            self.end.touch(
                "Cutter off the end, in line with the shaft.",
                "Spindle on. The teeth touch the right-hand end face.",
            )
        )
        steps.append(
            self.end.move("to-seat", "To the seat", self.along_figure, job.m(job.from_end),
                          f"{away}, clear of the shaft. Then:")
        )  # fmt: skip
        steps += touch_top(
            self.machine, self.depth.name, self.sign, job.paper, self.facts,
            surface="the side of the shaft" if self.flat else "the top of the shaft",
            say=(f"Now touch the shaft: {into.lower()}, gently.",),
        )  # fmt: skip
        stroke = PlungeStroke(
            self.depth,
            job.q(self.lift),
            self._light,
            ("Spindle off when it's out.",),
            ("A witness skim first.", f"{into}, gently."),
            (f"Table locked. {into}, by feel. Plenty of oil.",),
        )
        first = next((p for p in self.work.passes if p.depth > self.arc), None)
        for step in self.work.steps(stroke):
            steps.append(step)
            if first is not None and step.id == f"{first.kind}-{first.number}-clear":
                steps += self._walls()
        steps.append(
            Note(
                id="deburr",
                title="Deburr, try the key",
                say=("Deburr the edges. Key in: it should rock in, and sit.",),
                cautions=("Edges are sharp. Brush, never fingers.",),
            )
        )
        return steps

    def _checks(self) -> tuple[Step, ...]:
        return (
            Check(
                id="check-neck",
                title="Thin neck",
                say=("Thin neck on this cutter, go easy.", "Plunge only. Never feed the table."),
            ),
            Check(
                id="check-cutter",
                title=f"Cutter for key {self.job.key.name}",
                say=(f"Cutter marked {self.job.key.name}, and sharp?",),
            ),
        )

    def _touch_side(self) -> Step:
        if self.flat:
            return self.side.touch("Lower face of the cutter over the shaft.")
        return self.side.touch(
            "Cutter behind the shaft, down to its centre line.",
            f"Touch where it stands clear of the {HELD_BY[self.job.holding]}, or against a square.",
        )

    def _walls(self) -> list[Step]:
        """Where both walls can be reached: measured, and the centre corrected."""
        if self.flat:
            return []
        cutter = mill.cutter_size(self.job, self.facts)
        steps: list[Step] = [walls(self.job.unit, self.shaft, cutter, self.depth.name)]
        widest = self.job.m(woodruff.widest_seat(self.job.key))
        lands = lands_told(self.facts, cutter, widest, self.work, self.arc)
        if lands is None or lands.centred:
            return steps
        if not lands.fits:
            return [*steps, lands.refused()]
        if abs(lands.half) * 2 < self.job.m(self.across.graduation):
            return steps  # the dial would stand at the same line
        figure = Figure(
            self.job.q(abs(lands.half)), "off centre", mill.places(self.job.unit),
            (Term("front wall", self.job.q(lands.front)),
             Term("back wall", self.job.q(lands.back), -1)),
            "half the difference of the walls", "common practice",
        )  # fmt: skip
        steps.append(
            self.side.move(
                "correct-centre", "Correct the centre", figure, self.shaft / 2,
                "Off centre. Last chance to save it. Unlock the saddle.",
                moved=lands.half, optional=True, after=lands.told,
            )
        )  # fmt: skip
        return steps

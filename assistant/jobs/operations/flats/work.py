"""Flats on round stock: one, two opposite, a square, a hexagon or more, by dividing head or block.

Two opposite flats are cut to one dial reading and measured across: half of what is left goes on
each. The others are then cut to that reading. An odd number is measured from a flat to the round
opposite.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache

from assistant.calc.polygons import polygon, stock_for
from assistant.jobs.common.facts import Told, as_facts, told
from assistant.jobs.milling import mill
from assistant.jobs.milling.centring import SideTouch
from assistant.jobs.milling.dividing import Dividing
from assistant.jobs.milling.strokes import ThroughStroke
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.operations.flats.job import (
    FlatsJob,
    check_wide_enough,
    depth_of,
    flat_of,
    read,
    stock_expected,
)
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut, Facts, Index, Move, Note, Step
from assistant.jobs.to_size.depth_work import DepthWork, Stroke
from assistant.jobs.to_size.sizing import Sizing
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import quantity

__all__ = ["plan", "read"]

DRAWING = "the drawing"
CLEAR = Decimal("1.5")
"""The cut begins that many cutters before the end."""


class _PairStroke:
    """One pass on two opposite flats, turned half round between them."""

    def __init__(self, work: _Work, stroke: Stroke) -> None:
        self.work, self.stroke, self.turned = work, stroke, 0

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """This flat, half round, the opposite one at the same setting."""
        name = cut.id.removesuffix("-cut")
        title = f"{cut.title}, first flat"
        first = self.stroke.passes(move, replace(cut, title=title, half=True))
        self.turned += 1
        other = replace(cut, id=f"{name}-opposite-cut", title=f"{cut.title}, opposite flat")
        return [
            *first,
            *self.stroke.back(f"{name}-first"),
            self.work.half(f"{name}-half", self.turned),
            *self.stroke.passes(move, other)[1:],
        ]

    def back(self, name: str) -> list[Step]:
        """Clear for the next pass."""
        return self.stroke.back(name)


@dataclass(frozen=True)
class _Work:
    job: FlatsJob
    machine: Machine
    facts: Facts

    @property
    def pair(self) -> bool:
        """Whether flats lie opposite each other."""
        return self.job.sides % 2 == 0

    @cached_property
    def stock(self) -> Decimal:
        """As measured."""
        return mill.told(self.job, self.facts, "stock.diameter", self.job.stock)

    @cached_property
    def dividing(self) -> Dividing:
        """Once round."""
        return Dividing(self.machine, max(2, self.job.sides))

    @cached_property
    def work(self) -> DepthWork:
        """The first flat, or the first pair."""
        job = self.job
        nominal = job.across.aim(job.aim_inside)
        what = "across the flats" if self.pair else "from the flat to the round opposite"
        aim = depth_of(job, self.stock, nominal)
        thing = Term("across the flats" if self.pair else "flat to the round", job.q(nominal), -1)
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                what, "micrometer", job.across.low, job.across.high, self.stock, job.unit,
                Decimal(-2 if self.pair else -1), mill.size_places(job.unit), "undersize",
                "Undersize. Ask before you go on.",
                (Term("size on the drawing", job.q(job.across.nominal)),), DRAWING,
            ),
            aim=aim,
            limit=job.m(job.cutter.max_pass),
            witness=job.witness,
            finish=job.finish,
            gives=mill.GIVES,
            terms=(Term("stock", job.q(self.stock)), thing),
            formula="(stock - across flats) / 2" if self.pair else "stock - flat to the round",
            look="Look at the mark. Even, end to end?",
        )  # fmt: skip

    @cached_property
    def end(self) -> SideTouch:
        """The end face, for the length."""
        return SideTouch(
            self.machine.axis("table"), 1, self.job.unit, self.facts,
            mill.cutter_size(self.job, self.facts) / 2, "the right-hand end face", "table",
        )  # fmt: skip

    @cached_property
    def stroke(self) -> ThroughStroke:
        """In to the length: the cutter's rim ends there."""
        half = self.end.half_cutter
        return ThroughStroke(
            self.machine.axis(self.job.depth_axis), self.machine.axis("table"), 1,
            target=self.end.position(self.job.m(self.job.length) - half),
            begin=self.end.position(-half * 2 * CLEAR),
        )  # fmt: skip

    # -- turning --------------------------------------------------------------------------------

    def half(self, id_: str, times: int) -> Step:
        """Half round, to the opposite flat."""
        if self.job.holding == "block":
            return self._block(id_, "Turn the block right over, to the opposite face.")
        made = Dividing(self.machine, 2).index(2 if times % 2 else 3, 2, id_)
        return self._cranked(made, "Half round, to the opposite flat.", "Half round")

    def next(self, id_: str, number: int, cut: bool) -> Step:
        """On by one flat."""
        words = "On to the next flat." if cut else "On past this one: it's cut."
        if self.job.holding == "block":
            return self._block(id_, f"{words} Turn the block by one face.")
        return self._cranked(self.dividing.index(number, self.job.sides, id_), words, "Next flat")

    def _cranked(self, made: Index, words: str, title: str) -> Index:
        return replace(made, say=(words, *made.say[1:]), title=title)

    def _block(self, id_: str, words: str) -> Step:
        say = (words, "Wipe it, tap it down. Tight?")
        return Note(id=id_, title="Turn the block", say=say)

    # -- steps ----------------------------------------------------------------------------------

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        job = self.job
        steps = mill.setup(job, self.machine, self.facts, what="bar", direction=False)
        steps.append(mill.measure_work(job, "stock.diameter", "the bar", job.stock))
        steps += stock_expected(job).asked(self.facts, job.unit)
        if job.holding == "dividing head":
            if job.sides > 2:
                steps += self.dividing.setup()
            elif job.sides == 2:
                steps += Dividing(self.machine, 2).setup()
        steps.append(
            Note(
                id="over-the-middle",
                title="Cutter over the middle",
                say=("Cutter over the middle of the bar, by eye. Lock the saddle.",),
                figure=Figure(job.q(flat_of(job, self.stock)), "a flat comes out wide", 3,
                              source="geometry"),
            )
        )  # fmt: skip
        steps.append(self.end.touch("Cutter off the end, below the top."))
        steps += touch_top(
            self.machine, job.depth_axis, 1, job.paper, self.facts,
            surface="the top of the bar",
            say=(f"Over the bar. Touch the top: {job.depth_axis} "
                 f"{self.machine.axis(job.depth_axis).way(1)}, gently.",),
        )  # fmt: skip
        steps.append(
            Move(
                id="table-out",
                title="Table out before the depth is set",
                say=("Cutter off the end.",),
                axis="table",
                target=self.stroke.begin,
                approach=1,
                lock=False,
            )
        )
        steps += _flats(job, self.machine, told(self.facts, *FLAT_FACTS))
        steps.append(mill.deburr())
        return steps

    def flats(self) -> tuple[Step, ...]:
        """Every flat: the first one or two measured, the others to their reading."""
        pair = _PairStroke(self, self.stroke)
        first = self.work.steps(pair if self.pair else self.stroke)
        return (*first, *self._others(pair.turned))

    def _others(self, turned: int) -> list[Step]:
        """Every other flat, to the reading at which the first ones came in."""
        job, steps = self.job, list[Step]()
        begin = 1
        if self.pair:
            begin = 1 + (turned % 2) * (job.sides // 2)
        done = {1, 1 + job.sides // 2} if self.pair else {1}
        for step in range(1, job.sides):
            flat = (begin - 1 + step) % job.sides + 1
            if len(done) == job.sides:
                break
            fresh = flat not in done
            steps.append(self.next(f"flat-{flat}-index", begin + step, fresh))
            if fresh:
                done.add(flat)
                steps += self.one_flat(flat)
        return steps

    def one_flat(self, flat: int) -> list[Step]:
        """One more flat, in the same passes, to the same last reading."""
        job, work = self.job, self.work
        depths = [one.depth for one in work.passes if one.kind == "roughing"]
        if work.passes[0].kind == "witness" and depths and depths[0] > work.limit:
            # on the first flats the witness skim had come before it
            depths.insert(0, work.passes[0].depth)
        if work.finishing_cut:
            depths.append(work.aim)
        steps: list[Step] = []
        before = Decimal(0)
        for number, depth in enumerate(depths, 1):
            last = number == len(depths)
            name = f"flat-{flat}-{number}"
            taken = job.q(depth - before)
            move = Move(
                id=f"{name}-set",
                title=f"Flat {flat}: set pass {number}",
                say=("To the reading of the first ones.",) if last and not work.too_deep else (),
                after=("Lock it.",),
                axis=work.axis.name,
                target=work.next_at if last else work.position(depth, work.offset),
                approach=1,
                terms_of=Figure(job.q(depth), "depth", work.sizing.places,
                                (Term("cut so far", job.q(before)), Term("this pass", taken)),
                                source="common practice"),
                depth_after=job.q(depth),
                limit=work.deepest(work.offset),
                deeper=work.sign,
                pass_limit=job.q(work.limit),
            )  # fmt: skip
            cut = Cut(
                id=f"{name}-cut",
                title=f"Flat {flat}: pass {number} of {len(depths)}",
                number=number,
                of=len(depths),
                depth=job.q(depth),
                taken=taken,
                remaining=job.q(work.aim - depth),
                kind="finishing" if last and work.finishing_cut else "roughing",
                figure=work.aim_figure,
            )
            steps += [*self.stroke.passes(move, cut), *self.stroke.back(name)]
            before = depth
        return steps


FLAT_FACTS = ("stock.diameter", "cutter.width", "paper.table", "pass.", "check.", "size.")
"""What the cutting of the flats depends on."""


@lru_cache(maxsize=16)
def _flats(job: FlatsJob, machine: Machine, kept: Told) -> tuple[Step, ...]:
    """Most of the plan: kept until one of its facts changes."""
    return _Work(job, machine, as_facts(kept)).flats()


def plan(job: FlatsJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the plates can't divide so, or no metal is left."""
    mill.wanted_machine(machine, ("vertical mill",), "an end mill")
    made = _Work(job, machine, facts)
    check_wide_enough(job, made.stock)
    results: list[tuple[str, Figure]] = [
        (made.work.sizing.what, made.work.sizing.figure),
        ("full depth", made.work.aim_figure),
        ("flat", Figure(job.q(flat_of(job, made.stock)), "width of a flat", 3, source="geometry")),
    ]
    answers: list[tuple[str, Figure | str]] = []
    if made.pair and job.sides > 2:
        found = polygon(job.sides, job.q(job.across.nominal), job.q(made.stock))
        corners = Figure(found.across_corners, "across the corners", 3, source="geometry")
        blank = Figure(stock_for(job.sides, job.q(job.across.nominal)),
                       "bar for sharp corners", 3, source="geometry")  # fmt: skip
        results += [("across the corners", corners), ("bar for sharp corners", blank)]
        answers += [("how_big", corners), ("what_blank", blank)]
    setting = mill.speed_of(job, machine, facts)
    results += [("speed", setting.speed), ("feed", setting.feed)]
    return Plan(
        title=job.head.title,
        operation="flats",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(*answers, ("how_many_passes", f"{made.work.count} a flat.")),
        depth_axis=job.depth_axis,
        full_depth=job.q(made.work.aim),
        drawing=(
            ("stock", job.q(made.stock)),
            ("sides", quantity(job.sides, "dimensionless")),
            ("across", job.q(job.across.nominal)),
            ("depth_full", job.q(made.work.aim)),
        ),
        drawing_kind="flats",
    )

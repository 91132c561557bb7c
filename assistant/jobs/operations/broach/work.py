"""A keyway in a hub by push broach on a press: passes, shims, and the size across the bore.

No handwheel is turned: the stack of shims behind the broach is set, and what is left is worked
out from the size measured across the bore to the keyway's floor.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.jobs.common import checks
from assistant.jobs.common.off_size import Expected, around
from assistant.jobs.milling.mill import deburr, places, size_places, wanted_machine
from assistant.jobs.operations.broach.job import BroachJob, read
from assistant.jobs.operations.broach.passes import COMMON, SIZE, BroachWork
from assistant.jobs.plan import Plan
from assistant.jobs.steps import (
    Check,
    Cut,
    Facts,
    Measure,
    Note,
    Overrun,
    Step,
)
from assistant.jobs.to_size.legs import FINISHING, Leg
from assistant.jobs.to_size.passes import Pass
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.units import quantity

__all__ = ["plan", "read"]

MOST_ROUNDS = 4
"""More corrections than this mean that the stack springs or the shims are not flat: look."""
SLACK = {"inch": Decimal("0.030"), "mm": Decimal("0.8")}
FITS = {"inch": Decimal("0.002"), "mm": Decimal("0.05")}
"""How far from its name a bore still takes the bushing: common practice, no source."""


@dataclass(frozen=True)
class _Work(BroachWork):
    def steps(self, machine: Machine) -> list[Step]:
        """The whole order of the work."""
        steps = checks.first_checks(machine.kind)
        steps += self._checks()
        steps.append(self._measure_bore())
        steps += self._bore_expected().asked(self.facts, self.job.unit)
        for leg in self.legs:
            steps += self._leg(leg)
        if self.legs[-1].begins is not None and self.legs[-1].begins.standing is Standing.PAST:
            words = "Too deep. Ask before it is fitted. Don't shim the key."
            steps.append(Note(id="too-far", title="Too deep", say=(words,)))
        steps.append(deburr("Deburr the keyway. Try the key: it should slide, and not rock.", ""))
        return steps

    def _checks(self) -> list[Step]:
        return [
            Check(
                id="check-hub",
                title="Hub on the press",
                say=("Hub face square and clean on the table? Hole below for the broach?",),
            ),
            Check(
                id="check-broach",
                title="Broach and bushing",
                say=("Bushing in the bore, slot on the mark. Teeth to the metal?",),
                cautions=(
                    "Hands off the broach and the ram while it goes down.",
                    "It's glass hard. If it leans, let off and set it straight.",
                    "Stand aside of it: a broach that snaps flies.",
                ),
            ),
        ]

    def _bore_expected(self) -> Expected:
        job = self.job
        return around(
            "bore.diameter",
            "the bore",
            self._m(job.bore),
            FITS[job.unit],
            places(job.unit),
            under="The bushing won't go in. Never force it: finish the bore first.",
            over="The bushing is loose in it, and the broach leans. Another bushing, or ask.",
        )

    def _measure_bore(self) -> Measure:
        slack = self._q(SLACK[self.job.unit])
        return Measure(
            id="measure-bore",
            title="Bore, measured",
            say=("Measure the bore.",),
            fact="bore.diameter",
            gauge="bore gauge",
            figure=Figure(self.job.bore, "bore", places(self.job.unit)),
            nominal=self.job.bore,
            band_low=self.job.bore - slack,
            band_high=self.job.bore + slack,
            resolution=quantity("0.0001" if self.job.unit == "inch" else "0.01", self.job.unit),
            optional=True,
        )

    def _leg(self, leg: Leg) -> list[Step]:
        """From one measurement to the next: the passes, and what is short put in behind them."""
        steps: list[Step] = []
        if leg.begun is not None:
            steps += self._pass(leg, leg.begun)
        for one in leg.passes:
            steps += self._pass(leg, one)
        if leg.done:
            return steps
        if leg.finishing is not None:
            if leg.number >= MOST_ROUNDS:
                words = "Still short after several passes. Look at shims, broach and press."
                return [Note(id="something-springs", title="Still short", say=(words,))]
            steps += self._pass(leg, leg.finishing)
        before = 0 if leg.begins is None else leg.begins.number
        return [*steps, self._measure(before + 1)]

    def _pass(self, leg: Leg, one: Pass) -> list[Step]:
        """The shims, and one push. What goes on from a measurement isn't set by what was before."""
        number, last = one.number, one.kind == FINISHING
        of = number if last else max(number, self.passes.passes)
        name = f"more-{leg.number}" if last else f"pass-{number}"
        planned = leg.begins is None or one is leg.begun
        if not (last or planned or leg.begins is None):
            name = f"{name}-after-{leg.begins.number}"
        set_ = Note(
            id=f"{name}-set",
            title="One thin shim more" if last else f"Pass {number}: shims behind the broach",
            say=("Short. One thin shim more. Oil it." if last
                 else "No shim for the first pass. Oil it." if planned and number == 1
                 else "Broach and bushing wiped clean. Oil it.",),
            figure=self.stack_for(leg, one) if not planned
                   else None if number == 1 else self.stack(number),
            after=() if not planned or number == 1
                  else (f"Shims in the stack: {number - 1}. Flat and clean.",),
        )  # fmt: skip
        # what it is called after a measurement is the depth that is aimed at
        depth = self._m(self.passes.depth) if last else one.depth
        return [set_, self._cut(name, number, of, depth, one)]

    def _cut(self, name: str, number: int, of: int, depth: Decimal, one: Pass) -> Cut:
        full = self._m(self.passes.depth)
        return Cut(
            spindle="",
            id=f"{name}-cut",
            title=f"Push, pass {number} of {of}",
            say=(*(("Start it by hand, square.",) if number == 1 else ()),
                 "Press it through, steadily."),
            after=("Catch it below. Brush the teeth clean.",),
            overrun=Overrun.NONE, number=number,
            of=of,
            depth=self._q(depth),
            taken=self._q(max(Decimal(0), one.taken)),
            remaining=self._q(max(Decimal(0), full - depth)),
            surface=SIZE,
            pass_limit=self._q(one.limit),
            leaves=self.keyway.bore + self._q(one.depth),
            made="the keyway's floor",
            kind=one.kind,
            figure=Figure(self.passes.depth, "full depth", size_places(self.job.unit),
                          source=self.keyway.source),
        )  # fmt: skip

    def _measure(self, number: int) -> Measure:
        fact = f"{SIZE}.{number}"
        limits, slack = self.keyway.opposite_to_floor, self._q(SLACK[self.job.unit])
        return Measure(
            id="measure-" + fact.replace(".", "-"),
            title="Across the bore to the floor",
            say=("Press let off. Measure across the bore, to the keyway's floor.",),
            cautions=("Chips by brush, never by finger or rag.",),
            fact=fact,
            gauge="caliper",
            figure=self.size,
            nominal=self.told(limits.low),
            low=limits.low,
            high=limits.high,
            band_low=limits.low - slack * 2,
            band_high=limits.high + slack,
            resolution=quantity("0.001" if self.job.unit == "inch" else "0.01", self.job.unit),
            grows=True,
            surface=SIZE,
            number=number,
            at_none=self.keyway.bore,
            slope=Decimal(1),
        )


def plan(job: BroachJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the bore as measured leaves no keyway."""
    wanted_machine(machine, ("press",), "a push broach")
    made = _Work(job, facts)
    shim = Figure(
        made.passes.shim, "each shim", places(job.unit),
        (Term("depth", made.passes.depth, 0), Term("cut a pass", job.cut_per_pass, 0)),
        "(depth - cut a pass) / (passes - 1)", COMMON,
    )  # fmt: skip
    depth = Figure(made.passes.depth, "full depth", size_places(job.unit),
                   source=made.keyway.source)  # fmt: skip
    results: list[tuple[str, Figure]] = [
        ("across the bore to the floor", made.size),
        ("full depth", depth),
        ("chordal height", Figure(made.keyway.chordal_height, "chordal height",
                                  source="geometry")),
    ]  # fmt: skip
    count = made.passes.passes
    shims = "No shims: one pass." if count == 1 else shim
    if count > 1:
        results.append(("shim", shim))
    return Plan(
        title=job.head.title,
        operation="broach",
        new_tool="New broach: measure its width first. The shims as before.",
        unit=job.unit,
        steps=tuple(made.steps(machine)),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(
            ("how_many_passes", "One pass." if count == 1 else f"{count} passes."),
            ("how_many_shims", shims),
        ),
        full_depth=made.passes.depth,
        drawing=(
            ("bore", made.keyway.bore),
            ("width", job.width),
            ("depth_full", made.passes.depth),
        ),
        drawing_kind="keyway",
    )

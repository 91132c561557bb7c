"""A keyway in a hub by push broach on a press: passes, shims, and the size across the bore.

No handwheel is turned: the stack of shims behind the broach is set, and what is left is worked
out from the size measured across the bore to the keyway's floor.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.broach import BroachPlan, broach_plan
from assistant.calc.keys import HubKeyway
from assistant.jobs.common import checks
from assistant.jobs.common.off_size import Expected, around
from assistant.jobs.milling.mill import deburr, places, size_places, wanted_machine
from assistant.jobs.operations.broach.job import BroachJob, keyway_of, read
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Measure, Note, Overrun, Step, fact_key
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, is_quantity, magnitude, quantity

__all__ = ["plan", "read"]

MOST_ROUNDS = 4
"""More corrections than this mean that the stack springs or the shims are not flat: look."""
SLACK = {"inch": Decimal("0.030"), "mm": Decimal("0.8")}
FITS = {"inch": Decimal("0.002"), "mm": Decimal("0.05")}
"""How far from its name a bore still takes the bushing: common practice, no source."""
COMMON = "common practice, no source"


@dataclass(frozen=True)
class _Work:
    job: BroachJob
    facts: Facts

    def _m(self, size: Quantity) -> Decimal:
        return magnitude(size, self.job.unit)

    def _q(self, size: Decimal) -> Quantity:
        return quantity(size, self.job.unit)

    @cached_property
    def keyway(self) -> HubKeyway:
        """With the bore as measured."""
        return keyway_of(self.job, fact_key(self.facts, "bore.diameter"))

    @cached_property
    def passes(self) -> BroachPlan:
        """Passes and shims."""
        return broach_plan(self.keyway, self.job.cut_per_pass)

    @cached_property
    def size(self) -> Figure:
        """Across the bore to the floor: at least T."""
        limits = self.keyway.opposite_to_floor
        deep = Term("depth from the crown", self.keyway.depth_from_crown.nominal)
        return Figure(
            limits.low, "across the bore to the floor", size_places(self.job.unit),
            (Term("bore", self.keyway.bore), deep),
            "bore + depth from the crown", self.keyway.source, low=limits.low, high=limits.high,
        )  # fmt: skip

    def stack(self, number: int) -> Figure:
        """The shims behind the broach for a pass, together."""
        shim = self._m(self.passes.shim)
        return Figure(
            self._q(shim * (number - 1)), "shims behind it", places(self.job.unit),
            (Term("one shim", self.passes.shim, 0),
             Term("shims", quantity(number - 1, "dimensionless"), 0)),
            "one shim x how many", COMMON,
        )  # fmt: skip

    # -- steps --------------------------------------------------------------------------------

    def steps(self, machine: Machine) -> list[Step]:
        """The whole order of the work."""
        steps = checks.first_checks(machine.kind)
        steps += self._checks()
        steps.append(self._measure_bore())
        steps += self._bore_expected().asked(self.facts, self.job.unit)
        for number in range(1, self.passes.passes + 1):
            steps += self._pass(number)
        steps += self._to_size()
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

    def _pass(self, number: int) -> list[Step]:
        of = self.passes.passes
        bore = self._m(self.keyway.bore)
        # the last by its own name: dividing and adding up again would leave a hair
        depth = self._m(self.passes.readings[number - 1]) - bore
        depth = self._m(self.passes.depth) if number == of else depth
        before = self._m(self.passes.readings[number - 2]) - bore if number > 1 else Decimal(0)
        set_ = Note(
            id=f"pass-{number}-set",
            title=f"Pass {number}: shims behind the broach",
            say=("No shim for the first pass. Oil it." if number == 1
                 else "Broach and bushing wiped clean. Oil it.",),
            figure=None if number == 1 else self.stack(number),
            after=() if number == 1 else (f"Shims in the stack: {number - 1}. Flat and clean.",),
        )  # fmt: skip
        return [set_, self._cut(f"pass-{number}", number, of, depth, depth - before, "roughing")]

    def _cut(
        self, name: str, number: int, of: int, depth: Decimal, taken: Decimal, kind: str
    ) -> Cut:
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
            taken=self._q(max(Decimal(0), taken)),
            remaining=self._q(max(Decimal(0), full - depth)),
            kind=kind,
            figure=Figure(self.passes.depth, "full depth", size_places(self.job.unit),
                          source=self.keyway.source),
        )  # fmt: skip

    def _to_size(self) -> list[Step]:
        """Measure across, and put in what is short, until it is in."""
        # in the places in which they are told
        low, high = (
            self._told(self.keyway.opposite_to_floor.low),
            self._told(self.keyway.opposite_to_floor.high),
        )
        steps: list[Step] = []
        unit = self.job.unit
        stack = self._m(self.passes.shim) * self.passes.shims
        of = self.passes.passes
        for round_ in range(1, MOST_ROUNDS + 1):
            fact = f"size.{round_}"
            measure = self._measure(fact)
            steps.append(measure)
            size = self.facts.get(fact)
            if not is_quantity(size) or measure.limits.standing(size, unit) is not Standing.SHORT:
                break
            if round_ == MOST_ROUNDS:
                words = "Still short after several passes. Look at shims, broach and press."
                steps.append(Note(id="something-springs", title="Still short", say=(words,)))
                break
            # a third into the band: it is one-sided, and a broach never cuts more than its stack
            short = self._m(low - size + (high - low) / 3)
            stack += short
            more = Figure(
                self._q(stack), "shims behind it", places(self.job.unit),
                (Term("stack so far", self._q(stack - short)), Term("short by", self._q(short))),
                "stack so far + what it is short, and a third of the tolerance", COMMON,
            )  # fmt: skip
            steps.append(
                Note(id=f"more-{round_}-set", title="One thin shim more",
                     say=("Short. One thin shim more. Oil it.",), figure=more)
            )  # fmt: skip
            depth = self._m(self.passes.depth)
            number = of + round_
            steps.append(self._cut(f"more-{round_}", number, number, depth, short, "finishing"))
        sizes = [s for n in range(MOST_ROUNDS + 1) if is_quantity(s := self.facts.get(f"size.{n}"))]
        if sizes and measure.limits.standing(sizes[-1], unit) is Standing.PAST:
            words = "Too deep. Ask before it is fitted. Don't shim the key."
            steps.append(Note(id="too-far", title="Too deep", say=(words,)))
        return steps

    def _told(self, size: Quantity) -> Quantity:
        return self._q(round_places(self._m(size), size_places(self.job.unit)))

    def _measure(self, fact: str) -> Measure:
        limits, slack = self.keyway.opposite_to_floor, self._q(SLACK[self.job.unit])
        return Measure(
            id="measure-" + fact.replace(".", "-"),
            title="Across the bore to the floor",
            say=("Press let off. Measure across the bore, to the keyway's floor.",),
            cautions=("Chips by brush, never by finger or rag.",),
            fact=fact,
            gauge="caliper",
            figure=self.size,
            nominal=self._told(limits.low),
            low=limits.low,
            high=limits.high,
            band_low=limits.low - slack * 2,
            band_high=limits.high + slack,
            resolution=quantity("0.001" if self.job.unit == "inch" else "0.01", self.job.unit),
            grows=True,
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

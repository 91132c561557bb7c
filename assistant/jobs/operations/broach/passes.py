"""The passes of a broach: how far it is set out by its shims, from what was measured last.

The schedule holds depths. A size across the bore tells how deep the keyway is, whenever it is told;
the shims for what is still to come are counted from where the last tooth stood then.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.broach import BroachPlan, broach_plan
from assistant.calc.keys import HubKeyway
from assistant.jobs.common.facts import told_sizes
from assistant.jobs.milling.mill import places, size_places
from assistant.jobs.operations.broach.job import BroachJob, keyway_of
from assistant.jobs.steps import (
    Facts,
    SurfaceKey,
    fact_key,
)
from assistant.jobs.to_size.legs import FINISHING, Leg, Reached, Schedule
from assistant.jobs.to_size.passes import Pass
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Limits
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, magnitude, quantity

SIZE = SurfaceKey("size")
"""The keyway's floor, known by the size across the bore."""
LEAST = {"inch": Decimal("0.004"), "mm": Decimal("0.1")}
"""A pass that takes less only rubs: common practice, no source."""
FLAT = {"inch": Decimal("0.001"), "mm": Decimal("0.02")}
"""As thin as shims of a packet are, and as near as a stack of them lies: common practice."""
COMMON = "common practice, no source"


@dataclass(frozen=True)
class BroachWork:
    """The passes of one keyway, with what was told."""

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

    @property
    def _stands(self) -> Decimal:
        """What the broach cuts without a shim: its last tooth stands so far out of the bushing."""
        return min(self._m(self.job.cut_per_pass), self._m(self.passes.depth))

    @cached_property
    def schedule(self) -> Schedule:
        """The depths of the passes, from the crown of the bore."""
        bore, full = self._m(self.keyway.bore), self._m(self.passes.depth)
        most = self._m(self.job.cut_per_pass)
        # the last by its own name: dividing and adding up again would leave a hair
        depths = [*(self._m(at) - bore for at in self.passes.readings[:-1]), full]
        low, high = self.told(self.low), self.told(self.high)
        # a third into the band: it is one-sided, and a broach never cuts more than its stack
        inside = self._m(low + (high - low) / 3) - bore
        befores = [Decimal(0), *depths]
        return Schedule(
            passes=tuple(
                Pass(number, "roughing", depth, depth - before, most)
                for number, (depth, before) in enumerate(zip(depths, befores, strict=False), 1)
            ),
            start=Decimal(0),
            aim=full,
            finish=Decimal(0),
            least=LEAST[self.job.unit],
            most=most,
            step=FLAT[self.job.unit],
            chosen={},
            finish_from=lambda _last: inside,
        )

    @cached_property
    def legs(self) -> tuple[Leg, ...]:
        """What was pushed, and what is still to be pushed, from one measurement to the next."""
        reached: list[Reached] = []
        for one in told_sizes(self.facts, SIZE):
            legs = self.schedule.legs(reached)
            depth = self._m(one.size - self.keyway.bore)
            cuts = len(self.schedule.passes) + one.number - 1 if one.cuts is None else one.cuts
            stood = [depth, *self._stood(legs, cuts)][-1]
            standing = self.limits.standing(one.size, self.job.unit)
            # a pass that was begun, and goes no deeper than what is measured, has nothing to cut
            begun = one.begun and any(
                wet.number == cuts + 1 and wet.depth > depth for _, wet in _passes(legs)
            )
            reached.append(Reached(one.number, depth, stood - depth, cuts, begun, standing))
        return self.schedule.legs(reached)

    def _stood(self, legs: Iterable[Leg], cuts: int) -> Iterator[Decimal]:
        """How far the last tooth stood out of the bushing in each of so many passes."""
        for leg, one in _passes(legs):
            if one.number <= cuts:
                yield one.depth + leg.offset

    @cached_property
    def limits(self) -> Limits:
        """Of the size across the bore."""
        return Limits(self.low, self.high, size_places(self.job.unit), grows=True)

    @property
    def low(self) -> Quantity:
        """The least across the bore."""
        return self.keyway.opposite_to_floor.low

    @property
    def high(self) -> Quantity:
        """The most."""
        return self.keyway.opposite_to_floor.high

    def stack(self, number: int) -> Figure:
        """The shims behind the broach for a pass, together."""
        shim = self._m(self.passes.shim)
        return Figure(
            self._q(shim * (number - 1)), "shims behind it", places(self.job.unit),
            (Term("one shim", self.passes.shim, 0),
             Term("shims", quantity(number - 1, "dimensionless"), 0)),
            "one shim x how many", COMMON,
        )  # fmt: skip

    def stack_for(self, leg: Leg, one: Pass) -> Figure:
        """The same for a pass that goes on from what was measured."""
        assert leg.begins is not None
        more = one.depth - leg.begins.depth
        stack = one.depth + leg.offset - self._stands
        return Figure(
            self._q(max(Decimal(0), stack)), "shims behind it", places(self.job.unit),
            (Term("stack so far", self._q(stack - more)), Term("short by", self._q(more))),
            "stack so far + what it is short, and a third of the tolerance"
            if one.kind == FINISHING else "stack so far + what this pass takes", COMMON,
        )  # fmt: skip

    def told(self, size: Quantity) -> Quantity:
        """A size in the places in which it is told."""
        return self._q(round_places(self._m(size), size_places(self.job.unit)))


def _passes(legs: Iterable[Leg]) -> Iterator[tuple[Leg, Pass]]:
    """Every pass, with the leg that it belongs to."""
    for leg in legs:
        yield from ((leg, one) for one in (*leg.passes, leg.finishing) if one is not None)

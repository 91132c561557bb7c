"""A size cut in passes, in numbers: passes, where the dial has to stand, what measurements say.

`depth_work` makes the steps of it. Corrections come from the last measurement and from where the
dial stood when it was taken, never from the plan alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from assistant.calc.dial import settle
from assistant.jobs.passes import Pass, roughing_passes
from assistant.jobs.sizing import Sizing, sized
from assistant.jobs.steps import Facts
from assistant.jobs.told import last_told
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, magnitude

MOST_FINISHING_CUTS = 6
"""More finishing cuts than this mean that something moves or springs: look, don't dial on."""
NOTHING = Decimal(0)
IS_IT_EVEN = "Look at the mark. Is it even, end to end?"


@dataclass(frozen=True)
class Infeed:
    """One size to be cut. Decimals are in `unit`, the job's."""

    unit: str
    machine: Machine
    facts: Facts
    axis_name: str
    """The axis that sets the depth."""
    sizing: Sizing
    aim: Decimal
    """The depth that is cut to, inside the limits."""
    limit: Decimal
    """The deepest pass."""
    witness: Decimal = NOTHING
    finish: Decimal = NOTHING
    """Left for the finishing cut."""
    most_finishing: Decimal | None = None
    """The most that a finishing cut may take, where that is less than any pass."""
    gives: Decimal = NOTHING
    """Share of a pass by which cutter and work may give way, and come back in a lighter one."""
    pause: Decimal = NOTHING
    """A depth at which a pass ends, so that something can be measured there."""
    start: Decimal = NOTHING
    """The depth at which this work begins, already cut."""
    roughed: Decimal = NOTHING
    """What the cut before this work took in its direction: the last row beside a wall."""
    origin: Decimal = NOTHING
    """Position of the axis at no depth."""
    sign: int = 1
    """The way of the axis that goes deeper."""
    arriving: int = 0
    """The way of the last travel, where that is not the way that goes deeper: a wall that is set
    in the air, past the end of the work, from the side on which the backlash was taken up."""
    lift: Decimal = NOTHING
    """How far the axis is backed off, counted, before anything is measured."""
    prefix: str = ""
    """Before the names of its facts and steps, where a job has several such works."""
    name: str = ""
    """In titles, where a job has several: `near wall`."""
    full: Decimal | None = None
    """Depth that the work is at, where this one goes sideways: for the depth bar."""
    terms: tuple[Term, ...] = ()
    """Of the depth that is aimed at."""
    formula: str = ""
    look: str = IS_IT_EVEN
    """Asked after the witness skim."""
    say: tuple[str, ...] = field(default=())
    """Spoken before the first setting."""

    def fact(self, name: str) -> str:
        """The name of a fact of this work."""
        return f"{self.prefix}.{name}" if self.prefix else name

    def id(self, name: str) -> str:
        """The id of a step of this work."""
        return f"{self.prefix}-{name}" if self.prefix else name

    @cached_property
    def axis(self) -> Axis:
        """The axis that sets the depth."""
        return self.machine.axis(self.axis_name)

    def _q(self, size: Decimal) -> Quantity:
        return sized(size, self.unit)

    def _m(self, size: Quantity) -> Decimal:
        return magnitude(size, self.unit)

    @property
    def approach(self) -> int:
        """The way of the last travel to a setting."""
        return self.arriving or self.sign

    @cached_property
    def least_cut(self) -> Decimal:
        """The machine's least useful cut: a shallower one rubs."""
        return self._m(self.machine.least_cut)

    @cached_property
    def finishing_cut(self) -> Decimal:
        """Left for the finishing cut; nothing where a first cut would hardly leave it."""
        left = self.aim - self.start
        wanted = min(max(self.finish, self.least_cut), left) if self.finish else NOTHING
        if self.start == 0 and left - wanted < max(self.least_cut, self.witness):
            return NOTHING
        return wanted

    @property
    def chosen(self) -> dict[int, Decimal]:
        """The operator's own depths of cut, by pass."""
        chosen: dict[int, Decimal] = {}
        begins = self.fact("pass.")
        for name, value in self.facts.items():
            if name.startswith(begins) and is_quantity(value):
                chosen[int(name.rsplit(".", 1)[1])] = self._m(value)
        return chosen

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """Witness and roughing passes from `start`, with the operator's own depths of cut."""
        return roughing_passes(
            self.aim - self.finishing_cut - self.start,
            witness=self.witness if self.aim - self.finishing_cut > self.witness * 2 else NOTHING,
            limit=self.limit,
            least=self.least_cut,
            chosen=self.chosen,
            step=self._m(self.axis.graduation),
            pause=self.pause,
        )

    @property
    def finishing_limit(self) -> Decimal:
        """The most that a finishing cut may take, as the tool has it."""
        return self.limit if self.most_finishing is None else self.most_finishing

    @property
    def count(self) -> int:
        """Roughing passes and the finishing cut that is foreseen."""
        return len(self.passes) + (1 if self.finishing_cut else 0)

    # -- from depth to dial and back ----------------------------------------------------------

    def offset(self, fact: str) -> Decimal:
        """How much further the dial stands than the depth that was measured."""
        size, at = self.facts.get(fact), self.facts.get(f"{fact}.at")
        if not (is_quantity(size) and is_quantity(at)):
            return NOTHING
        dial = (self._m(at) - self.origin) * self.sign
        depth = self.sizing.depth_of(self._m(size))
        half = self.facts.get(self.fact("check.half"))
        if is_quantity(half) and fact.endswith("check.size"):
            # one of the two cuts that the size goes over was still to come: this one is deeper
            depth += self._m(half) / 2
        # told at depth, or backed off: the nearer of the two, apart by more than a cutter gives way
        return min((dial - depth, dial + self.lift - depth), key=abs)

    def check_offset(self, number: int) -> Decimal:
        """What a measurement taken in doubt says of this pass: nothing for those cut before."""
        since = self.facts.get(self.fact("check.pass"))
        if is_quantity(since) and number < since.magnitude:
            return NOTHING
        return self.offset(self.fact("check.size"))

    def position(self, depth: Decimal, offset: Decimal = NOTHING) -> Quantity:
        """Where the axis stands for a depth, set to its dial: a half division only where a whole
        one would be on a limit or outside, or nearer to the last than a hand stops."""
        exact = self._q(self.origin + self.sign * (depth + offset))
        whole = settle(exact, self.axis.graduation, halves=False)
        reached = self.depth_at(whole, offset)
        last = self.sizing.most - self._m(self.axis.graduation) / 4
        if self.sizing.least <= depth <= self.sizing.most and not (
            self.sizing.least < reached < last
        ):
            return settle(exact, self.axis.graduation)
        return whole

    def depth_at(self, position: Quantity, offset: Decimal = NOTHING) -> Decimal:
        """The depth at a position of the axis."""
        return (self._m(position) - self.origin) * self.sign - offset

    # -- what happened ------------------------------------------------------------------------

    @cached_property
    def last(self) -> tuple[int, Decimal] | None:
        """The last round measured, and its size."""
        found = last_told(self.facts, self.fact("size"))
        return None if found is None else (found[0], self._m(found[1]))

    @property
    def offset_now(self) -> Decimal:
        """How much further the dial stands than the last measurement says."""
        fact = "check.size" if self.last is None else f"size.{self.last[0]}"
        return self.offset(self.fact(fact))

    @cached_property
    def finished_at(self) -> Quantity:
        """Where the axis stands for the finished size, as far as is known: for the next of
        several that are cut to one reading."""
        if self.last is None:
            return self.position(self.aim, self.offset(self.fact("check.size")))
        round_, size = self.last
        fact = self.fact(f"size.{round_}")
        if self.sizing.enough(size) and is_quantity(self.facts.get(f"{fact}.at")):
            dial = self.sizing.depth_of(size) + self.offset(fact)
            return settle(self._q(self.origin + self.sign * dial), self.axis.graduation)
        return self.position(self.aim_from(size, self.sprung(round_)), self.offset(fact))

    def sprung(self, round_: int) -> Decimal:
        """What of the depth missing at that round's measurement may be spring of the pass before
        it. It isn't missing from the dial then: a lighter cut goes deeper by that of itself."""
        fact = self.fact(f"size.{round_}")
        size, before = self.facts.get(fact), self.facts.get(self.fact(f"size.{round_ - 1}"))
        if not (self.gives and is_quantity(size)):
            return NOTHING
        if is_quantity(before):
            taken = self.sizing.depth_of(self._m(size)) - self.sizing.depth_of(self._m(before))
        else:
            taken = self.passes[-1].taken if self.passes else self.roughed
        return max(NOTHING, min(self.offset(fact), taken * self.gives))

    def aim_from(self, measured: Decimal | None, sprung: Decimal = NOTHING) -> Decimal:
        """The depth of a finishing cut: no lighter than the least useful cut, which would rub,
        where the limits allow that and a division of the dial besides."""
        depth = self.aim
        if measured is not None:
            reached = self.sizing.depth_of(measured)
            useful = reached + self.least_cut
            # inside the last limit, to what is read on the dial, were all of it spring
            furthest = self.sizing.most - self._m(self.axis.graduation) / 2 - sprung
            if sprung and useful <= furthest < depth:
                return furthest
            if depth < useful <= self.sizing.most - self._m(self.axis.graduation):
                depth = useful
        return depth

    # -- figures ------------------------------------------------------------------------------

    @cached_property
    def aim_figure(self) -> Figure:
        """The depth aimed at, with its derivation."""
        return Figure(self._q(self.aim), "full depth", self.sizing.places, self.terms,
                      self.formula, self.sizing.source)  # fmt: skip

"""A size cut in passes, in numbers: passes, where the dial has to stand, what measurements say.

`depth_work` makes the steps of it. Corrections come from the last measurement and from where the
dial stood when it was taken, never from the plan alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property, lru_cache
from typing import Any, ClassVar

from assistant.calc.dial import settle
from assistant.jobs.common.facts import ToldSize, told_sizes
from assistant.jobs.steps import Facts, SurfaceKey
from assistant.jobs.to_size.legs import Leg, Reached, Schedule
from assistant.jobs.to_size.passes import Pass, roughing_passes
from assistant.jobs.to_size.sizing import Sizing, sized
from assistant.machine import Axis, Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.units import Quantity, is_quantity, magnitude

MOST_FINISHING_CUTS = 6
"""More finishing cuts than this mean that something moves or springs: look, don't dial on."""
NOTHING = Decimal(0)
IS_IT_EVEN = "Look at the mark. Is it even, end to end?"


@lru_cache(maxsize=128)
def _shared(work: Infeed) -> dict[str, Any]:
    return vars(work)


forget = _shared.cache_clear
"""For benches, that work the same job several times."""


@dataclass(frozen=True)
class Infeed:
    """One size to be cut. Decimals are in `unit`, the job's.

    Works that are equal share what is worked out of them: a plan is made anew at every word that
    is told, and most words are about one surface of several.
    """

    unit: str
    machine: Machine
    facts: Facts
    """Of all that was told, what is of its own surface."""
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
    most_after: Decimal | None = None
    """The deepest cut after a measurement, where the first goes to depth in one: a plunge."""
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
    made: str = "the floor"
    """What it cuts, in words, for coming to it again."""
    otherwise: int = 0
    """Which of its measurements is told by others: two diameters of a taper; 0 where none is."""
    say: tuple[str, ...] = field(default=())
    """Spoken before the first setting."""

    HEARS: ClassVar[tuple[str, ...]] = ("size.", "pass.")
    """How the names of its facts begin."""

    def __post_init__(self) -> None:
        own = tuple(self.fact(name) for name in self.HEARS)
        told = {name: value for name, value in self.facts.items() if name.startswith(own)}
        object.__setattr__(self, "facts", told)
        object.__setattr__(self, "__dict__", _shared(self))

    def __hash__(self) -> int:
        # of all that it is: to hash every size costs as much as some of what is kept
        return hash((self.prefix, self.name, self.aim, self.origin, self.full, len(self.facts)))

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

    @cached_property
    def chosen(self) -> dict[int, Decimal]:
        """The operator's own depths of cut, by pass."""
        chosen: dict[int, Decimal] = {}
        begins = self.fact("pass.")
        for name, value in self.facts.items():
            if name.startswith(begins) and is_quantity(value):
                chosen[int(name.rsplit(".", 1)[1])] = self._m(value)
        return chosen

    @property
    def chosen_at_first(self) -> dict[int, Decimal]:
        """Those of the passes before anything was measured: the schedule follows them; those after
        it start from what was found."""
        first = self.told[0].cuts if self.told else None  # None: all of them were before it
        return {n: taken for n, taken in self.chosen.items() if first is None or n <= first}

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """Witness and roughing passes from `start`, with the operator's own depths of cut."""
        return roughing_passes(
            self.aim - self.finishing_cut - self.start,
            witness=self.witness if self.aim - self.finishing_cut > self.witness * 2 else NOTHING,
            limit=self.limit,
            least=self.least_cut,
            chosen=self.chosen_at_first,
            step=self._m(self.axis.graduation),
            pause=self.pause,
        )

    @property
    def surface(self) -> SurfaceKey:
        """The surface that it cuts: what is measured of it is kept under that."""
        return SurfaceKey(self.fact("size"))

    @cached_property
    def told(self) -> tuple[ToldSize, ...]:
        """Its measurements so far."""
        return told_sizes(self.facts, self.surface)

    @cached_property
    def reached(self) -> tuple[Reached, ...]:
        """The measurements as depths, each with where the dial stood."""
        found: list[Reached] = []
        for one in self.told:
            size = self._m(one.size)
            before = found[-1].offset if found else NOTHING
            offset = before if one.at is None else self._offset(one.at, size, one.half)
            depth = self.sizing.depth_of(size) + self._half(one.half)
            standing = self.sizing.standing(size)
            cuts = self._plain_cuts(one.number) if one.cuts is None else one.cuts
            found.append(Reached(one.number, depth, offset, cuts, one.begun, standing))
        return tuple(found)

    def _plain_cuts(self, number: int) -> int:
        """How many passes are finished at a measurement on the plain way."""
        return len(self.passes) + number - 1

    @cached_property
    def legs(self) -> tuple[Leg, ...]:
        """From one measurement to the next: what was cut, and what is still to be cut."""
        passes = [replace(one, depth=self.start + one.depth) for one in self.passes]
        schedule = Schedule(
            passes=passes,
            start=self.start,
            aim=self.aim,
            finish=self.finishing_cut,
            least=self.least_cut,
            most=self.limit if self.most_after is None else self.most_after,
            step=self._m(self.axis.graduation),
            chosen=self.chosen,
            finish_from=self.finish_from,
        )
        return schedule.legs(self.reached)

    @cached_property
    def count(self) -> int:
        """Passes in all, the finishing cut that is foreseen among them."""
        every = [one for leg in self.legs for one in (*leg.passes, leg.finishing) if one]
        return every[-1].number if every else len(self.passes)

    # -- from depth to dial and back ----------------------------------------------------------

    def _half(self, half: Quantity | None) -> Decimal:
        """One of the two cuts that the size goes over was still to come: this one is deeper."""
        return NOTHING if half is None else self._m(half) / 2

    def _offset(self, at: Quantity, size: Decimal, half: Quantity | None) -> Decimal:
        """How much further the dial stands than the depth that was measured there."""
        dial = (self._m(at) - self.origin) * self.sign
        depth = self.sizing.depth_of(size) + self._half(half)
        # told at depth, or backed off: the nearer of the two, apart by more than a cutter gives way
        return min((dial - depth, dial + self.lift - depth), key=abs)

    @property
    def offset(self) -> Decimal:
        """How much further the dial stands than the depth, by the last measurement."""
        return self.reached[-1].offset if self.reached else NOTHING

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

    @property
    def standing(self) -> Standing:
        """How the last measurement lies to the limits; short of them before there is any."""
        return self.reached[-1].standing if self.reached else Standing.SHORT

    @property
    def too_deep(self) -> bool:
        """Whether it came out past its limits."""
        return self.standing is Standing.PAST

    @property
    def next_at(self) -> Quantity:
        """Where the axis stands for the next of several of one size: as for the first, unless that
        is too deep."""
        if self.too_deep:
            return self.position(self.aim, self.offset)
        return self.finished_at

    @cached_property
    def finished_at(self) -> Quantity:
        """Where the axis stands for the finished size, as far as is known."""
        if not self.reached:
            return self.position(self.aim)
        last = self.reached[-1]
        if last.standing is Standing.SHORT:
            return self.position(self.finish_from(last), last.offset)
        dial = last.depth + last.offset
        return settle(self._q(self.origin + self.sign * dial), self.axis.graduation)

    def sprung(self, last: Reached) -> Decimal:
        """What of the depth missing at a measurement may be spring of the pass before it. It isn't
        missing from the dial then: a lighter cut goes deeper by that of itself."""
        if not self.gives:
            return NOTHING
        return max(NOTHING, min(last.offset, self._taken_before(last) * self.gives))

    def _taken_before(self, last: Reached) -> Decimal:
        """What was taken between a measurement and the one before it, or by the pass before it."""
        # one told in the middle of a pass tells nothing of how much that pass took
        earlier = [one for one in self.reached if one.number < last.number and not one.begun]
        if earlier and last.cuts - earlier[-1].cuts <= 1:
            return last.depth - earlier[-1].depth
        made = [one for one in self.passes if one.number <= last.cuts]
        return made[-1].taken if made else self.roughed

    def finish_from(self, last: Reached) -> Decimal:
        """The depth of a finishing cut from a measurement: no lighter than the least useful cut,
        which would rub, where the limits allow that and a division of the dial besides."""
        depth, sprung = self.aim, self.sprung(last)
        useful = last.depth + self.least_cut
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

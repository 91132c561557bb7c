"""What is cut from one measurement of a surface to the next.

A schedule holds depths. Whatever is measured, and whenever, the next pass is the first of them
that is deeper than what was found by at least the least useful cut, and takes no more than the
most that a pass may take, the finishing cut included. A size inside its limits ends it, and so
does one past them. That serves the plain way, a measurement in doubt, a pass that came out
shallower, and a seat that was begun elsewhere, all alike.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from assistant.jobs.to_size.passes import Pass, as_chosen, equal_share
from assistant.replacing import replace
from assistant.spoken.limits import Standing

NOTHING = Decimal(0)
FINISHING = "finishing"


@dataclass(frozen=True, slots=True)
class Reached:
    """A measurement, as the depth that it tells; depths in the job's unit."""

    number: int
    """Which of the measurements, from 1."""
    depth: Decimal
    offset: Decimal
    """How much further the dial stood than that depth."""
    cuts: int
    """Passes finished by then."""
    begun: bool
    """Whether the next one was begun."""
    standing: Standing


@dataclass(frozen=True, slots=True)
class Leg:
    """The passes from one measurement to the next; depths are cumulative."""

    begins: Reached | None
    """The measurement that it starts from; None for the first."""
    begun: Pass | None
    """A pass that was begun before that measurement, to be finished at its setting."""
    begun_offset: Decimal
    passes: tuple[Pass, ...]
    finishing: Pass | None
    """The finishing cut: from the measurement after the passes, where there are any."""
    ends: Reached | None
    """The measurement that was told at its end; None for the last."""
    number: int
    """Of the finishing cuts, which one this leg's is, from 1."""

    @property
    def offset(self) -> Decimal:
        """How much further the dial stands than the depth."""
        return NOTHING if self.begins is None else self.begins.offset

    @property
    def done(self) -> bool:
        """Whether nothing more is to be cut, nor measured, by what it begins with."""
        short = self.begins is None or self.begins.standing is Standing.SHORT
        return not short and self.begun is None


@dataclass(frozen=True)
class Schedule:
    """The depths that are cut to, and what rules each pass; in the job's unit."""

    passes: Sequence[Pass]
    """Roughing as first planned, with cumulative depths."""
    start: Decimal
    aim: Decimal
    finish: Decimal
    """Left for the finishing cut."""
    least: Decimal
    """The least useful cut."""
    most: Decimal
    """The most that a pass may take."""
    step: Decimal
    """A division of the dial."""
    chosen: Mapping[int, Decimal]
    """The operator's own depths of cut, by pass."""
    finish_from: Callable[[Reached], Decimal]
    """The depth of a finishing cut that is taken from a measurement."""

    def legs(self, told: Sequence[Reached]) -> tuple[Leg, ...]:
        """All that was cut, and all that is still to be cut."""
        found: list[Leg] = []
        planned = list(self.passes)
        begins: Reached | None = None
        begun: Pass | None = None
        begun_offset, cuts, finished = NOTHING, 0, 0
        for end in (*told, None):
            leg = self._leg(begins, begun, begun_offset, planned, cuts, finished)
            if end is None:
                found.append(leg)
                break
            made, set_, wet = _upto(leg, end)
            found.append(made)
            deepest = set_.depth if set_ is not None else NOTHING
            planned = [one for one in planned if one.depth > deepest]
            finished += any(
                one is not None and one.kind == FINISHING for one in (made.begun, made.finishing)
            )
            cuts = end.cuts
            begins, begun = end, wet if end.standing is not Standing.PAST else None
            begun_offset = leg.begun_offset if wet is leg.begun else leg.offset
        return tuple(found)

    def _leg(
        self, begins: Reached | None, begun: Pass | None, begun_offset: Decimal,
        planned: Sequence[Pass], cuts: int, finished: int,
    ) -> Leg:  # fmt: skip
        passes: tuple[Pass, ...] = ()
        finishing = False
        if begins is None:
            passes, finishing = tuple(planned), self.finish > 0
        elif begins.standing is Standing.SHORT and not (begun and begun.kind == FINISHING):
            base = begins.depth if begun is None else max(begins.depth, begun.depth)
            passes = self._from(base, planned, cuts + (begun is not None), self._to(begins, base))
            finishing = not passes or self.finish > 0
        last = passes[-1] if passes else begun
        close: Pass | None = None
        if finishing:
            depth, before = self.aim, passes[-1].depth if passes else self.aim - self.finish
            if begins is not None and not passes and begun is None:
                depth, before = self.finish_from(begins), begins.depth
            number = (last.number if last is not None else cuts) + 1
            close = Pass(number, FINISHING, depth, depth - before, self.most)
        return Leg(begins, begun, begun_offset, passes, close, None, finished + 1)

    def _to(self, begins: Reached, base: Decimal) -> Decimal:
        """The depth that has to be roughed to, where a finishing cut from there would be too much;
        else none. Where what is left for finishing would leave too little for that, half of it."""
        rough, depth = self.aim - self.finish, self.finish_from(begins)
        if depth - base <= self.most + self.step:
            return NOTHING
        return rough if rough - base >= self.least else (base + depth) / 2

    def _from(
        self, base: Decimal, planned: Sequence[Pass], cuts: int, rough: Decimal
    ) -> tuple[Pass, ...]:
        """The passes from a depth that was found, after so many cuts."""
        depths = [one.depth for one in planned if one.depth - base >= self.least]
        if not depths and rough:
            depths = [rough]
        found: list[Pass] = []
        at, number = base, cuts
        while depths:
            number += 1
            left = depths[-1] - at
            taken = self.chosen.get(number)
            if taken is not None:
                taken = as_chosen(taken, left, self.least)
            else:
                taken = self._share(depths[0] - at)
            at += taken
            found.append(Pass(number, "roughing", at, taken, min(self.most, left)))
            depths = [depth for depth in depths if depth - at >= self.least]
        return tuple(found)

    def _share(self, gap: Decimal) -> Decimal:
        """What one pass takes of the way to the next depth: all of it, or an equal share set to
        the dial where that would be more than a pass may take, a division of the dial allowed."""
        count = int(((gap - self.step) / self.most).to_integral_value(rounding=ROUND_CEILING))
        return gap if count <= 1 else equal_share(gap / count, self.most, self.step)


def _upto(leg: Leg, end: Reached) -> tuple[Leg, Pass | None, Pass | None]:
    """The leg as far as it was cut when its end was measured; the deepest pass that was set; and
    the one that was begun and not finished."""
    every = [one for one in (leg.begun, *leg.passes, leg.finishing) if one is not None]
    made = [one for one in every if one.number <= end.cuts]
    wet = next((one for one in every if one.number == end.cuts + 1), None) if end.begun else None
    set_ = max((one for one in (*made, wet) if one is not None), key=lambda one: one.depth,
               default=None)  # fmt: skip
    kept = replace(
        leg,
        begun=leg.begun if leg.begun in made else None,
        passes=tuple(one for one in leg.passes if one in made),
        finishing=leg.finishing if leg.finishing in made else None,
        ends=end,
    )
    return kept, set_, wet

"""Cutting to a size in passes from a touch: what slots, steps, faces, flats, saw cuts and gears
share.

A witness skim, roughing passes, a measurement before the finishing cut, and finishing cuts worked
out from what was measured and from where the dial stood then, until the size is in. Across the
work (the wall of a slot) it is the same, with the saddle for the knee.
"""

from __future__ import annotations

from collections.abc import Hashable
from decimal import Decimal
from functools import cached_property
from typing import Protocol

from assistant.jobs.common import checks
from assistant.jobs.steps import NO_SURFACE, Cut, Measure, Move, Note, Step
from assistant.jobs.to_size.infeed import MOST_FINISHING_CUTS, NOTHING, Infeed
from assistant.jobs.to_size.legs import FINISHING, Leg
from assistant.jobs.to_size.passes import Pass
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Standing
from assistant.spoken.rounding import round_places
from assistant.units import Quantity

BAND = {"inch": Decimal("0.030"), "mm": Decimal("0.8")}
"""A measurement further off than this is a slip of the tongue or of the ear."""
FINEST = {"inch": Decimal("0.001"), "mm": Decimal("0.01")}
"""What the gauge reads to."""


def tells_a_depth(step: Step) -> bool:
    """Whether a step of a work measures how deep it is, and doesn't only look at it."""
    return isinstance(step, Measure) and step.surface != NO_SURFACE


class Stroke(Hashable, Protocol):
    """How one pass is made and run back on this set-up."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """The steps of one pass: `move` sets its depth, `cut` is the cut."""

    def back(self, name: str) -> list[Step]:
        """The steps that go back for the next pass."""


class DepthWork(Infeed):
    """The steps of one size to be cut."""

    def steps(self, stroke: Stroke) -> list[Step]:
        """From the first skim to the size that is in. Kept: what is told is of one surface, and a
        plan has several."""
        if stroke not in self._made:
            self._made[stroke] = self.worked_out(stroke)
        return list(self._made[stroke])

    @cached_property
    def _made(self) -> dict[Stroke, list[Step]]:
        return {}

    def worked_out(self, stroke: Stroke) -> list[Step]:
        """The same, not kept."""
        steps: list[Step] = []
        before = self.start
        for leg in self.legs:
            if leg.begun is not None:
                last = leg.begun.kind == FINISHING
                name = f"finishing-{leg.number}" if last else ""
                steps += self._pass(stroke, leg.begun, before, leg.begun_offset, name)
            for one in leg.passes:
                steps += self._pass(stroke, one, before, leg.offset)
                before = one.depth
            steps += self._finishing(stroke, leg)
            if leg.ends is not None:
                before = leg.ends.depth
        if self.standing is Standing.PAST:
            steps.append(
                Note(id=self.id("too-far"), title=self.sizing.too_far.capitalize(),
                     say=(self.sizing.advice,))
            )  # fmt: skip
        return steps

    def _pass(
        self, stroke: Stroke, one: Pass, before: Decimal, offset: Decimal, name: str = ""
    ) -> list[Step]:
        """One roughing pass, or one that was begun, and back for the next."""
        name = name or f"{one.kind}-{one.number}"
        move = replace(self._set_roughing(one, before, offset), id=self.id(f"{name}-set"))
        steps = stroke.passes(move, self._cut(name, one))
        if one.kind == "witness" and self.look:
            steps.append(self._look_at_the_mark())
        return [*steps, *stroke.back(self.id(name))]

    @property
    def _unlock(self) -> tuple[str, ...]:
        """Across the work or along it: unlock, set, lock, read again, every time."""
        level = self.axis.name in ("saddle", "table")
        return (f"Unlock the {self.axis.name}.",) if level else ()

    def measurement(self, number: int) -> Measure:
        """One of the measurements; the first is made before the finishing cut, where one is
        foreseen. For works that don't take their steps in this order."""
        return self._measure(number, number == 1 and bool(self.finishing_cut))

    def _rounded(self, size: Decimal) -> Quantity:
        """A size as it is told: what the operator measures against."""
        return self._q(round_places(size, self.sizing.places))

    def _title(self, text: str) -> str:
        if not self.name:
            return f"{text[:1].upper()}{text[1:]}"
        return f"{self.name.capitalize()}: {text[0].lower()}{text[1:]}"

    def _cut(self, name: str, one: Pass) -> Cut:
        of = max(self.count, one.number)
        finishing = one.kind == "finishing"
        return Cut(
            id=self.id(f"{name}-cut"),
            title=self._title("Finishing cut" if finishing
                              else f"Cut, pass {one.number} of {of}"),
            surface=self.surface,
            number=one.number,
            of=of,
            depth=self._q(one.depth if self.full is None else self.full),
            taken=self._q(max(NOTHING, one.taken)),
            remaining=self._q(max(NOTHING, self.aim - one.depth)),
            kind=one.kind,
            leaves=self._q(self.sizing.size_of(one.depth)),
            made=self.made,
            figure=self.aim_figure,
        )  # fmt: skip

    def _set_roughing(self, one: Pass, before: Decimal, offset: Decimal) -> Move:
        taken = self._q(one.depth - before)
        terms: tuple[Term, ...] = (Term("cut so far", self._q(before)), Term("this pass", taken))
        witness = one.kind == "witness"
        say = (*(self.say if one.number == 1 else ()), *self._unlock)
        if witness:
            say = (*say, "A witness skim first.")
            terms = (Term("witness skim", taken),)
        return Move(
            id=self.id(f"{one.kind}-{one.number}-set"),
            title=self._title("Set the witness skim" if witness else f"Set pass {one.number}"),
            say=say,
            after=("Lock it.",),
            verify=bool(self._unlock),
            axis=self.axis.name,
            target=self.position(one.depth, offset),
            approach=self.approach,
            terms_of=Figure(self._q(one.depth), "depth", self.sizing.places, terms,
                            source="common practice"),
            depth_after=self._q(one.depth) if self.full is None else None,
            surface=self.surface,
            deeper=self.sign,
            limit=self.deepest(offset),
            pass_number=one.number,
            pass_fact=self.fact(f"pass.{one.number}"),
            pass_limit=self._q(one.limit),
        )  # fmt: skip

    def deepest(self, offset: Decimal = NOTHING) -> Quantity:
        return self._q(self.origin + self.sign * (self.sizing.most + offset))

    def _look_at_the_mark(self) -> Measure:
        return Measure(
            id=self.id("look-at-mark"),
            title="Look at the mark",
            spindle_words="Spindle off.",
            say=(self.look,),
            cautions=checks.MEASURE_CAUTIONS,
            fact=self.fact("mark"),
            gauge="by eye",
            kind="even",
            optional=True,
        )

    def _finishing(self, stroke: Stroke, leg: Leg) -> list[Step]:
        """Measure, and take what is left from the measurement, until the size is in."""
        if leg.done:
            return []
        next_told = 1 if leg.begins is None else leg.begins.number + 1
        steps: list[Step] = []
        if leg.finishing is not None:
            if leg.number >= MOST_FINISHING_CUTS:
                return [self._something_springs]
            if leg.begins is None or leg.passes or leg.begun is not None:
                # not measured yet: the finishing cut as it is foreseen
                steps += self._measured(next_told, True)
                next_told += 1
            steps += self._finish(stroke, leg, leg.finishing)
            if leg.ends is not None:
                next_told = leg.ends.number
        before = leg.ends is not None and leg.finishing is None and bool(self.finishing_cut)
        return [*steps, *self._measured(next_told, before)]

    def _measured(self, number: int, before: bool) -> list[Step]:
        """A measurement, unless others tell it."""
        return [] if number == self.otherwise else [self._measure(number, before)]

    @property
    def _something_springs(self) -> Note:
        return Note(id=self.id("something-springs"), title="Not there after several finishing cuts",
                    say=("Not there after several cuts.",
                         "Something springs or slips. Look before you go on."))  # fmt: skip

    def _to_be_taken(self, one: Pass, reached: Decimal) -> Decimal:
        """What a finishing cut takes, by the reading of the dial that it is set to."""
        return reached - (one.depth - one.taken)

    def _finish(self, stroke: Stroke, leg: Leg, one: Pass) -> list[Step]:
        """The finishing cut of a leg: from the dial as it stood when it was measured."""
        measured = leg.begins if not leg.passes and leg.begun is None else None
        target = self.position(one.depth, leg.offset)
        reached = self.depth_at(target, leg.offset)
        terms: tuple[Term, ...] = (Term("to full depth", self._q(one.depth), 0),)
        if measured is not None:
            first = self._q(self.sizing.size_of(measured.depth))
            last = self._q(self.sizing.size_of(reached))
            if self.sizing.grows:
                first, last = last, first
                terms = (Term("wanted", first), Term("measured", last, -1))
            else:
                terms = (Term("measured", first), Term("wanted", last, -1))
        taken = self._to_be_taken(one, reached)
        inside = self.sizing.inside(self.sizing.size_of(reached))
        name = f"finishing-{leg.number}"
        move = Move(
            id=self.id(f"{name}-set"),
            title=self._title("Set the finishing cut"),
            say=self._unlock,
            after=("Lock it.",),
            verify=bool(self._unlock),
            axis=self.axis.name,
            target=target,
            approach=self.approach,
            terms_of=Figure(self._q(taken), "left to cut", self.sizing.places, terms,
                            source=self.sizing.source),
            depth_after=self._q(reached) if self.full is None else None,
            surface=self.surface,
            deeper=self.sign,
            limit=self.deepest(leg.offset),
            pass_limit=self._q(one.limit),
            leaves_inside=self._q(inside) if inside >= 0 else None,
            size_places=self.sizing.places,
        )  # fmt: skip
        # what it is called on the way is the depth that is aimed at, what it takes as the dial says
        cut = self._cut(name, replace(one, depth=self.aim, taken=taken))
        return [*stroke.passes(move, cut), *stroke.back(self.id(name))]

    def _measure(self, number: int, before: bool) -> Measure:
        sizing = self.sizing
        number -= 0 < self.otherwise < number
        fact = f"{self.surface}.{number}"
        figure = sizing.figure
        low, high = self._q(sizing.low), self._q(sizing.high)
        foreseen = self._rounded(self._m(figure.value))
        if before:
            # "two over" is over the number that was told: so it is the one foreseen now
            foreseen = self._rounded(sizing.size_of(self.aim - self.finishing_cut))
            figure = replace(figure, value=foreseen, what=f"about now, {sizing.what}")
        slack = self._q(BAND[self.unit])
        lead = "Before the finishing cut, measure" if before else "Measure"
        say = (f"{lead} {sizing.what}.",)
        return Measure(
            id="measure-" + fact.replace(".", "-"),
            title=self._title(f"{'Before finishing: ' if before else ''}{sizing.what}"),
            spindle_words="Spindle off.",
            say=(*say, sizing.how) if sizing.how else say,
            cautions=checks.MEASURE_CAUTIONS,
            fact=fact,
            gauge=sizing.gauge,
            figure=figure,
            nominal=foreseen,
            low=low,
            high=high,
            band_low=min(foreseen, low) - slack,
            band_high=max(foreseen, high) + slack,
            at_axis=self.axis.name,
            resolution=self._q(FINEST[self.unit]),
            grows=sizing.grows,
            too_far=sizing.too_far,
            surface=self.surface,
            number=number,
            at_none=self._q(sizing.at_zero),
            slope=sizing.slope,
        )

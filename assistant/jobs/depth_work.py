"""Cutting to a size in passes from a touch: what slots, steps, faces, flats, saw cuts and gears
share.

A witness skim, roughing passes, a measurement before the finishing cut, and finishing cuts worked
out from what was measured and from where the dial stood then, until the size is in. Across the
work (the wall of a slot) it is the same, with the saddle for the knee.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Protocol

from assistant.jobs import checks
from assistant.jobs.infeed import MOST_FINISHING_CUTS, NOTHING, Infeed
from assistant.jobs.passes import Pass
from assistant.jobs.steps import Cut, Measure, Move, Note, Step
from assistant.spoken import Figure, Term
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, is_quantity

BAND = {"inch": Decimal("0.030"), "mm": Decimal("0.8")}
"""A measurement further off than this is a slip of the tongue or of the ear."""
FINEST = {"inch": Decimal("0.001"), "mm": Decimal("0.01")}
"""What the gauge reads to."""


class Stroke(Protocol):
    """How one pass is made and run back on this set-up."""

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """The steps of one pass: `move` sets its depth, `cut` is the cut."""

    def back(self, name: str) -> list[Step]:
        """The steps that go back for the next pass."""


class DepthWork(Infeed):
    """The steps of one size to be cut."""

    def steps(self, stroke: Stroke) -> list[Step]:
        """From the first skim to the size that is in."""
        steps: list[Step] = []
        before = self.start
        for one in self.passes:
            name = f"{one.kind}-{one.number}"
            depth = self.start + one.depth
            move = self._set_roughing(one, before, depth)
            cut = self._cut(name, one.number, depth, one.taken, one.kind)
            steps.extend(stroke.passes(move, cut))
            if one.kind == "witness" and self.look:
                steps.append(self._look_at_the_mark())
            before = depth
            steps.extend(stroke.back(self.id(name)))
        steps.extend(self._finishing(stroke))
        if self.last is not None and self.sizing.past(self.last[1]):
            steps.append(
                Note(id=self.id("too-far"), title=self.sizing.too_far.capitalize(),
                     say=(self.sizing.advice,))
            )  # fmt: skip
        return steps

    @property
    def _unlock(self) -> tuple[str, ...]:
        """Across the work or along it: unlock, set, lock, read again, every time."""
        level = self.full is not None and self.axis.name in ("saddle", "table")
        return (f"Unlock the {self.axis.name}.",) if level else ()

    def measurement(self, round_: int) -> Measure:
        """The measurement of a round; the first is made before the finishing cut, where one is
        foreseen. For works that don't take their steps in this order."""
        return self._measure(self.fact(f"size.{round_}"), round_ == 1 and bool(self.finishing_cut))

    def _rounded(self, size: Decimal) -> Quantity:
        """A size as it is told: what the operator measures against."""
        return self._q(round_places(size, self.sizing.places))

    def _title(self, text: str) -> str:
        if not self.name:
            return f"{text[:1].upper()}{text[1:]}"
        return f"{self.name.capitalize()}: {text[0].lower()}{text[1:]}"

    def _cut(self, name: str, number: int, depth: Decimal, taken: Decimal, kind: str) -> Cut:
        of = max(self.count, number)
        title = "Finishing cut" if kind == "finishing" else f"Cut, pass {number} of {of}"
        return Cut(
            id=self.id(f"{name}-cut"),
            title=self._title(title),
            number=number,
            of=of,
            depth=self._q(depth if self.full is None else self.full),
            taken=self._q(max(NOTHING, taken)),
            remaining=self._q(max(NOTHING, self.aim - depth)),
            kind=kind,
            figure=self.aim_figure,
        )

    def _set_roughing(self, one: Pass, before: Decimal, depth: Decimal) -> Move:
        offset = self.check_offset(one.number)
        taken = self._q(depth - before)
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
            target=self.position(depth, offset),
            approach=self.approach,
            terms_of=Figure(self._q(depth), "depth", self.sizing.places, terms,
                            source="common practice"),
            depth_after=self._q(depth) if self.full is None else None,
            limit=self.deepest(offset),
            deeper=self.sign,
            pass_number=one.number,
            pass_fact=self.fact(f"pass.{one.number}"),
            pass_limit=self._q(one.limit),
        )  # fmt: skip

    def deepest(self, offset: Decimal = NOTHING) -> Quantity:
        """The position beyond which the size is past its last limit."""
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

    def _finishing(self, stroke: Stroke) -> list[Step]:
        """Measure, take what is left from the measurement, until the size is in."""
        steps: list[Step] = []
        for round_ in range(1, MOST_FINISHING_CUTS + 1):
            fact = self.fact(f"size.{round_}")
            before = round_ == 1 and bool(self.finishing_cut)
            steps.append(self._measure(fact, before))
            told = self.facts.get(fact)
            size = self._m(told) if is_quantity(told) else None
            if size is None and not before:
                break
            if size is not None and self.sizing.enough(size):
                break
            if round_ == MOST_FINISHING_CUTS:
                steps.append(
                    Note(id=self.id("something-springs"),
                         title="Not there after several finishing cuts",
                         say=("Not there after several cuts.",
                              "Something springs or slips. Look before you go on."))
                )  # fmt: skip
                break
            steps.extend(self._finish(stroke, round_, size))
        return steps

    def _finish(self, stroke: Stroke, round_: int, size: Decimal | None) -> list[Step]:
        """The finishing cut of one round: from the dial as it stood when it was measured."""
        offset = self.offset(self.fact("check.size" if size is None else f"size.{round_}"))
        depth = self.aim_from(size, self.sprung(round_))
        before = self.aim - self.finishing_cut if size is None else self.sizing.depth_of(size)
        # measured further off than one pass may take: as much as it may, and measured again
        depth = min(depth, before + self.finishing_limit)
        target = self.position(depth, offset)
        reached = self.depth_at(target, offset)
        terms: tuple[Term, ...] = (Term("to full depth", self._q(depth), 0),)
        if size is not None:
            first, last = self._q(size), self._q(self.sizing.size_of(reached))
            if self.sizing.grows:
                first, last = last, first
                terms = (Term("wanted", first), Term("measured", last, -1))
            else:
                terms = (Term("measured", first), Term("wanted", last, -1))
        number = len(self.passes) + round_
        inside = self.sizing.inside(self.sizing.size_of(reached))
        move = Move(
            id=self.id(f"finishing-{round_}-set"),
            title=self._title("Set the finishing cut"),
            say=self._unlock,
            after=("Lock it.",),
            verify=bool(self._unlock),
            axis=self.axis.name,
            target=target,
            approach=self.approach,
            terms_of=Figure(self._q(reached - before), "left to cut", self.sizing.places, terms,
                            source=self.sizing.source),
            depth_after=self._q(reached) if self.full is None else None,
            limit=self.deepest(offset),
            deeper=self.sign,
            pass_limit=self._q(self.finishing_limit),
            leaves_inside=self._q(inside) if inside >= 0 else None,
            size_places=self.sizing.places,
        )  # fmt: skip
        cut = self._cut(
            f"finishing-{round_}", number, min(depth, self.aim), reached - before, "finishing"
        )
        return [*stroke.passes(move, cut), *stroke.back(self.id(f"finishing-{round_}"))]

    def _measure(self, fact: str, before: bool) -> Measure:
        sizing = self.sizing
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
        )

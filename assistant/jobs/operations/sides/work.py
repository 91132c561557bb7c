"""Ends and sides milled to length and width with the side of an end mill.

Of two sides across from each other the first is cleaned up, and the other milled to the size, from
what it measures then. The cutter's side is touched off on each, with paper, and the axis zeroed on
the metal: what the dial then counts is what comes off, whatever the cutter measures. Every cut goes
the full height of the side, and begins and ends clear of the corners. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from assistant.jobs.common import checks, spindle
from assistant.jobs.common.off_size import need_metal
from assistant.jobs.common.spindle import SpeedAndFeed
from assistant.jobs.milling import mill
from assistant.jobs.milling.clean_up import CleanUp
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.operations.sides.hold import hold, lower
from assistant.jobs.operations.sides.job import MILLED, SIZE_OF, SidesJob, read
from assistant.jobs.operations.sides.side import ROUND, Side, order
from assistant.jobs.operations.sides.strokes import SideStroke
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Measure, Move, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.sizing import Sizing
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import quantity

DRAWING = "the drawing"
SHORT = {"inch": Decimal(6), "mm": Decimal(150)}
"""What a shop's micrometers go to: common practice, no source."""


@dataclass(frozen=True)
class _Work:
    job: SidesJob
    machine: Machine
    facts: Facts

    @cached_property
    def sides(self) -> tuple[Side, ...]:
        """In the order in which they are milled."""
        return order(self.job.milled, self.job.first, self.job.turned)

    def to_size(self, number: int) -> bool:
        """Whether the side of that number is milled to a size, its opposite being clean."""
        return number > len(self.sides) / 2

    def called(self, number: int) -> str:
        """The side of that number, in words."""
        side = self.sides[number - 1]
        if not self.job.turned:
            return side.called
        return f"{'first' if number == 1 else 'other'} {'end' if side.axis == 'table' else 'side'}"

    def stroke(self, number: int) -> SideStroke:
        """How that side is cut."""
        side = self.sides[number - 1]
        return SideStroke(side, self.machine.axis(side.feed), self.job.climbs, self.job.unit)

    # -- sizes ----------------------------------------------------------------------------------

    def stock(self, size: str) -> Decimal:
        """What there is, as measured before anything is cut."""
        job = self.job
        return mill.told(job, self.facts, f"stock.{size}", job.q(job.stock[size]))

    @cached_property
    def skims(self) -> dict[str, CleanUp]:
        """Of each size the side that is only cleaned up."""
        job, found = self.job, {}
        for number, side in enumerate(self.sides[: len(self.sides) // 2], 1):
            size = SIZE_OF[side.axis]
            close = job.close if self.stroke(number).fit else Decimal(0)
            found[size] = CleanUp(
                unit=job.unit,
                axis=self.machine.axis(side.axis),
                facts=self.facts,
                prefix=f"side-{number}",
                title=self.called(number).capitalize(),
                skim=job.skim,
                # a skim is left for the side across from it
                limit=self.stock(size) - job.sizes[size].high - job.skim,
                pass_limit=job.m(job.cutter.max_pass),
                sign=side.sign,
                held=True,
                close=close,
            )
        return found

    def about_now(self, size: str) -> Decimal:
        """What it should measure once the first side is clean; something is always left to cut."""
        least = self.job.sizes[size].high + self.job.skim
        return max(self.stock(size) - self.skims[size].takes, least)

    def now(self, size: str) -> Decimal:
        """What it measures then."""
        return mill.told(self.job, self.facts, f"now.{size}", self.job.q(self.about_now(size)))

    def other(self, number: int) -> DepthWork:
        """The side that is milled to its size, from what that measures now."""
        job, side = self.job, self.sides[number - 1]
        size = SIZE_OF[side.axis]
        wanted, now = job.sizes[size], self.now(size)
        aim = now - wanted.aim(job.aim_inside)
        need_metal(size, now, now - aim, job.unit)
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=side.axis,
            sizing=Sizing(
                f"the {size}", "micrometer" if wanted.nominal <= SHORT[job.unit] else "caliper",
                wanted.low, wanted.high, now, job.unit, Decimal(-1), mill.size_places(job.unit),
                "undersize", "Undersize. Ask before you go on.",
                (Term(f"{size} on the drawing", job.q(wanted.nominal)),), DRAWING, "Burrs off.",
            ),
            aim=aim,
            limit=job.m(job.cutter.max_pass),
            finish=job.finish,
            gives=mill.GIVES,
            sign=side.sign,
            prefix=f"side-{number}",
            name=self.called(number),
            made="what was cut",
            terms=(Term(f"{size} now", job.q(now)),
                   Term(f"{size} wanted", job.q(now - aim), -1)),
            formula=f"{size} now - {size} wanted",
        )  # fmt: skip

    # -- steps ----------------------------------------------------------------------------------

    def _feed(self, side: Side) -> SpeedAndFeed:
        by_hand = "" if side.feed == self.machine.feed_axis else side.feed
        return mill.speed_of(self.job, self.machine, self.facts, by_hand)

    def setup(self) -> list[Step]:
        """Checks, cutter, speed and feed, and what there is."""
        job, side = self.job, self.sides[0]
        by_hand = "" if side.feed == self.machine.feed_axis else side.feed
        flutes = Check(
            id="check-flutes", title="Flutes",
            say=("Cutting edges longer than the sides are high? No more out than that needs.",),
        )  # fmt: skip
        steps = mill.setup(
            job, self.machine, self.facts, hand_axis=by_hand, direction=False, measured=False,
            extra=(flutes, *self._not_fit()),
        )  # fmt: skip
        for size in MILLED[job.milled]:
            measured = mill.measure_work(
                job, f"stock.{size}", f"the {size} of the stock", job.q(job.stock[size])
            )
            steps.append(measured)
            need_metal(f"stock {size}", self.stock(size), job.sizes[size].high + job.skim, job.unit)
        return steps

    def _not_fit(self) -> tuple[Step, ...]:
        """Where climbing is wanted and the machine's file doesn't allow it: that is said."""
        if not self.job.climbs:
            return ()
        fed = dict.fromkeys(side.feed for side in self.sides)
        not_fit = [name for name in fed if self.machine.axis(name).climb == "never"]
        if not not_fit:
            return ()
        words = f"This machine's file allows no climbing on the {' or the '.join(not_fit)}."
        return (
            Check(id="check-climbing", title="No climbing there",
                  say=(words, "Those cuts stay conventional.")),
        )  # fmt: skip

    def side(self, number: int) -> list[Step]:
        """One side: held, touched, cut, tried."""
        job, side = self.job, self.sides[number - 1]
        size = SIZE_OF[side.axis]
        steps: list[Step] = []
        if self.to_size(number):
            steps.append(self._measure_now(size))
        steps += hold(job, number, side)
        steps += lower(job, self.machine, self.facts, number, side)
        steps += self._fed_otherwise(number)
        steps += self._touch(number)
        if self.to_size(number):
            steps += self._passes(number)
        else:
            steps += self.skims[size].steps(self.stroke(number))
        if number == len(self.sides) // 2:
            steps.append(self._square(number))
        answer = ("which_face", f"The {self.called(number)}, {number} of {len(self.sides)}.")
        feeds = ("which_feed", self.stroke(number).words(False))
        return [replace(step, answers=_with(step.answers, answer, feeds)) for step in steps]

    def _passes(self, number: int) -> list[Step]:
        work = self.other(number)
        passes = ("how_many_passes", f"{work.count} on the {self.called(number)}.")
        return [
            replace(step, answers=(*step.answers, passes))
            for step in work.steps(self.stroke(number))
        ]

    def _measure_now(self, size: str) -> Measure:
        job = self.job
        now = job.q(self.about_now(size))
        made = mill.measure_work(job, f"now.{size}", f"the {size} now", now)
        lead: tuple[str, ...] = ("Burrs off.",)
        if job.turned:  # the cutter stands beside it, at a corner
            side = self.sides[0]
            lead = (
                f"Unlock the {side.axis}. Run the {side.away}, well clear.",
                "Take it out, burrs off.",
            )
        return replace(made, say=(*lead, *made.say), spindle="off")

    def _fed_otherwise(self, number: int) -> list[Step]:
        """Where another axis feeds than along the side before, at another pace."""
        side = self.sides[number - 1]
        if number == 1 or side.feed == self.sides[number - 2].feed:
            return []
        now, before = (self._feed(self.sides[place]) for place in (number - 1, number - 2))
        if now.feed.value == before.feed.value:
            return []
        note = next(step for step in spindle.notes(now) if step.id == "set-feed")
        return [replace(note, id=f"side-{number}-feed", title=f"Feed of the {side.feed}")]

    def _touch(self, number: int) -> list[Step]:
        """The cutter's side touched off on it, and the axis zeroed on the metal."""
        job, side = self.job, self.sides[number - 1]
        steps: list[Step] = []
        if number > 1 and not job.turned:
            before = self.sides[number - 2].axis
            steps.append(
                Move(
                    id=f"side-{number}-round",
                    title=f"Round to the {side.called}",
                    spindle="off",
                    say=(
                        f"Unlock the {before}.",
                        f"Round to the {side.called}, clear of the work.",
                    ),
                    axis=before,
                    target=None,
                    done_words="clear",
                )
            )
        way = f"{side.to_it.capitalize()}, gently, at its highest place."
        return steps + touch_top(
            self.machine, side.axis, side.sign, job.paper, self.facts,
            surface=f"the {self.called(number)}", stays=False, name=f"side-{number}",
            say=(f"Cutter beside the {side.called}.", way),
        )  # fmt: skip

    def _square(self, number: int) -> Measure:
        """Whether what is clean now is square: the other sides follow it."""
        against = "the end" if self.job.milled == "round" else "the top and along"
        return Measure(
            id=f"side-{number}-square",
            title="Square?",
            spindle="off",
            spindle_words="Spindle off.",
            say=("Deburr, and wipe.", f"Try it with a square, against {against}. No light?"),
            cautions=checks.MEASURE_CAUTIONS,
            fact=f"side-{number}.square",
            gauge="square",
            kind="even",
            optional=True,
        )

    def steps(self) -> list[Step]:
        """The whole order of the work."""
        steps = self.setup()
        for number in range(1, len(self.sides) + 1):
            steps += self.side(number)
        steps.append(mill.deburr())
        return steps


def _with(
    answers: tuple[tuple[str, str | Figure], ...], *more: tuple[str, str | Figure]
) -> tuple[tuple[str, str | Figure], ...]:
    """A step's own answers, and others where it has none of its own."""
    own = {name for name, _ in answers}
    return (*answers, *(one for one in more if one[0] not in own))


def plan(job: SidesJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where nothing is left to cut."""
    mill.wanted_machine(machine, ("vertical mill",), "an end mill")
    made = _Work(job, machine, facts)
    setting = made._feed(made.sides[0])
    results: list[tuple[str, Figure]] = []
    for number in range(len(made.sides) // 2 + 1, len(made.sides) + 1):
        work = made.other(number)
        results += [
            (work.sizing.what, work.sizing.figure),
            (f"off the {made.called(number)}", work.aim_figure),
        ]
    results += [("speed", setting.speed), ("feed", setting.feed)]
    sizes = {size: job.q(job.sizes[size].nominal) for size in MILLED[job.milled]}
    places = [quantity(ROUND.index(side), "dimensionless") for side in made.sides]
    return Plan(
        title=job.head.title,
        operation="sides",
        unit=job.unit,
        steps=tuple(made.steps()),
        results=tuple(results),
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(("which_feed", made.stroke(1).words(False)),),
        new_tool="New cutter: its side is touched again.",
        drawing=(
            *sizes.items(),
            ("cutter", job.cutter.diameter),
            *((f"side_{number}", place) for number, place in enumerate(places, 1)),
            ("turned", quantity(int(job.turned), "dimensionless")),
        ),
        drawing_kind="sides",
    )


__all__ = ["plan", "read"]

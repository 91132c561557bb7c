"""The infeed of a thread: shrinking passes, and what the wires say of where the dial has to be.

Positions are what the dial of the compound or the cross slide counts; depths in a job are square
to the axis. The size over wires falls by twice what the tool goes in square to the axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property, lru_cache
from typing import ClassVar

from assistant.calc.exact import at_least, to_step
from assistant.calc.thread_infeed import infeed_passes
from assistant.calc.threads import DEPTH_BASES
from assistant.jobs.common.next_part import before, last_size
from assistant.jobs.lathe.setup import CROSS, dial_share
from assistant.jobs.operations.thread.job import ThreadJob
from assistant.jobs.steps import Facts, FactValue, Measure, Note, Step
from assistant.jobs.to_size.depth_work import DepthWork, Stroke
from assistant.jobs.to_size.infeed import NOTHING
from assistant.jobs.to_size.passes import Pass, as_chosen
from assistant.jobs.to_size.sizing import Sizing
from assistant.machine import Axis, Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, is_quantity, quantity

CLEAR = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""Between tool and work on the way back, on one side: common practice, no source."""
MOST_TRIES = 12
"""Tries of the gauge with a small cut between: more mean that something is wrong."""


@dataclass(frozen=True)
class ThreadWork(DepthWork):
    """The passes of one thread, in what the dial counts."""

    first_cut: Decimal = NOTHING
    least: Decimal = NOTHING
    square: Decimal = Decimal(1)
    """What the dial counts for one square to the axis."""

    __hash__ = DepthWork.__hash__

    HEARS: ClassVar = (*DepthWork.HEARS, "go.", "no.go")

    @cached_property
    def least_cut(self) -> Decimal:
        """A lighter cut rubs."""
        return self.least * self.square

    @cached_property
    def finishing_cut(self) -> Decimal:
        """Left for the cuts after the first measurement."""
        return min(self.finish, self.aim) if self.finish else NOTHING

    @cached_property
    def passes(self) -> tuple[Pass, ...]:
        """A scratch pass, then cuts of equal chip area: each lighter than the one before."""
        rough = self.aim - self.finishing_cut
        if rough <= 0:
            return ()
        ends = _schedule(rough / self.square, self.first_cut, self.least, self.unit)
        planned = [end * self.square for end in ends[:-1]] + [rough]
        grain = self._m(self.axis.graduation)
        limit = self.first_cut * self.square
        found: list[Pass] = []
        reached, number = NOTHING, 0
        while reached < rough:
            number += 1
            left = rough - reached
            kind = "roughing"
            if number in self.chosen_at_first:
                chosen = self.chosen_at_first[number]
                taken = as_chosen(chosen, left, NOTHING, "the last cuts")
            elif number == 1 and self.witness:
                kind, taken = "witness", min(self.witness, left)
            else:
                # the next of the planned depths, set to the dial; never heavier than the last cut
                to = next((d for d in planned if d - reached > self.least_cut / 2), rough)
                taken = min(to_step(to, grain), rough) - reached
                if found and found[-1].kind == "roughing":
                    taken = max(min(taken, found[-1].taken), to_step(self.least_cut, grain))
                if taken <= 0 or left - taken < self.least_cut / 2:
                    taken = left
            reached += taken
            found.append(Pass(number, kind, reached, taken, min(limit, left)))
        return tuple(found)

    # -- stopped by a gauge -----------------------------------------------------------------------

    def gauge_steps(self, stroke: Stroke, step: Decimal) -> list[Step]:
        """Passes to the depth, then small cuts until the gauge goes."""
        steps: list[Step] = []
        before = NOTHING
        for one in self.passes:
            name = f"{one.kind}-{one.number}"
            move = self._set_roughing(one, before, NOTHING)
            last = one is self.passes[-1]
            cut = self._cut(name, replace(one, kind="finishing") if last else one)
            steps += stroke.passes(move, cut)
            before = one.depth
        for number in range(1, MOST_TRIES + 1):
            fact = f"go.{number}"
            steps.append(
                Measure(id=f"try-go-{number}", title="Go gauge", kind="gauge", fact=fact,
                        gauge="thread gauge",
                        spindle="off",
                        spindle_words="Spindle off.",
                        say=("Clean the thread.", "Does the go gauge go all the way?"))
            )  # fmt: skip
            if self.facts.get(fact) != "no":
                break
            if number == MOST_TRIES:
                steps.append(
                    Note(id="gauge-never-goes", title="The gauge still doesn't go",
                         say=("Still no. Check the pitch and the tool's form first.",))
                )  # fmt: skip
                return steps
            steps += self._one_more(stroke, number, step)
        steps.append(
            Measure(id="try-no-go", title="No-go gauge", kind="gauge", fact="no.go",
                    gauge="thread gauge",
                    say=("Now the no-go. Does it stop within three turns?",))
        )  # fmt: skip
        if self.facts.get("no.go") == "no":
            steps.append(
                Note(id="too-far", title=self.sizing.too_far.capitalize(),
                     say=(self.sizing.advice,))
            )  # fmt: skip
        return steps

    def _one_more(self, stroke: Stroke, number: int, step: Decimal) -> list[Step]:
        depth = self.aim + step * number
        name = f"more-{number}"
        one = Pass(len(self.passes) + number, "finishing", depth, step, self.limit)
        move = replace(
            self._set_roughing(one, depth - step, NOTHING), title="A little more",
            id=f"{name}-set", pass_fact="", pass_number=0, pass_limit=self._q(step),
            limit=self.position(depth + step),
        )  # fmt: skip
        cut = self._cut(name, one)
        return stroke.passes(move, cut)


@lru_cache(maxsize=32)
def _schedule(depth: Decimal, first: Decimal, least: Decimal, unit: str) -> tuple[Decimal, ...]:
    found = infeed_passes(quantity(depth, unit), quantity(first, unit), quantity(least, unit))
    return tuple(Decimal(end.magnitude) for end in found.depths)


def thread_work(job: ThreadJob, machine: Machine, facts: Facts) -> ThreadWork:
    """The infeed as far as is known: from the blank that was measured, or from the wires."""
    axis = machine.axis(job.axis_name)
    square = job.compound_travel if job.by_compound else 2 * dial_share(axis)
    wire = job.q(job.told(facts.get("wire.size"), job.wire))
    sign = -1 if job.inner else 1
    short = _blank_short(job, facts)
    depth = job.aim_depth - short
    lift = NOTHING if job.by_compound else _turns_out(job, axis, square)
    if job.by_wires:
        sizing = _over_wires(job, facts, wire, square, short, sign, lift)
        aim = sizing.depth_of((sizing.low + sizing.high) / 2)
    else:
        sizing = _by_depth(job, depth * square)
        aim = depth * square
    return ThreadWork(
        unit=job.unit,
        machine=machine,
        facts=facts,
        axis_name=job.axis_name,
        sizing=sizing,
        aim=aim,
        limit=job.first_cut * square,
        witness=NOTHING if job.pick_up else job.scratch * square,
        finish=job.finish * square if job.by_wires else NOTHING,
        sign=sign,
        lift=lift,
        look="",
        made=_groove(job, machine),
        terms=_terms(job, depth),
        formula=_formula(job, axis.diameter_reading),
        first_cut=job.first_cut,
        least=job.least_cut,
        square=square,
    )


def _groove(job: ThreadJob, machine: Machine) -> str:
    """How the tool comes into the groove again; where the compound feeds, another tool finds it
    with the cross slide elsewhere than the last: it has its zero there from then on."""
    found = "the groove by both slides, half nut closed, work turned by hand"
    zeroed = job.by_compound and machine.axis(CROSS).settable
    return f"{found}. Cross slide's dial to zero there" if zeroed else found


def _turns_out(job: ThreadJob, axis: Axis, square: Decimal) -> Decimal:
    """What the slide that feeds straight in is taken out by: as many turns as bring the tool out of
    the full depth, though the backlash takes some of them."""
    deep = (job.aim_depth + CLEAR[job.unit]) * square + job.m(axis.backlash)
    turn = job.m(axis.per_turn)
    return turn * at_least(deep, turn)


def _blank_short(job: ThreadJob, facts: Facts) -> Decimal:
    """How much less deep the thread is because the blank is smaller (a bore: larger) than basic."""
    basic = job.blank[0]
    gone = job.m(basic) - job.told(facts.get("blank.size"), basic)
    return (-gone if job.inner else gone) / 2


def dials_hold(job: ThreadJob, facts: Facts) -> tuple[FactValue, FactValue] | None:
    """The last size over wires of the part before, and where the dial stood, in the same setting:
    the tool, and so the zero of both slides, is as it was. Where a gauge stops the thread nothing
    measured tells that."""
    slides = (CROSS, job.axis_name)
    if job.pick_up or not job.by_wires or any(before(facts, one) is None for one in slides):
        return None
    return last_size(facts, "size")


def _over_wires(
    job: ThreadJob, facts: Facts, wire: Quantity, square: Decimal, short: Decimal, sign: int,
    lift: Decimal,
) -> Sizing:  # fmt: skip
    slope = -2 / square
    at_zero = job.over_wires(job.pitch_dia, wire) + 2 * (job.depth - short)
    size, at = dials_hold(job, facts) or (None, None)
    if is_quantity(size) and is_quantity(at):
        at_zero = job.m(size) - slope * (sign * job.m(at) + lift)
    low = job.over_wires(job.limits.pitch_min, wire)
    high = job.over_wires(job.limits.pitch_max, wire)
    if job.pick_up:
        # not known before it is measured: a few cuts are foreseen
        at_zero = high + job.first_cut * 2
        size, at = facts.get("pickup.size"), facts.get("pickup.size.at")
        if is_quantity(size) and is_quantity(at):
            at_zero = job.m(size) - slope * sign * job.m(at)
    return Sizing(
        what="over the wires",
        gauge="micrometer",
        low=low,
        high=high,
        at_zero=at_zero,
        unit=job.unit,
        slope=slope,
        places=Unit(job.unit).fine_places,
        too_far="too deep",
        advice="Thread too deep. Ask before you go on.",
        source=f"{job.thread.source}; three wires: Machinery's Handbook, ASME B1.2",
        how="Three alike, lying square.",
    )


def _by_depth(job: ThreadJob, depth: Decimal) -> Sizing:
    return Sizing(
        what="the depth on the dial",
        gauge="thread gauge",
        low=depth,
        high=depth + job.step * MOST_TRIES * 2,
        at_zero=NOTHING,
        unit=job.unit,
        places=Unit(job.unit).fine_places,
        too_far="too far",
        advice="The no-go goes: the thread is too far. Ask before you go on.",
        source=job.thread.source,
    )


def _terms(job: ThreadJob, depth: Decimal) -> tuple[Term, ...]:
    terms = [Term(f"depth to {job.basis}", job.q(job.depth), 0),
             Term(f"to the middle of {job.thread_class}", job.q(depth), 0)]  # fmt: skip
    if job.by_compound:
        terms.append(Term("compound from square", job.set_over, 0))
    return tuple(terms)


def _formula(job: ThreadJob, diameter_dial: bool) -> str:
    if job.by_compound:
        return "depth square to the axis / cos of the compound's angle from square"
    return "twice the depth: this dial counts the diameter" if diameter_dial else "the depth"


def depth_figure(job: ThreadJob) -> Figure:
    """How deep the thread is, with the basis named."""
    basis = DEPTH_BASES[job.basis]
    return Figure(
        job.q(job.depth),
        f"deep to {job.basis}",
        Unit(job.unit).fine_places,
        (Term("pitch", job.thread.pitch.to(job.unit), 0),),
        f"{basis.factor:.4f} x pitch ({basis.meaning})",
        "ISO 68-1 and ASME B1.1, basic profile",
    )

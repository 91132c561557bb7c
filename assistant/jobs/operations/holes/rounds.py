"""The rounds of a pattern: every hole with one tool, or every tool in one hole.

Each hole goes through the same stages as a hole alone. What differs is how often a tool is fitted
and touched, which holes are measured, and which were left out. A hole is left out from a tool on,
by the fact `out.NUMBER`, so that what was done in it stays done.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

from assistant.calc.dial import settle
from assistant.calc.drilling import peck_plan
from assistant.jobs.common.facts import Told, as_facts, told
from assistant.jobs.drilling.quill import Quill
from assistant.jobs.drilling.stage import Stage
from assistant.jobs.milling.edges import Edge
from assistant.jobs.operations.holes.job import HolesJob
from assistant.jobs.operations.holes.places import Place
from assistant.jobs.steps import (
    Answer,
    Cut,
    Facts,
    FactValue,
    Measure,
    Move,
    OneOfMany,
    Step,
    Touch,
)
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import quantity

OUT = "out."
"""Begins the fact that a hole is left out: its value is the tool from which on it is."""
MAKES = {
    "spotting": "Spot", "drilling": "Drill", "reaming": "Ream", "counterboring": "Counterbore",
    "countersinking": "Sink", "tapping": "Tap",
}  # fmt: skip
"""What is done to a hole by a kind of cut, as a title begins."""
CALLED = {
    "drilling": "drill", "reaming": "reamer", "counterboring": "counterbore",
    "countersinking": "countersink", "tapping": "tap",
}  # fmt: skip
"""The tool of a cut, in a word; a spot's own words tell it."""
DEPTH_IS_MEASURED = ("drilling", "counterboring")
CHIPS = "Deep: back out for the chips each diameter."


@lru_cache(maxsize=16)
def edges_of(job: HolesJob, machine: Machine) -> tuple[Edge, Edge]:
    """The two datum edges."""
    return (
        Edge(machine, "table", job.x_edge, job.tip, job.unit, job.found_by),
        Edge(machine, "saddle", job.y_edge, job.tip, job.unit, job.found_by),
    )


def rounds(job: HolesJob, machine: Machine, facts: Facts, found: bool) -> tuple[Step, ...]:
    """All that is made, from the first hole on; `found` where an edge was found before."""
    return _rounds(job, machine, told(facts, "paper.", "hole.", OUT, "speed"), found)


@lru_cache(maxsize=8)
def _rounds(job: HolesJob, machine: Machine, kept: Told, found: bool) -> tuple[Step, ...]:
    """Kept: most of what is told changes nothing of it."""
    return tuple(Rounds(job, machine, as_facts(kept), found).steps())


def left_in(job: HolesJob, facts: Facts) -> tuple[Place, ...]:
    """The holes of which nothing is left out."""
    return tuple(place for place in job.places if f"{OUT}{place.number}" not in facts)


Answers = tuple[tuple[str, Answer], ...]


class Rounds:
    """One pattern on one machine, with what was told of it."""

    def __init__(self, job: HolesJob, machine: Machine, facts: Facts, found: bool) -> None:
        self.job, self.machine, self.facts = job, machine, facts
        self.quill = Quill(machine, job.unit, job.made.depth_by)
        self.stages = tuple(job.made.stages(self.quill, facts))
        self.names = [stage.name for stage in self.stages]
        self.away = found
        """Whether what found the edges is still in the spindle."""
        self.off: set[str] = set()
        """Tools of which a hole measured otherwise than wanted: the later ones are measured too."""

    def steps(self) -> Iterator[Step]:
        """In the order of the job."""
        yield from self.job.made.first
        if self.job.order.by == "tool":
            for stage in self.stages:
                yield from self._all_holes(stage)
        else:
            yield from self._hole_by_hole()

    # -- the two orders ---------------------------------------------------------------------------

    def _all_holes(self, stage: Stage) -> Iterator[Step]:
        """Fitted and touched once, and taken to every hole."""
        places = [place for place in self.job.places if self._is_made(place, stage)]
        if not places:
            return
        yield from (replace(step, answers=(*step.answers, *self._none_yet(stage)))
                    for step in stage.fit)  # fmt: skip
        last: Place | None = None
        touch = False
        for place in places:
            at = At(self.job, place, stage)
            yield from self._to(at, last, "" if stage.main else f"{stage.name}-")
            if last is None:
                yield from map(at.here, stage.set)
            elif touch:
                yield from map(at.step, self._own(stage, place).set)
            yield from (at.cut(one, first=last is None) for one in self._pecks(stage))
            look = self._look(stage, place, first=last is None)
            yield from map(at.step, look)
            touch = any(step.id == "too-deep" for step in look)
            last = place

    def _hole_by_hole(self) -> Iterator[Step]:
        """The table stays where it is till the last tool is out of the hole."""
        last: Place | None = None
        begun: set[str] = set()
        for place in self.job.places:
            stages = [one for one in self.stages if self._is_made(place, one)]
            for number, stage in enumerate(stages):
                at = At(self.job, place, stage)
                own = self._own(stage, place)
                if not number:
                    yield from self._to(at, last, "", f"Hole {place.number}.")
                yield from map(at.step, (*own.fit, *own.set))
                first = stage.name not in begun
                yield from (at.cut(one, first=first) for one in self._pecks(own))
                look = self._look(stage, place, first=first)
                yield from map(at.step, look)
                begun.add(stage.name)
                last = place

    def _none_yet(self, stage: Stage) -> Answers:
        """While a tool is fitted that is then taken to all."""
        return (
            ("which_hole", f"At none yet with this one: {stage.words}."),
            ("holes_left", f"{len(self.job.places)} holes in all."),
        )

    # -- of one hole ------------------------------------------------------------------------------

    def _is_made(self, place: Place, stage: Stage) -> bool:
        """Whether that tool comes to that hole: it isn't left out by then."""
        left = self.facts.get(f"{OUT}{place.number}")
        return left not in self.names or self.names.index(stage.name) < self.names.index(str(left))

    def _own(self, stage: Stage, place: Place) -> Stage:
        """The stage with what was told of that hole."""
        begins = f"hole.{place.number}."
        own: Mapping[str, FactValue] = {
            name.removeprefix(begins): value
            for name, value in self.facts.items()
            if name.startswith(begins) or name == "speed"
        }
        if not own:
            return stage
        return self.job.made.stages(self.quill, own)[self.names.index(stage.name)]

    def _look(self, stage: Stage, place: Place, *, first: bool) -> tuple[Step, ...]:
        """What is measured there: as often as the job has it; one that was gone past; and every
        one after a hole that was off. The next may have been off as well, and another tool may
        have been fitted since: none is put right by what another measured."""
        measured = self.job.order.measured
        wanted = measured == "each" or (measured != "none" and first)
        wanted |= measured == "first and last" and place is self.job.places[-1]
        wanted |= stage.name in self.off or _past(place, stage) in self.facts
        if not wanted:
            return ()
        look = self._own(stage, place).look
        if len(look) > 1:
            self.off.add(stage.name)
        return look

    def _pecks(self, stage: Stage) -> tuple[Step, ...]:
        """Each to its depth, or all in one run."""
        whole = stage.cut[-1]
        if self.job.order.pecks == "counted" or not isinstance(whole, Cut):
            return stage.cut
        if whole.kind != "drilling":
            return stage.cut
        work = next(one for one in self.job.made.tools if one.tool.name == stage.name)
        deep = peck_plan(work.depth.value, work.tool.dia).deep
        say = (CHIPS, *whole.say) if deep else whole.say
        return (replace(whole, say=say, pass_limit=whole.depth),)

    def _to(self, at: At, before: Place | None, prefix: str, *said: str) -> Iterator[Step]:
        """Saddle to the row, then table along it: each as it lies from the datum."""
        lead: tuple[str, ...] = (self._lead(), *said)
        # after one that is left out nobody can say here how near to it the slides were brought
        near = before if before is not None and at.place.number == before.number + 1 else None
        for edge in reversed(edges_of(self.job, self.machine)):
            across = edge.axis == "table"
            place = at.place.x if across else at.place.y
            if near is not None and place == (near.x if across else near.y):
                continue
            size = quantity(place, self.job.unit)
            yield Move(
                id=f"{prefix}hole-{at.place.number}-{edge.axis}",
                title=f"Hole {at.place.number} of {at.of}: {edge.axis}",
                say=(*lead, f"Unlock the {edge.axis}."),
                after=("Lock it.",),
                axis=edge.axis,
                target=settle(size, self.machine.axis(edge.axis).graduation) * edge.toward,
                approach=edge.toward,
                answers=at.answers,
                one_of_many=at.one_of_many,
                terms_of=Figure(size, f"hole {at.place.number} from the {edge.edge} edge",
                                4 if self.job.unit == "inch" else 2,
                                (Term(f"from the {edge.edge} edge", size),), source="geometry"),
            )  # fmt: skip
            lead = ()

    def _lead(self) -> str:
        """What has to be out of the work before it is moved."""
        if not self.away:
            return "Quill up clear."
        self.away = False
        if self.job.found_by == "edge finder":
            return "Edge finder out."
        return "Feeler away, quill up clear."


def _past(place: Place, stage: Stage) -> str:
    return f"hole.{place.number}.past.{stage.name}"


class At:
    """A stage's steps as they are in one hole of the pattern: said, counted and kept as its own."""

    def __init__(self, job: HolesJob, place: Place, stage: Stage) -> None:
        self.place, self.stage = place, stage
        self.of, self.only_drilled = len(job.places), job.only_drilled
        self.one_of_many = OneOfMany(f"{OUT}{place.number}", stage.name, f"hole {place.number}")
        left = self.of - place.number
        self.answers: Answers = (
            ("which_hole", f"Hole {place.number} of {self.of}, row {place.row}: {stage.words}."),
            ("holes_left", f"{left} to go after this one." if left else "This is the last one."),
        )

    def here(self, step: Step) -> Step:
        """One that is for all holes and is done at this one."""
        own = replace(step, answers=(*step.answers, *self.answers), one_of_many=self.one_of_many)
        return replace(own, at_the_cut=True) if isinstance(own, Touch) else own

    def step(self, step: Step) -> Step:
        """Any of them."""
        number = self.place.number
        title = f"Hole {number} of {self.of}: {step.title[:1].lower()}{step.title[1:]}"
        own = replace(self.here(step), id=f"hole-{number}-{step.id}", title=title)
        if isinstance(own, Measure):
            return replace(own, say=(f"Hole {number}.", *own.say), fact=f"hole.{number}.{own.fact}")
        if isinstance(own, Touch) and own.paper_fact:
            return replace(own, paper_fact=f"hole.{number}.{own.paper_fact}")
        return own

    def _called(self, cut: Cut) -> str:
        """The hole, and its tool, which the page tells nowhere else; not where all of it is only
        drilled."""
        told = "" if self.only_drilled else CALLED.get(cut.kind, "")
        return f"Hole {self.place.number}{', ' if told else ''}{told}"

    def cut(self, step: Step, *, first: bool) -> Step:
        """One that makes it; after the `first` hole in fewer words, where there are any."""
        own = self.step(step)
        if not isinstance(own, Cut):
            return own
        number = self.place.number
        counted = own.kind in DEPTH_IS_MEASURED
        peck = f": peck {own.number}" if own.number < own.of else ""
        return replace(
            own,
            title=f"{MAKES[own.kind]} hole {number} of {self.of}{peck}",
            say=(f"{self._called(own)}.", *(own.say if first else self.stage.each or own.say)),
            number=number,
            of=self.of,
            past_fact=_past(self.place, self.stage) if self.stage.look and counted else "",
        )

"""From the plan that a job has to the one that another version of the program makes of it.

Steps may be called otherwise there, be more or fewer, and have other numbers. Each is found by
what it is: its kind, its axis, its surface, its number. What is cut counts by its depth, so that
no metal is asked for twice under another name. Where what is done isn't all in the new plan as it
was done, or another thing would come next, it doesn't go on from there.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from assistant.jobs.plan import Plan
from assistant.jobs.steps import (
    NO_SURFACE,
    Check,
    Cut,
    Index,
    Measure,
    Move,
    Note,
    Step,
    SurfaceKey,
    Touch,
)
from assistant.session.instruct import places_of
from assistant.session.state import Change, Differs, How, Phase, State
from assistant.spoken import Figure
from assistant.units import Quantity, is_quantity

Worth = tuple[tuple[str, object], ...]
"""What a step has in numbers, each with what it is of."""


class Key(NamedTuple):
    """What a step is, whatever it is called."""

    kind: type[Step]
    axis: str
    surface: SurfaceKey
    number: int


class Made(NamedTuple):
    """A cut, by where the axis that sets its depth stands."""

    surface: SurfaceKey
    depth: Quantity
    """The way that goes deeper is positive."""
    nth: int
    """Of the cuts at that depth: the rows, the flats."""


def key_of(step: Step) -> Key:
    """The typed key of a step."""
    match step:
        case Touch():
            return Key(Touch, step.axis, NO_SURFACE, step.toward)
        case Move():
            return Key(Move, step.axis, step.surface, step.pass_number)
        case Cut():
            return Key(Cut, step.feed_axis, step.surface, step.number)
        case Measure():
            return Key(Measure, step.at_axis, step.surface, step.number)
        case Index():
            return Key(Index, "", NO_SURFACE, step.number)
    return Key(type(step), "", NO_SURFACE, 0)


def worth(step: Step) -> Worth:
    """What a step has in numbers; words and titles aside."""
    match step:
        case Touch():
            return ("toward", step.toward), ("keeps", step.keeps), ("by", step.by)
        case Move():
            return (
                ("", step.target), ("limit", step.limit), ("most", step.pass_limit),
                ("way", step.approach), ("zero", step.zero_after),
            )  # fmt: skip
        case Cut():
            return (
                ("", step.feed_target), ("limit", step.limit), ("most", step.pass_limit),
                ("way", step.feed_approach),
            )  # fmt: skip
        case Measure():
            return ("fact", step.fact), ("low limit", step.low), ("high limit", step.high)
        case Index():
            return ("turns", step.turns), ("holes", step.holes), ("circle", step.circle)
        case Note() if step.figure is not None:
            return (("", step.figure.value),)
    return ()


def _is_harmless(step: Step) -> bool:
    """Whether it can be asked for at any place: it moves and cuts nothing."""
    return isinstance(step, Check | Note) or (
        isinstance(step, Measure) and step.surface == NO_SURFACE
    )


def made_by(plan: Plan) -> Mapping[str, Made]:
    """The cuts of which a move sets the depth, by the id of their step."""
    found: dict[str, Made] = {}
    depths: dict[SurfaceKey, Quantity] = {}
    seen: Counter[tuple[SurfaceKey, str]] = Counter()
    for step in plan.steps:
        if isinstance(step, Move) and step.surface != NO_SURFACE and step.target is not None:
            depths[step.surface] = step.target * step.deeper
        elif isinstance(step, Cut) and step.surface in depths:
            depth = depths[step.surface]
            found[step.id] = Made(step.surface, depth, seen[step.surface, str(depth)])
            seen[step.surface, str(depth)] += 1
    return found


@dataclass(frozen=True)
class Carry:
    """What is done of a job, in another version's plan of it."""

    state: State
    """With the plan that it has."""
    plan: Plan
    """The other."""

    @cached_property
    def old_of(self) -> Mapping[str, Step]:
        """The old step that a new one stands for, by the new one's id: the one of the same name,
        where it is the same thing, else the first unnamed that is."""
        old = self.state.plan
        found: dict[str, Step] = {
            step.id: old.step(step.id)
            for step in self.plan.steps
            if old.has(step.id) and key_of(old.step(step.id)) == key_of(step)
        }
        unnamed: dict[Key, list[Step]] = {}
        for step in old.steps:
            if step.id not in found:
                unnamed.setdefault(key_of(step), []).append(step)
        for step in self.plan.steps:
            if step.id not in found and unnamed.get(key_of(step)):
                found[step.id] = unnamed[key_of(step)].pop(0)
        return found

    @cached_property
    def _done_cuts(self) -> Mapping[str, Made]:
        made = made_by(self.state.plan)
        return {name: one for name, one in made.items() if name in self.state.confirmed}

    @cached_property
    def covered(self) -> Mapping[str, str]:
        """The new steps that are done, each with the old one that did it."""
        made = made_by(self.plan)
        found: dict[str, str] = {}
        for step in self.plan.steps:
            old = self._covers_metal(made[step.id]) if step.id in made else self._did(step)
            if old:
                found[step.id] = old
        for move, cut in self._settings():
            if cut in found:
                found.setdefault(move, found[cut])
        return found | self._runs_back(found, made)

    def _runs_back(self, found: Mapping[str, str], made: Mapping[str, Made]) -> dict[str, str]:
        """The free moves before the last cut that is made: nobody has to make them any more."""
        cuts = [step.id for step in self.plan.steps if step.id in made and step.id in found]
        if not cuts:
            return {}
        before = self.plan.steps[: self.plan.index(cuts[-1])]
        return {
            step.id: found[cuts[-1]]
            for step in before
            if isinstance(step, Move) and step.target is None and step.id not in found
        }

    def _covers_metal(self, cut: Made) -> str:
        for name, one in self._done_cuts.items():
            same = one.surface == cut.surface and one.nth == cut.nth
            if same and one.depth >= cut.depth:
                return name
        return ""

    def _did(self, step: Step) -> str:
        old = self.old_of.get(step.id)
        if old is None or old.id not in self.state.done:
            return ""
        same = isinstance(step, Check | Note) or worth(old) == worth(step)
        return old.id if same else ""

    def _settings(self) -> Iterator[tuple[str, str]]:
        """The new moves that set a depth, each with the cut that is made at it."""
        ahead: dict[SurfaceKey, str] = {}
        for step in reversed(self.plan.steps):
            if isinstance(step, Cut):
                ahead[step.surface] = step.id
            elif isinstance(step, Move) and step.surface in ahead and step.surface != NO_SURFACE:
                yield step.id, ahead[step.surface]

    @cached_property
    def to_come(self) -> tuple[Step, ...]:
        """The new steps that aren't done."""
        sizes = self.state.belief.sizes
        return tuple(
            step
            for step in self.plan.steps
            if step.id not in self.covered
            and not (isinstance(step, Measure) and 0 < step.number <= sizes.get(step.surface, 0))
        )

    @cached_property
    def old_to_come(self) -> tuple[Step, ...]:
        """The steps of the plan that the job has, from the first that isn't done."""
        done = self.state.done
        rest = self.state.plan.steps[self.state.ahead.undone :]
        return tuple(step for step in rest if step.id not in done)

    @property
    def fits(self) -> bool:
        """Whether the new plan goes on from what is done, with the same thing."""
        here = next((step for step in self.old_to_come if not _is_harmless(step)), None)
        there = next((step for step in self.to_come if not _is_harmless(step)), None)
        if here is None or there is None:
            return here is there
        begun = isinstance(here, Cut) or self.state.phase is not Phase.ACT
        place = self.plan.index(there.id)
        later = any(name in self.covered for name in self._cuts_from(place))
        return not later and self._same(here, there, begun=begun)

    def _cuts_from(self, place: int) -> Iterator[str]:
        return (step.id for step in self.plan.steps[place:] if isinstance(step, Cut))

    def _same(self, here: Step, there: Step, *, begun: bool) -> bool:
        """Whether both come to the same: the same surface, unless it is in hand already."""
        one, other = key_of(here), key_of(there)
        if not begun and not isinstance(there, Cut) and one.surface != NO_SURFACE:
            return one.surface == other.surface
        made, making = made_by(self.state.plan).get(here.id), made_by(self.plan).get(there.id)
        return one == other and worth(here) == worth(there) and made == making

    @property
    def stands_for(self) -> tuple[tuple[str, str], ...]:
        """For `Planned`: the new steps that are done and the one at hand, by those of the plan
        that the job has."""
        here = self.state.step_id
        found = dict(self.covered)
        for name, old in self.old_of.items():
            if old.id == here:
                found.setdefault(name, here)
        return tuple(found.items())

    @property
    def changes(self) -> tuple[Change, ...]:
        """What is otherwise in the steps to come, in their order."""
        set_by_moves = {**made_by(self.state.plan), **made_by(self.plan)}
        gone = {step.id: step for step in self.old_to_come if step.id not in set_by_moves}
        found: list[Change] = []
        for step in self.to_come:
            if step.id in set_by_moves:  # told with the move
                continue
            old = self.old_of.get(step.id)
            if old is not None:
                gone.pop(old.id, None)
                found += self._between(old, step)
            else:
                found.append(Change(How.NEW, step.title, now=self._figure(step, 0)))
        found += [Change(How.GONE, step.title, self._figure(step, 0)) for step in gone.values()]
        return tuple(found)

    def _between(self, old: Step, new: Step) -> Iterator[Change]:
        was, now = worth(old), worth(new)
        for place, (before, after) in enumerate(zip(was, now, strict=False)):
            if before != after:
                one, other = self._figure(old, place), self._figure(new, place)
                yield Change(How.OTHERWISE, new.title, one, other)
                return

    def _figure(self, step: Step, place: int) -> Figure | None:
        """One of the numbers of a step; None where it has none there."""
        values = worth(step)[place : place + 1]
        what, value = values[0] if values else ("", None)
        if not is_quantity(value):
            return None
        places = step.figure.places if step.figure is not None else 3
        if isinstance(step, Move | Cut):
            axis = step.axis if isinstance(step, Move) else step.feed_axis
            places = places_of(self.state.machine.axis(axis).graduation)
        return Figure(value, what, places)

    @property
    def differs(self) -> Differs:
        """How the new plan differs, and whether it can be taken."""
        return Differs(self.changes, self.fits)

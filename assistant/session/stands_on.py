"""What the next cut stands on: the settings before it, the axes it uses, what tells their place.

All of it is looked up in the plan's row and in what is believed; none of it decides what comes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from assistant.jobs.plan import Plan
from assistant.jobs.steps import (
    NO_SURFACE,
    Cut,
    Measure,
    Move,
    Note,
    Step,
    SurfaceKey,
    Touch,
)
from assistant.session.belief import Belief
from assistant.session.row import axes_of, is_counted


@dataclass(frozen=True)
class StandsOn:
    """The plan from a place in the job, as the next cut of it sees it."""

    plan: Plan
    belief: Belief
    done: Mapping[str, int]
    """Steps done or left out, each with the record that said so."""

    @cached_property
    def undone(self) -> int:
        """The first step that isn't done; the number of steps where all are."""
        for place, step in enumerate(self.plan.steps):
            if step.id not in self.done and not self._told(step):
                return place
        return len(self.plan.steps)

    def place_of(self, at_hand: Step | None) -> Step | None:
        """The step at which the job is: the one at hand, unless that was done before and is done
        again; then the first that isn't done."""
        if at_hand is not None and at_hand.id not in self.done:
            return at_hand
        return self.plan.steps[self.undone] if self.undone < len(self.plan.steps) else None

    def _told(self, step: Step) -> bool:
        """Whether a measurement was told already, when something was in doubt."""
        return isinstance(step, Measure) and 0 < step.number <= self.belief.sizes.get(
            step.surface, 0
        )

    @cached_property
    def _cut(self) -> int:
        """The next cut that isn't made; the number of steps where none is to come."""
        for place in self.plan.cuts:
            if place >= self.undone:
                return place
        return len(self.plan.steps)

    @cached_property
    def _last_cut(self) -> int:
        """The last cut that is made; -1 where none is."""
        return max((place for place in self.plan.cuts if place < self.undone), default=-1)

    def _touch_of(self, axis: str) -> int | None:
        """The touch that gives an axis the zero from which it is counted next: the first of two
        that belong together."""
        found = None
        for place, step in enumerate(self.plan.steps[: self.undone]):
            if isinstance(step, Touch) and step.axis == axis and not step.keeps:
                found = place
        return found

    @cached_property
    def setters(self) -> Mapping[str, int]:
        """Axis -> the move that brings it to where it stands in the next cut."""
        found: dict[str, int] = {}
        end = min(self._cut, len(self.plan.steps) - 1)
        if self._cut == len(self.plan.steps):
            end = min(self.undone, end)
        for place, step in enumerate(self.plan.steps[: end + 1]):
            if isinstance(step, Touch) or (isinstance(step, Move) and not is_counted(step)):
                found.pop(step.axis, None)
            elif isinstance(step, Move):
                found[step.axis] = place
            elif isinstance(step, Cut) and place < end and not step.feed_returns:
                for axis in axes_of(step):  # it stays where the feed ended
                    found.pop(axis, None)
        return found

    @cached_property
    def used(self) -> tuple[str, ...]:
        """The axes that the next cut stands on and that aren't touched on the way to it."""
        steps = self.plan.steps
        ahead = steps[self.undone : self._cut + 1]
        if self._cut == len(steps):
            ahead = steps[self.undone : self.undone + 1]
        first: dict[str, bool] = {}
        for step in ahead:
            if isinstance(step, Touch):
                first.setdefault(step.axis, bool(step.keeps))
            for axis in axes_of(step):
                first.setdefault(axis, True)
        for axis in (*self.setters, *self._stops):
            first.setdefault(axis, True)
        return tuple(axis for axis, needed in first.items() if needed)

    @property
    def _stops(self) -> Iterator[str]:
        """The axes whose stop ends the next cut: they are fed by no dial, and yet a stop is worth
        nothing without the touch that it was set from."""
        cut = self.plan.steps[self._cut] if self._cut < len(self.plan.steps) else None
        for step in reversed(self.plan.steps[: self.undone]):
            if isinstance(step, Touch) and isinstance(cut, Cut) and step.axis == cut.feed_axis:
                return
            if isinstance(step, Note) and step.counts_from:
                yield step.counts_from
                return

    def surface_by(self, axis: str) -> SurfaceKey | None:
        """What was cut and tells where the axis stands, where that is better than to touch again:
        the depth that it sets for the next cut, where some of that is cut; else, where what was
        touched is cut away, the last that it set since."""
        place, touch = self.setters.get(axis), self._touch_of(axis)
        move = self.plan.steps[place] if place is not None else None
        cut = self._cut_since_touch(axis)
        found = self.plan.steps[touch] if touch is not None else None
        gone = isinstance(found, Touch) and not found.stays
        own = move.surface if isinstance(move, Move) else NO_SURFACE
        if own != NO_SURFACE and own in cut and (gone or axis == self.plan.depth_axis):
            return own
        return cut[-1] if cut and gone else None

    def _cut_since_touch(self, axis: str) -> list[SurfaceKey]:
        """The surfaces that the axis set since it was touched, of which a cut is made."""
        begins = self._touch_of(axis) or 0
        row = self.plan.steps[begins : self.undone]
        own = {s.surface for s in self.plan.steps if isinstance(s, Move) and s.axis == axis}
        return [s.surface for s in row if isinstance(s, Cut) and s.surface in own and s.surface]

    def goes_clear(self, axis: str) -> bool:
        """Whether the axis has to be moved out of the way of a touch: what sets the depth of the
        next cut, and what is fed by its dial."""
        place = self.setters.get(axis)
        move = self.plan.steps[place] if place is not None else None
        cut = self.plan.steps[self._cut] if self._cut < len(self.plan.steps) else None
        deep = isinstance(move, Move) and move.surface != NO_SURFACE
        return deep or (cut is not None and axis in axes_of(cut))

    def setter_of(self, surface: SurfaceKey) -> str:
        """The axis that sets the depth of a surface; '' where none does."""
        for step in self.plan.steps:
            if isinstance(step, Move) and step.surface == surface:
                return step.axis
        return ""

    def measure_of(self, surface: SurfaceKey) -> Measure | None:
        """The measurement that tells how deep a surface is: the next one, else the last; None where
        none does, or none can yet, since a second cut beside it is still to come."""
        if surface == NO_SURFACE:
            return None
        cuts = [s for s in self.plan.steps[: self.undone + 1] if isinstance(s, Cut)]
        if cuts and cuts[-1].alone and cuts[-1].surface == surface:
            return None
        found = None
        for place, step in enumerate(self.plan.steps):
            if isinstance(step, Measure) and surface in (step.surface, step.instead):
                found = step
                if place >= self.undone:
                    break
        return found

    def _is_measured(self, surface: SurfaceKey) -> bool:
        """Whether any measurement of the job tells how deep the surface is."""
        named = (s.surface for s in self.plan.steps if isinstance(s, Measure))
        return surface != NO_SURFACE and surface in named

    def _measured_since_cut(self, surface: SurfaceKey) -> bool:
        """Whether nothing was cut of it since it was measured."""
        cuts = (
            self.done[step.id]
            for step in self.plan.steps[: self.undone]
            if isinstance(step, Cut) and step.surface == surface and step.id in self.done
        )
        return self.belief.measured.get(surface, 0) > max(cuts, default=0)

"""What comes next: the one function of plan, belief and place that says so.

The plan's steps are what has to be, in the order of the plain way. What comes is the first of them
that isn't done, unless something before it that the next cut stands on doesn't hold any more: a
touch whose zero was lost, a check of work that moved, a place that has to be set again. On the
plain way all of that holds, and the steps simply follow each other; after trouble the same
function leads back to where the job was. What the step at hand stands on and nobody knows is asked
for by the cheapest question: read the dial, measure, come to what was cut, touch.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from assistant.jobs.plan import Plan
from assistant.jobs.steps import (
    NO_SURFACE,
    Cut,
    Ground,
    Index,
    Measure,
    Move,
    Note,
    Step,
    SurfaceKey,
    Touch,
)
from assistant.session.belief import CRANK, Belief, Doubt, DoubtKind
from assistant.session.row import axes_of, belongs_to_a_touch, is_counted, is_divided

_READ = {Ground.PLACE: DoubtKind.DIAL, Ground.TURN: DoubtKind.TURN, Ground.AWAY: DoubtKind.TURN}


@dataclass(frozen=True)
class Ahead:
    """The plan from a place in the job."""

    plan: Plan
    belief: Belief
    done: Mapping[str, int]
    """Steps done or left out, each with the record that said so."""

    # -- the step ---------------------------------------------------------------------------

    @cached_property
    def undone(self) -> int:
        """The first step that isn't done; the number of steps where all are."""
        for place, step in enumerate(self.plan.steps):
            if step.id not in self.done and not self._told(step):
                return place
        return len(self.plan.steps)

    def _told(self, step: Step) -> bool:
        """Whether a measurement was told already, when something was in doubt."""
        return isinstance(step, Measure) and 0 < step.number <= self.belief.sizes.get(
            step.surface, 0
        )

    def step(self) -> Step | None:
        """What comes next; None at the end of the job."""
        place = self.undone
        if place == len(self.plan.steps):
            return None
        if self.belief.shaken or self.plan.changes_what_it_stands_on:
            place = min((place, *self._due()))
        return self.plan.steps[place]

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

    def _due(self) -> Iterator[int]:
        """The steps before the one that isn't done that have to be done again."""
        steps, done = self.plan.steps, self.done
        touches = set(self._touches())
        touched = 0
        for place, step in enumerate(steps[: self.undone]):
            when = done.get(step.id)
            if when is None:  # told in doubt
                continue
            again = place in touches or self._shaken(step, place, when)
            if isinstance(step, Touch | Move) and belongs_to_a_touch(step):
                again = again or self._zeroed_since(step.axis, place, when)
            elif isinstance(step, Move) and self.setters.get(step.axis) == place:
                again = again or self._stands_elsewhere(step, when)
            elif isinstance(step, Move | Note | Index) and place > self._last_cut:
                # on the way from the touch, as a knee that goes down before the table goes over
                again = again or when < touched
            if again:
                yield place
            if isinstance(step, Touch) or (isinstance(step, Note) and Ground.TOOL in step.rests):
                touched = max(touched, when)

    def _shaken(self, step: Step, place: int, when: int) -> bool:
        """Whether what a step rests on was shaken since it was done, and no later step made it
        anew."""
        later = self.plan.steps[place + 1 : self.undone]
        return any(
            self.belief.since(ground) > when and not any(ground in one.anew for one in later)
            for ground in step.rests
        )

    def _touches(self) -> Iterator[int]:
        """The touches that are due: those of axes that are used next and have lost their zero,
        where no cut surface tells it."""
        for axis in self.used:
            if not self.belief.zero_lost(axis) or self.surface_by(axis) is not None:
                continue
            place = self._touch_of(axis)
            if place is not None:
                yield place

    def _touch_of(self, axis: str) -> int | None:
        """The touch that gives an axis the zero from which it is counted next: the first of two
        that belong together."""
        found = None
        for place, step in enumerate(self.plan.steps[: self.undone]):
            if isinstance(step, Touch) and step.axis == axis and not step.keeps:
                found = place
        return found

    def _zeroed_since(self, axis: str, place: int, when: int) -> bool:
        """Whether the touch that a step belongs to was done again since."""
        for step in reversed(self.plan.steps[:place]):
            if isinstance(step, Touch) and step.axis == axis:
                return self.done.get(step.id, 0) > when
        return False

    def _stands_elsewhere(self, move: Move, when: int) -> bool:
        """Whether the axis was moved away since it was set for the next cut, or was found anew
        since and isn't there."""
        if self._cut == len(self.plan.steps):
            return False
        here = self.plan.steps[self.undone] if self.undone < len(self.plan.steps) else None
        lost = self.belief.lost(move.axis)
        if lost is Ground.AWAY:
            return True
        if lost is not None and lost not in _READ:
            # found again before anything else is set; but for the depth of the cut at hand, which
            # it is in
            return not (isinstance(here, Cut) and here.surface == move.surface != NO_SURFACE)
        feeds = isinstance(here, Cut) and move.axis in axes_of(here)
        if feeds and self._touched_last < when:
            return False  # it is on its way along the cut
        now = self.belief.axes[move.axis]
        return now.found_at > when and now.position != move.target

    @cached_property
    def _touched_last(self) -> int:
        """When anything was touched last."""
        touches = (self.done.get(s.id, 0) for s in self.plan.steps if isinstance(s, Touch))
        return max(touches, default=0)

    # -- what it stands on ------------------------------------------------------------------

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
        for axis in self.setters:
            first.setdefault(axis, True)
        return tuple(axis for axis, needed in first.items() if needed)

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

    # -- what is asked ----------------------------------------------------------------------

    def unknown(self, step: Step | None) -> tuple[Doubt, ...]:
        """What has to be told before the number of a step is given, the first to be asked first."""
        if not self.belief.shaken or step is None:
            return ()
        broken = [Doubt(DoubtKind.PIECE)] if self.belief.unsure(Ground.PIECE) else []
        found = [*broken, *self._on_coming_back(), *self._of_the_step(step)]
        return tuple(dict.fromkeys(found))

    def _on_coming_back(self) -> Iterator[Doubt]:
        """After a resume nothing is given before the dials in hand were read, and it was told
        whether anything moved."""
        if not self.belief.unsure(Ground.HELD):
            return
        for axis in self.belief.axes:
            lost = self.belief.lost(axis)
            if lost in _READ:
                yield Doubt(_READ[lost], axis)
        yield Doubt(DoubtKind.MOVED)

    def _of_the_step(self, step: Step) -> Iterator[Doubt]:
        axes: tuple[str, ...] = ()
        if isinstance(step, Cut):
            axes = tuple(dict.fromkeys((*self.setters, *axes_of(step))))
        elif isinstance(step, Move):
            axes = axes_of(step)
        if isinstance(step, Index | Cut) and is_divided(self.plan):
            yield from self._of_the_crank()
        sets = isinstance(step, Cut | Note | Index) and not self.plan.finds_the_tool
        if sets and self.belief.unsure(Ground.TOOL):
            yield Doubt(DoubtKind.TOOL)
        if isinstance(step, Note) and Ground.TOOL in step.rests and step.id in self.done:
            yield from self._before_the_tool_is_set(step)
        if isinstance(step, Cut | Move) and self.belief.unsure(Ground.METAL, step.surface):
            yield from self._of_the_metal(step.surface)
        for axis in axes:
            lost = self.belief.lost(axis)
            if lost in _READ:
                yield Doubt(_READ[lost], axis)
        for axis in axes:
            lost = self.belief.lost(axis)
            if lost is not None and lost not in _READ:
                yield from self._to_find(axis, lost)

    def _of_the_metal(self, surface: SurfaceKey) -> Iterator[Doubt]:
        """How deep a surface is cut: it is measured, or looked at where nothing measures it."""
        if self.measure_of(surface) is not None:
            yield Doubt(DoubtKind.METAL, self.setter_of(surface), surface)
        elif not self._is_measured(surface):
            yield Doubt(DoubtKind.LOOK, self.setter_of(surface), surface)

    def _to_find(self, axis: str, lost: Ground) -> Iterator[Doubt]:
        """How the place of an axis is found again: by what it cut, else by its touch."""
        surface = self.surface_by(axis)
        place = self._touch_of(axis)
        touch = self.plan.steps[place] if place is not None else None
        stays = isinstance(touch, Touch) and touch.stays and lost is Ground.COUNT
        if surface is None or (stays and self.measure_of(surface) is None):
            if lost is Ground.COUNT:
                yield Doubt(DoubtKind.TOUCH, axis)
            return
        if self.measure_of(surface) is not None and not self._measured_since_cut(surface):
            yield Doubt(DoubtKind.METAL, axis, surface)
        yield Doubt(DoubtKind.FLOOR, axis, surface)

    def _before_the_tool_is_set(self, step: Note) -> Iterator[Doubt]:
        """What another tool is set by, where no axis of the machine is touched: what is cut."""
        cut = self.plan.steps[self._cut] if self._cut < len(self.plan.steps) else None
        surface = cut.surface if isinstance(cut, Cut) else NO_SURFACE
        if self.belief.since(Ground.TOOL) <= max(
            self.done[step.id], self.belief.measured.get(surface, 0)
        ):
            return
        cuts = {s.surface for s in self.plan.steps[: self._last_cut + 1] if isinstance(s, Cut)}
        if surface in cuts or isinstance(self.plan.steps[self.undone], Cut):
            yield Doubt(DoubtKind.METAL, "", surface)

    def _of_the_crank(self) -> Iterator[Doubt]:
        moved = self.belief.since(Ground.WORK) > self.belief.found.get((Ground.COUNT, CRANK), 0)
        if self.belief.unsure(Ground.COUNT, CRANK) or (moved and self._last_cut >= 0):
            yield Doubt(DoubtKind.CRANK, CRANK)

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

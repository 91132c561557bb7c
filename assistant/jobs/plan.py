"""The whole job worked out: every step in its order, and the results that they came from.

What follows from the steps alone, whatever was told or done, is worked out once for each plan.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from assistant.jobs.steps import NO_SURFACE, Answer, Cut, Ground, Move, Step, Touch
from assistant.spoken import Figure
from assistant.units import Quantity, magnitude


def in_unit(size: Quantity, unit: str) -> float:
    """A dimension of the drawing: lengths in the plan's unit, angles and counts as they are."""
    return float(magnitude(size, unit) if size.check("[length]") else size.magnitude)


@dataclass(frozen=True)
class Seat:
    """The passes that belong together: with several seats, those of one."""

    cuts: tuple[Cut, ...]
    first: int
    """The place of the first of them in the plan."""
    last: int
    unit: str

    @cached_property
    def depths(self) -> tuple[float, ...]:
        """How deep each is, in the plan's unit."""
        return tuple(float(magnitude(cut.depth, self.unit)) for cut in self.cuts)

    @cached_property
    def left(self) -> tuple[float, ...]:
        """What each leaves to be cut, in the plan's unit."""
        return tuple(float(magnitude(cut.left, self.unit)) for cut in self.cuts)


@dataclass(frozen=True)
class Plan:
    """The whole job worked out: every step, and the results they came from."""

    title: str
    operation: str
    unit: str
    """`inch` or `mm`: what the job is spoken and shown in."""
    steps: tuple[Step, ...]
    results: tuple[tuple[str, Figure], ...] = ()
    """Named results with their derivations: `depth from the top`, `over the key` ..."""
    sources: tuple[str, ...] = ()
    verdict: str = ""
    """The last measurement's verdict in shop words, where there is one: `two over the limit`."""
    answers: tuple[tuple[str, Answer], ...] = ()
    """The operation's own questions, answered in any step: intent -> figure or sentence."""
    depth_axis: str = ""
    full_depth: Quantity | None = None
    new_tool: str = "Try its width in scrap first. Then touch both again."
    """What is said where another cutter is fitted in the middle of it."""
    drawing_kind: str = ""
    """Which scale drawing shows it: `keyseat`, `bolt circle` ..."""
    drawing: tuple[tuple[str, Quantity], ...] = field(default=())
    """Dimensions for the scale drawing, by name: `shaft`, `key_width`, `cutter`, `depth` ..."""

    @cached_property
    def _places(self) -> Mapping[str, int]:
        return {step.id: place for place, step in enumerate(self.steps)}

    @cached_property
    def cuts(self) -> tuple[int, ...]:
        """The places of the cuts, in their order."""
        return tuple(place for place, step in enumerate(self.steps) if isinstance(step, Cut))

    @cached_property
    def traced(self) -> bool:
        """Whether any cut goes along one groove in step with the spindle."""
        return any(step.traced for step in self.steps if isinstance(step, Cut))

    @cached_property
    def finds_the_tool(self) -> bool:
        """Whether a touch or a setting of it tells how the tool stands, so that another is found by
        the same again."""
        return any(
            Ground.TOOL in (step.by if isinstance(step, Touch) else step.rests)
            for step in self.steps
        )

    @cached_property
    def changes_what_it_stands_on(self) -> bool:
        """Whether any step makes anew what others stand on: another tool, the work turned over."""
        return any(step.anew for step in self.steps)

    @cached_property
    def furthest(self) -> Mapping[str, Quantity]:
        """How far from its zero each axis is ever sent, either way; in its dial's unit."""
        found: dict[str, Quantity] = {}
        for step in self.steps:
            for axis, place in _places(step):
                if place is not None:
                    found[axis] = max(found.get(axis, place), place, place * -1)
        return found

    @cached_property
    def seats(self) -> tuple[Seat, ...]:
        """The passes to each depth. They are numbered from 1 in every seat; several rows have
        passes of the same number. Cuts that go to no full depth, as spots and trial cuts, belong
        to none."""
        found: list[list[int]] = []
        before: Cut | None = None
        for place in self.cuts:
            cut = self.steps[place]
            if not isinstance(cut, Cut) or cut.remaining is None:
                continue
            if before is None or _begins(cut, before):
                found.append([])
            found[-1].append(place)
            before = cut
        return tuple(
            Seat(
                tuple(cut for cut in map(self.steps.__getitem__, seat) if isinstance(cut, Cut)),
                seat[0], seat[-1], self.unit,
            )
            for seat in found
        )  # fmt: skip

    @cached_property
    def drawn(self) -> Mapping[str, float]:
        """The dimensions of its drawing as plain numbers, in its unit."""
        return {name: in_unit(size, self.unit) for name, size in self.drawing}

    def has(self, step_id: str) -> bool:
        """Whether there is a step of that id."""
        return step_id in self._places

    def index(self, step_id: str) -> int:
        """Place of a step, from 0; KeyError where the plan has no such step."""
        return self._places[step_id]

    def step(self, step_id: str) -> Step:
        """The step of that id."""
        return self.steps[self._places[step_id]]

    def result(self, name: str) -> Figure | None:
        """A named result."""
        return dict(self.results).get(name)


def _begins(cut: Cut, before: Cut) -> bool:
    """Whether a seat begins with this cut: the numbers begin anew, or what is cut in one pass is
    followed by something else, and no further row."""
    if cut.number == before.number:
        return cut.of == 1 and not cut.surface == before.surface != NO_SURFACE
    return cut.number < before.number


def _places(step: Step) -> tuple[tuple[str, Quantity | None], ...]:
    """Where a step sends an axis, counted from its zero."""
    match step:
        case Move():
            return ((step.axis, step.target),)
        case Touch():
            return ((step.axis, step.near),)
        case Cut():
            return ((step.feed_axis, step.feed_target),)
    return ()


NO_PLAN = Plan(title="", operation="", unit="inch", steps=())
"""Where no job is open."""

"""What is made at a place: a hole of one tool after another, plain or tapped."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from assistant.fields import Fields
from assistant.jobs.drilling.hole import Hole, ToolWork, read_hole
from assistant.jobs.drilling.hole_steps import deburr, hole_results, hole_stages, pilot_first
from assistant.jobs.drilling.quill import Quill
from assistant.jobs.drilling.stage import Stage, whole
from assistant.jobs.drilling.tapped import (
    ByHand,
    Tapped,
    read_tapped,
    tapped_answers,
    tapped_drawing,
    tapped_results,
    tapped_sources,
    thread_stages,
)
from assistant.jobs.steps import Answer, Facts, Step
from assistant.machine import Machine
from assistant.spoken import Figure
from assistant.units import Quantity, magnitude

Sizes = tuple[tuple[str, Quantity], ...]


class Made(Protocol):
    """What a plan asks of each."""

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""

    @property
    def tools(self) -> tuple[ToolWork, ...]:
        """All that is fed in, in its order."""

    @property
    def main(self) -> ToolWork:
        """The one whose speed may be chosen."""

    @property
    def widest(self) -> Quantity:
        """How wide it is at its widest."""

    @property
    def through(self) -> bool:
        """Whether it comes out at the back."""

    @property
    def depth_by(self) -> str:
        """`dial` or `scale`."""

    @property
    def drawing(self) -> Sizes:
        """Its sizes for the drawing of a hole."""

    @property
    def sources(self) -> tuple[str, ...]:
        """Where its numbers are from."""

    @property
    def answers(self) -> tuple[tuple[str, Answer], ...]:
        """The questions that it answers at any step."""

    def steps(self, quill: Quill, facts: Facts) -> list[Step]:
        """From the first tool to the last."""

    def results(self, machine: Machine, facts: Facts) -> tuple[tuple[str, Figure], ...]:
        """Named results."""


class Staged(Made, Protocol):
    """One that goes tool after tool, so that a pattern can have many of it."""

    @property
    def first(self) -> list[Step]:
        """What is said before the first tool."""

    def stages(self, quill: Quill, facts: Facts) -> list[Stage]:
        """Each tool and what is done with it, in their order."""

    def last(self, quill: Quill) -> list[Step]:
        """What is done once all tools are through."""


@dataclass(frozen=True, eq=False)
class PlainHole:
    """Drilled, and reamed, counterbored or countersunk."""

    hole: Hole
    sources: tuple[str, ...] = ("geometry", "common practice")
    answers: tuple[tuple[str, Answer], ...] = ()

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.hole.unit

    @property
    def tools(self) -> tuple[ToolWork, ...]:
        """All that is fed in, in its order."""
        return self.hole.tools

    @property
    def main(self) -> ToolWork:
        """The drill."""
        return self.hole.main

    @property
    def widest(self) -> Quantity:
        """Of the widest tool."""
        return max((one.tool.dia for one in self.tools), key=lambda dia: magnitude(dia, self.unit))

    @property
    def through(self) -> bool:
        """Whether it comes out at the back."""
        return self.hole.through

    @property
    def depth_by(self) -> str:
        """`dial` or `scale`."""
        return self.hole.depth_by

    @property
    def drawing(self) -> Sizes:
        """Its sizes for the drawing of a hole."""
        return self.hole.drawing

    def steps(self, quill: Quill, facts: Facts) -> list[Step]:
        """From the first tool to the last."""
        return [*self.first, *whole(self.stages(quill, facts)), *self.last(quill)]

    @property
    def first(self) -> list[Step]:
        """A pilot, where the job names none for a large drill."""
        return pilot_first(self.hole)

    def stages(self, quill: Quill, facts: Facts) -> list[Stage]:
        """Each tool and what is done with it, in their order."""
        return hole_stages(quill, self.hole, facts)

    def last(self, quill: Quill) -> list[Step]:
        """Deburred."""
        return [deburr(quill)]

    def results(self, machine: Machine, facts: Facts) -> tuple[tuple[str, Figure], ...]:
        """Speed, feed, and how deep each tool goes."""
        return hole_results(self.hole, machine, facts)


@dataclass(frozen=True, eq=False)
class TappedHole:
    """Drilled for a tap, sunk, and tapped by hand."""

    tapped: Tapped
    by_hand: ByHand

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.tapped.unit

    @property
    def tools(self) -> tuple[ToolWork, ...]:
        """All that is fed in by the wheel."""
        return self.tapped.tools

    @property
    def main(self) -> ToolWork:
        """The drill."""
        return self.tapped.drill

    @property
    def widest(self) -> Quantity:
        """Of its mouth."""
        return self.tapped.sink.tool.dia

    @property
    def through(self) -> bool:
        """Whether it comes out at the back."""
        return self.tapped.through

    @property
    def depth_by(self) -> str:
        """`dial` or `scale`."""
        return self.tapped.depth_by

    @property
    def drawing(self) -> Sizes:
        """Its sizes for the drawing of a hole."""
        return tapped_drawing(self.tapped)

    @property
    def sources(self) -> tuple[str, ...]:
        """Where its numbers are from."""
        return tapped_sources(self.tapped)

    @property
    def answers(self) -> tuple[tuple[str, Answer], ...]:
        """The drill, and the turns of the tap."""
        return tapped_answers(self.tapped)

    def steps(self, quill: Quill, facts: Facts) -> list[Step]:
        """From the first tool to the tap."""
        return whole(self.stages(quill, facts))

    @property
    def first(self) -> list[Step]:
        """Nothing: its drill is told with its tool."""
        return []

    def stages(self, quill: Quill, facts: Facts) -> list[Stage]:
        """Each tool and what is done with it, in their order."""
        return thread_stages(quill, self.tapped, self.by_hand, facts)

    def last(self, quill: Quill) -> list[Step]:
        """Nothing: it is tried when it is tapped."""
        return []

    def results(self, machine: Machine, facts: Facts) -> tuple[tuple[str, Figure], ...]:
        """Speed, feed, drill, percentage and turns."""
        return tapped_results(self.tapped, machine, facts)


def read_staged(
    fields: Fields, kind: str, unit: str, material: str, ways: tuple[str, ...], by_hand: ByHand
) -> Staged:
    """The `[hole]` or `[thread]` table, as `kind` says, with the `ways` by which its depth can be
    kept; every error is a `BadFile` that names file, key and value."""
    table = fields.table_at(kind)
    if kind == "hole":
        return PlainHole(read_hole(table, unit, material, ways))
    return TappedHole(read_tapped(table, unit, material, ways), by_hand)


def which_of(fields: Fields, kinds: tuple[str, ...]) -> str:
    """The one of those tables that the file has."""
    given = [kind for kind in kinds if kind in fields.table]
    if len(given) != 1:
        what = f"[{given[1]}] as well as [{given[0]}]" if given else "missing"
        named = ", ".join(f"[{kind}]" for kind in kinds)
        fields.fail(given[1] if given else kinds[0], what, f"wanted one of {named}")
    return given[0]

"""One tool in one hole, as a hole alone and a hole of a pattern both go through it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from assistant.jobs.steps import Step


@dataclass(frozen=True)
class Stage:
    """What is done with one tool, in its order. A hole alone goes through all of it; over a pattern
    it is fitted and set once, and cuts and is looked at hole by hole."""

    name: str
    """In ids of steps: `drill`, `tap`."""
    words: str
    """What is in the spindle: `letter F drill`."""
    fit: tuple[Step, ...]
    """Fitted, and its speed set."""
    set: tuple[Step, ...]
    """Touched, and its stop set: what its depth is counted from."""
    cut: tuple[Step, ...]
    """To its depth, peck by peck; the last of them is the whole of it."""
    look: tuple[Step, ...] = ()
    """What it made is measured; after a measurement that is off, what follows from it."""
    main: bool = False
    """The one whose speed the operator may choose."""
    each: tuple[str, ...] = ()
    """Said instead of the words of the cut, where it comes often: at the later holes of many."""

    @property
    def steps(self) -> tuple[Step, ...]:
        """All of it, in one hole."""
        return (*self.fit, *self.set, *self.cut, *self.look)


def whole(stages: Iterable[Stage]) -> list[Step]:
    """The steps of one hole, tool after tool."""
    return [step for stage in stages for step in stage.steps]

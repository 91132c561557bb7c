"""A step at hand, as far as a drawing shows it: what was said to be done, and what was told."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass

from assistant.jobs.plan import Plan
from assistant.jobs.plan import in_unit as in_unit
from assistant.jobs.steps import Cut, Facts, Move, Step

Sizes = dict[str, float]
"""Sizes of a drawing by name, in the plan's unit."""


@dataclass(frozen=True)
class Moment:
    """Where the work is."""

    plan: Plan
    step: Step
    confirmed: Collection[str]
    """Ids of the steps that were said to be done."""
    facts: Facts

    def done(self, begins: str = "") -> list[Cut]:
        """Cuts said to be through, in their order."""
        return [
            step
            for step in self.plan.steps
            if isinstance(step, Cut) and step.id in self.confirmed and step.id.startswith(begins)
        ]


Now = Mapping[str, Callable[[Moment], Sizes]]
"""Kind of drawing -> what it shows of the step at hand beside a depth and a touch."""
Planned = Mapping[str, Callable[[Plan], Sizes]]
"""Kind of drawing -> what it shows on paper beside the sizes of the plan."""


def coming_cut(plan: Plan, step: Step) -> Cut | None:
    """The cut at hand, or the one that a depth move is for."""
    if isinstance(step, Cut):
        return step
    if not isinstance(step, Move) or step.depth_after is None:
        return None
    for later in plan.steps[plan.index(step.id) + 1 :]:
        if isinstance(later, Cut):
            return later
    return None

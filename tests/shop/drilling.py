"""Holes made by a quill: the tools that are fitted, the stop, the work that they go into."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from assistant.jobs.steps import Cut, Move, Note, Step, Touch
from assistant.present.glance import Glance
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist, Work


@dataclass
class Tool:
    """Something for the spindle, with how its end goes into the work."""

    across: float
    point: float = 118
    """Degrees; 180 for a flat end."""

    @property
    def tip(self) -> float:
        """Length of its end till it is of full diameter."""
        return self.across / 2 / math.tan(math.radians(self.point / 2))


@dataclass
class Cutting:
    """What one tool has cut in one place."""

    tool: str
    x: float
    """Where the spindle was over the work, from the work's left and front."""
    y: float
    depth: float
    """Of the tool's end below the face."""


class Drilled(Work):
    """Work before a quill: every tool is of its own length."""

    feeds = "quill"
    """The axis that feeds them."""

    def __init__(
        self,
        tools: Mapping[str, Tool],
        chance: random.Random,
        wheels: Mapping[str, Handwheel],
    ) -> None:
        self.tools = tools
        stroke = wheels[self.feeds].per_turn
        self.face_at = {name: chance.uniform(-3, 3) * stroke for name in tools}
        """Where the quill stands with each tool's end on the face."""
        self.fitted = ""
        self.cuttings: list[Cutting] = []

    def over(self, at: Mapping[str, float]) -> tuple[float, float]:
        """Where the spindle stands over the work."""
        return 0.0, 0.0

    def made_here(self, at: Mapping[str, float]) -> list[Cutting]:
        """What was cut in that place."""
        x, y = self.over(at)
        far = min((tool.across for tool in self.tools.values()), default=0) / 2
        return [one for one in self.cuttings if math.hypot(one.x - x, one.y - y) < far]

    def mouth(self, here: list[Cutting]) -> float:
        """How wide the hole is at the face."""
        return max(
            self.tools[one.tool].across * min(1, one.depth / (self.tools[one.tool].tip or 1e-9))
            for one in here
        )

    def contact(self, touch: Touch) -> float:
        raise AssertionError(touch.surface)

    def touched_face(self, touch: Touch, at: Mapping[str, float]) -> float:
        """Where the quill stands with the tool's end on what it is told to be touched to."""
        begun = self.made_here(at)
        if touch.surface == "the face":
            assert not begun, "the point would sink into the hole that is begun"
        elif touch.surface == "a feeler on the face":
            assert begun, "a feeler over no hole"
        elif touch.surface == "the edge of the hole":
            # its cone meets the edge where it is as wide as the hole is there
            across = self.mouth(begun)
            cone = Tool(across, self.tools[self.fitted].point)
            return self.face_at[self.fitted] + cone.tip
        else:
            raise AssertionError(touch.surface)
        return self.face_at[self.fitted]

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        depth = at[self.feeds] - self.face_at[self.fitted]
        if cut.kind == "spotting":
            depth = self.tools[self.fitted].tip / 2
        self.cuttings.append(Cutting(self.fitted, *self.over(at), depth))

    def size(self, fact: str) -> float:
        raise AssertionError(fact)


D = TypeVar("D", bound=Drilled)


class Driller(Machinist[D]):
    """Fits tools as told, sets the stop, and keeps the tool out of the work on the way."""

    low = False
    """Whether edge finder or tool reach below the top of the work."""
    stop: float | None = None
    """Where the quill stands on its stop."""
    stop_at = 0.0
    """For what depth it was set."""

    @property
    def quill(self) -> Handwheel:
        return self.wheels[self.work.feeds]

    def do(self, step: Step) -> None:
        if isinstance(step, Note):
            shown = self.job.glance
            if fit := re.match(r"(?:Spindle off\. )?Fit the (.+?)\. ", shown.instruction):
                self.work.fitted = fit[1]
                assert self.work.fitted in self.work.tools, f"no such tool: {self.work.fitted}"
            elif shown.instruction.startswith("Set the stop, counted from the touch."):
                # common practice, no source: a stop is set to about a division of the dial
                off = self.chance.uniform(-1, 1) * self.quill.graduation
                self.stop_at = float(shown.number)
                self.stop = self.quill.zero + self.stop_at + off
        super().do(step)

    def paper(self, step: Touch) -> float:
        if step.axis != self.work.feeds:
            return super().paper(step)
        if not step.paper_fact:
            return 0.0
        feelers = {"inch": (0.008, 0.01, 0.015), "mm": (0.2, 0.25, 0.3)}
        self.papers[step.axis] = self.chance.choice(feelers[self.unit])
        return self.papers[step.axis]

    def touch(self, step: Touch) -> None:
        if step.axis != self.work.feeds:
            self.low = True
            self.work.fitted = ""  # the tip that finds edges is in the spindle
        super().touch(step)

    def move(self, step: Move) -> None:
        told = self.job.glance.instruction.lower()
        if "raise it clear" in told:
            self.low = False
        if "feeler away" in told or "edge finder out" in told:
            self.low = False
        if "quill up clear" in told:
            self.low = False
            self.quill.back_to_zero(-2 * self.quill.per_turn)
        if step.axis in ("table", "saddle"):
            assert not self.low, "moved sideways with the tool beside the work or in it"
        super().move(step)

    def cut(self, step: Cut) -> None:
        if step.kind not in ("spotting", "tapping"):
            self.let_back()
            self.not_by_the_dial(self.job.glance)
        super().cut(step)
        self.low = True

    def let_back(self) -> None:
        """A lever lets it up by itself, wherever it was left."""
        self.quill.back_to_zero()

    def not_by_the_dial(self, shown: Glance) -> None:
        """Down to the stop, where that is what is told."""
        if "Move the stop down by what is short." in shown.instruction:
            assert self.stop is not None
            self.stop += float(shown.number) - self.stop_at
            self.stop_at = float(shown.number)
        if "down to the stop" in shown.instruction.lower():
            assert self.stop is not None, "no stop was set"
            self.quill.turn(self.stop - self.quill.screw)

"""A block whose sides are milled from outside, seen from above, and a machinist who mills them.

Right and back are positive: x and y are counted from somewhere in the middle of the block, which
the slides carry under a cutter that stands still and turns clockwise. Whether a cut climbs is found
from the teeth where they meet the metal. What is said is done in the order in which it is said.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.jobs.steps import Cut, Measure, Move, Step, Touch
from assistant.session.state import Phase
from tests.factories import Job, expected_words
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist

AXES = {
    "right": ("table", 1),
    "left": ("table", -1),
    "back": ("saddle", 1),
    "front": ("saddle", -1),
}
"""Of each side: the slide that carries the block square to it, and the way out of the block."""
WAYS = {"right": 1, "left": -1, "in": 1, "out": -1}
CORNERS = {"right end": ("table", 1), "left end": ("table", -1), "back": ("saddle", 1),
           "front": ("saddle", -1)}  # fmt: skip


@dataclass(frozen=True)
class Took:
    """What one feed took."""

    step: str
    side: str
    deep: float
    climbed: bool


class Outside:
    """The block under the cutter. `scale` is 1 for millimetres, 1/25.4 for inches."""

    def __init__(
        self, chance: random.Random, wheels: Mapping[str, Handwheel], *, scale: float,
        size: tuple[float, float], diameter: float, high: float, down: str = "knee",
    ) -> None:  # fmt: skip
        self.chance, self.wheels, self.scale, self.down = chance, wheels, scale, down
        length, width = size
        self.out = {"right": length / 2, "left": length / 2, "back": width / 2, "front": width / 2}
        """How far the highest place of each side lies from the middle."""
        self.hollow = {side: chance.uniform(0.05, 0.7) * scale for side in self.out}
        """How far its lowest place lies below that."""
        self.rough = dict(self.out)
        self.radius = diameter / 2 - chance.uniform(0, 0.1) * scale
        self.spring = chance.uniform(0, 0.03)
        """Share of what it takes that the cutter gives way by."""
        self.high = high
        """Of the block, from its top to where it is held, or to its bottom edge."""
        self.square = {name: chance.uniform(-40, 40) * scale for name in wheels}
        """Where the slides stand with the cutter over the middle, and its end on the top."""
        self.watched = False
        self.feeding = ""
        self.turning = True
        self.took: list[Took] = []
        for name, wheel in wheels.items():
            wheel.watch = lambda before, after, name=name: self.moved(name, before, after)

    # -- where the cutter stands ------------------------------------------------------------------

    def middle(self, name: str = "", nut: float = 0.0) -> tuple[float, float]:
        """The cutter's middle over the block: the slides carry the block the other way."""
        nuts = {one: wheel.nut for one, wheel in self.wheels.items()}
        if name:
            nuts[name] = nut
        return self.square["table"] - nuts["table"], self.square["saddle"] - nuts["saddle"]

    @property
    def depth(self) -> float:
        """How far the cutter's end is below the top."""
        return self.wheels[self.down].nut - self.square[self.down]

    def clear(self, at: tuple[float, float]) -> float:
        """Room between the cutter's rim and the block, negative inside it."""
        beside = [
            max(-self.out[low] - one, one - self.out[high])
            for one, low, high in ((at[0], "left", "right"), (at[1], "front", "back"))
        ]
        if max(beside) <= 0:
            return max(beside) - self.radius
        return math.hypot(*(max(one, 0.0) for one in beside)) - self.radius

    def moved(self, name: str, before: float, after: float) -> None:
        """A slide has moved."""
        if not self.watched or before == after or name == self.down:
            return
        if self.depth <= 0.02 * self.scale:  # the end that touched the top scratches it at most
            return
        begin, end = self.middle(name, before), self.middle(name, after)
        if self.feeding:
            self.fed(name, begin, end)
            return
        for share in (i / 40 for i in range(41)):
            at = tuple(a + (b - a) * share for a, b in zip(begin, end, strict=True))
            room = self.clear((at[0], at[1]))
            assert room > -0.1 * self.scale, f"{name} ran into the block by {-room:.4f}"

    def side_at(self, at: tuple[float, float], feed: str) -> str:
        """Along which side the cutter goes."""
        if feed == "table":
            return "back" if at[1] > 0 else "front"
        return "right" if at[0] > 0 else "left"

    def fed(self, feed: str, begin: tuple[float, float], end: tuple[float, float]) -> None:
        """Along a side, from clear of one corner to clear of the other."""
        side = self.side_at(begin, feed)
        axis, way = AXES[side]
        assert axis != feed
        for one, name in ((begin, "begins"), (end, "ends")):
            assert self.clear(one) > 0, f"{self.feeding}: {name} in the metal"
        across = begin[0] if axis == "table" else begin[1]
        deep = self.out[side] - (way * across - self.radius)
        if deep <= 0.002 * self.scale:
            return
        assert self.turning, f"{self.feeding}: into metal with the spindle off"
        # teeth go clockwise: where the metal lies at n of the middle they go (n.y, -n.x); the work
        # goes the other way than the cutter does over it. Climbing, both go the same way.
        n = (-way, 0) if axis == "table" else (0, -way)
        work = (begin[0] - end[0], begin[1] - end[1])
        climbed = n[1] * work[0] - n[0] * work[1] > 0
        self.took.append(Took(self.feeding, side, deep, climbed))
        self.out[side] -= deep - min(deep * self.spring, 0.06 * self.scale)

    # -- what is done -----------------------------------------------------------------------------

    def by_eye(self, **to: float) -> None:
        """Slides brought somewhere round the block, without counting."""
        watched, self.watched = self.watched, False
        for name, nut in to.items():
            wheel = self.wheels[name]
            wheel.turn(nut - (wheel.screw if nut > wheel.nut else wheel.screw + wheel.backlash))
        self.watched = watched

    def beside(self, side: str) -> None:
        """Round to a side, clear of it, somewhere along its middle."""
        axis, way = AXES[side]
        other = "saddle" if axis == "table" else "table"
        out = way * (self.out[side] + self.radius + self.chance.uniform(1, 9) * self.scale)
        self.by_eye(**{
            axis: self.square[axis] - out,
            other: self.square[other] + self.chance.uniform(-3, 3) * self.scale,
        })  # fmt: skip

    def turn_round(self) -> None:
        """The other end over the edge, somewhere else in the vice."""
        self.out["right"], self.out["left"] = self.out["left"], self.out["right"]
        self.rough["right"], self.rough["left"] = self.rough["left"], self.rough["right"]
        self.hollow["right"], self.hollow["left"] = self.hollow["left"], self.hollow["right"]
        self.square["table"] += self.chance.uniform(-2, 2) * self.scale

    def contact(self, touch: Touch) -> float:
        """Where the slide stands when the bare cutter meets that surface."""
        if touch.axis == self.down:
            self.by_eye(table=self.square["table"], saddle=self.square["saddle"])
            return self.square[self.down]
        side = next(
            s for s, (axis, way) in AXES.items() if (axis, way) == (touch.axis, touch.toward)
        )
        x, y = self.middle()
        there = x * touch.toward if touch.axis == "table" else y * touch.toward
        if self.depth <= 0 or there < self.out[side] + self.radius - 0.1 * self.scale:
            self.beside(side)
        assert self.depth > 0, f"{touch.surface}: the cutter stands above the work"
        return self.square[touch.axis] - touch.toward * (self.out[side] + self.radius)

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        """It was cut as the handwheels turned."""

    def size(self, fact: str) -> float:
        """What a gauge finds."""
        long = self.out["right"] + self.out["left"]
        wide = self.out["back"] + self.out["front"]
        if fact.endswith("length"):
            return long
        if fact.endswith("width"):
            return wide
        side = re.fullmatch(r"side-(\d)\.size\.\d+", fact)
        assert side, fact
        return wide if self.took[-1].side in ("back", "front") else long


RUN = re.compile(
    r"run the (table|saddle) (right|left|in|out) till the cutter's off the ([a-z ]+)\.",
    re.IGNORECASE,
)
FEED = re.compile(r"(table|saddle) (right|left|in|out): (conventional|climbing)", re.IGNORECASE)
LOCK = re.compile(r"\b(unlock|nip|ease|lock) (?:the )?(table|saddle|it)\b", re.IGNORECASE)


class OutsideMiller(Machinist[Outside]):
    """Locks, runs and feeds as he is told."""

    locked: frozenset[str] = frozenset()
    dragging: frozenset[str] = frozenset()

    @property
    def words(self) -> str:
        """What was said last."""
        return " ".join(self.job.state.last_reply)

    def do(self, step: Step) -> None:
        said = self.words
        if step.id.endswith("-hold") and step.id != "side-1-hold":
            self.work.turn_round()
        if "spindle off" in said.lower():
            self.work.turning = False
        if "spindle on" in said.lower():
            self.work.turning = True
        if not isinstance(step, Move | Cut) or self.job.state.phase is Phase.VERIFY:
            self.locks(said, "")
        if isinstance(step, Measure) and step.kind == "gauge":
            self.say("yes" if self.clean else "no")
            return
        super().do(step)

    @property
    def clean(self) -> bool:
        """Whether the side cut last is clean all over."""
        work, side = self.work, self.work.took[-1].side
        return work.rough[side] - work.out[side] > work.hollow[side]

    def locks(self, said: str, own: str) -> None:
        """Every lock that is spoken of; `it` is the step's own."""
        for what, name in LOCK.findall(said):
            axis = own if name.lower() == "it" else name.lower()
            if axis not in ("table", "saddle"):
                continue
            match what.lower():
                case "lock":
                    self.locked |= {axis}
                case "unlock":
                    self.locked -= {axis}
                case "nip":
                    self.dragging |= {axis}
                case _:
                    self.dragging -= {axis}

    def touch(self, step: Touch) -> None:
        assert step.axis not in self.locked, f"{step.id}: the {step.axis} is locked"
        self.work.watched = False
        super().touch(step)
        self.work.watched = True

    def move(self, step: Move) -> None:
        said, verify = self.words, self.job.state.phase is Phase.VERIFY
        if not verify:
            self.locks(said.replace("Lock it", ""), step.axis)
            assert step.axis not in self.locked, f"{step.id}: the {step.axis} is locked"
        super().move(step)
        self.locks(said, step.axis)

    def free(self, step: Move) -> None:
        """Runs, and round to another side."""
        said = self.words
        self.locks(said, "")
        for axis, way, corner in RUN.findall(said):
            assert axis.lower() not in self.locked, f"{step.id}: the {axis} is locked"
            self.run(axis.lower(), WAYS[way.lower()], corner.lower())
        if round_to := re.search(r"Round to the (right|left|back|front)", said):
            assert not self.locked & {"table", "saddle"}, f"{step.id}: {self.locked} locked"
            self.work.beside(round_to[1])
        if "past the bottom edge" in said:
            work = self.work
            work.by_eye(**{work.down: work.square[work.down] + work.high + 2 * work.scale})
        self.say(expected_words(self.job.state))

    def run(self, axis: str, way: int, corner: str) -> None:
        """That way, till it is clear there; nothing where it is clear there already."""
        work = self.work
        carries, out = CORNERS[corner]
        assert carries == axis, f"{axis} off the {corner}?"
        side = next(name for name, one in AXES.items() if one == (carries, out))
        off = out * (work.out[side] + work.radius + self.chance.uniform(1, 5) * work.scale)
        to = work.square[axis] - off
        wheel = self.wheels[axis]
        if work.depth > 0 and (to - wheel.nut) * way <= 0:
            x, y = work.middle()
            there = (x if axis == "table" else y) * out
            assert there > work.out[side] + work.radius, f"{axis}: the other way off the {corner}"
            return
        wheel.turn(to - (wheel.screw if to > wheel.nut else wheel.screw + wheel.backlash))

    def cut(self, step: Cut) -> None:
        said, work = self.words, self.work
        told = FEED.search(said)
        assert told, said
        feed, way = told[1].lower(), WAYS[told[2].lower()]
        other = "saddle" if feed == "table" else "table"
        assert other in self.locked, f"{step.id}: the {other} isn't locked"
        assert feed not in self.locked, f"{step.id}: the {feed} is locked"
        climbs = told[3].lower() == "climbing"
        allowed = self.job.state.machine.axis(feed).climb
        assert climbs == (feed in self.dragging) or allowed == "eliminator", step.id
        work.feeding = step.id
        side = work.side_at(work.middle(), feed)
        ends = next(
            name for name, one in CORNERS.items() if one == (feed, -way)
        )  # the slide carries the block: the cutter goes the other way over it
        self.run(feed, way, ends)
        if work.took and work.took[-1].step == step.id:
            assert work.took[-1].climbed == climbs, f"{step.id}: {told[0]}, and it isn't"
        work.feeding = ""
        assert side == work.side_at(work.middle(), feed)
        self.locks(said, "")
        self.say("that's through")


def mill_outside(job: Job, seed: int, **block: object) -> Outside:
    """The whole job."""
    made = OutsideMiller(
        job,
        lambda chance, wheels: Outside(chance, wheels, **block),  # type: ignore[arg-type]
        seed,
    )
    made.work_it()
    return made.work

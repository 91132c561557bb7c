"""A block on a mill's table, under a cutter that gives way.

Every movement of a handwheel is watched: where the cutter is fed it leaves its sweep, and where
it isn't it must not meet metal. Conventional and climbing are found from where the metal is, with
a right-hand cutter that turns clockwise seen from above: at its front the teeth go left.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from assistant.jobs.steps import Cut, Touch
from tests.shop.block import Block, Sweep
from tests.shop.handwheels import Handwheel


@dataclass(frozen=True)
class Chances:
    """What nobody was told of cutter and arbor, as shares and lengths in the machine's unit."""

    spring: float
    """Share of a full pass that the cutter gives way upward."""
    push: float
    """Share of what stands before one flank that it gives way sideways."""
    runout: float
    """How much further out it cuts than it measures, on the radius."""


@dataclass(frozen=True)
class Pass:
    """What one feed took."""

    step: str
    deep: float
    side: float
    """Width of the metal before the cutter."""


class Mill:
    """The block under the cutter. `square` is where each slide stands with the cutter's middle
    over the block's front left corner and its end on the top."""

    def __init__(
        self, block: Block, diameter: float, chance: random.Random,
        wheels: Mapping[str, Handwheel], deepening: str = "knee",
    ) -> None:  # fmt: skip
        unit = str(wheels["table"].axis.per_turn.units)
        self.small = 0.001 if unit == "inch" else 0.025
        self.block, self.chance, self.wheels, self.deepening = block, chance, wheels, deepening
        self.diameter = diameter
        self.chances = Chances(
            chance.uniform(0, 0.04), chance.uniform(0, 0.01), chance.uniform(0, 0.2) * self.small
        )
        self.square = {name: chance.uniform(-50, 50) * self.small for name in wheels}
        self.tall: float | None = None
        """Height of a cutter that cuts under what is above it; None for one that cuts to the top.
        """
        self.feeding = ""
        """The step in which metal may be cut; empty where the cutter must meet none."""
        self.fed = 0
        """The way in which the table goes through, where it is told."""
        self.watched = False
        self.arbor_way = 0
        """On an arbor the rotation says the way, whichever side the metal is on: that of the first
        cut, then, for all of them."""
        self.passes: list[Pass] = []
        for name, wheel in wheels.items():
            wheel.watch = self._watcher(name)

    @property
    def radius(self) -> float:
        """Half of what the cutter really cuts."""
        return self.diameter / 2 + self.chances.runout

    @property
    def on_arbor(self) -> bool:
        """Whether the cutter stands on its rim, on an arbor; else it hangs in the spindle."""
        return self.half_long != self.radius

    @property
    def half_long(self) -> float:
        """How far it reaches along the table from its middle."""
        return self.radius

    # -- where the cutter stands ------------------------------------------------------------------

    def place(self, **moved: float) -> tuple[tuple[float, float], float]:
        """Over which place of the block the cutter's middle stands, and how deep. The slides
        carry the work: it goes the other way over it. `moved` are slides that stand elsewhere."""
        at = {name: moved.get(name, wheel.nut) for name, wheel in self.wheels.items()}
        x = self.square["table"] - at["table"]
        y = self.square["saddle"] - at["saddle"]
        return (x, y), at[self.deepening] - self.square[self.deepening]

    def _watcher(self, name: str) -> Callable[[float, float], None]:
        def watch(before: float, after: float) -> None:
            if self.watched and before != after:
                self.moved(name, before, after)

        return watch

    def moved(self, name: str, before: float, after: float) -> None:
        """A slide has moved: cut, or see that nothing was in the way."""
        begin, from_depth = self.place(**{name: before})
        end, depth = self.place(**{name: after})
        depth = max(depth, from_depth)
        if depth <= 0.5 * self.small:  # a scratch
            return
        sweep = Sweep(begin, end, self.radius, depth)
        if self.feeding:
            self.cut_away(sweep)
            return
        skin = min(6 * self.small, depth / 2)
        assert not self.block.metal_in(sweep, skin, 3 * self.small), (
            f"{name} from {before:.4f} to {after:.4f}, {depth:.4f} deep: the cutter is in the work"
        )

    # -- cutting ----------------------------------------------------------------------------------

    def cut_away(self, sweep: Sweep) -> None:
        """Metal goes, the cutter gives way a little."""
        deep, low, high = self._before(sweep)
        if deep <= 0:
            return
        self.passes.append(Pass(self.feeding, deep, high - low))
        if self.tall is not None:
            above = sweep.depth - self.tall
            self.block.take(Sweep(sweep.begin, sweep.end, sweep.radius, sweep.depth, above))
            return
        if self.on_arbor:
            self.arbor_way = self.arbor_way or self.fed
            assert self.fed == self.arbor_way, f"{self.feeding}: climbing"
        # what an earlier pass gave way by: no feed snatches at that
        light = self.on_arbor or deep < 10 * self.small
        push, away = 0.0, min((high - low) * self.chances.push, 2 * self.small)
        if low > -0.9 * sweep.radius and high > 0.99 * sweep.radius:  # at its back
            push = -away
            assert self.fed <= 0 or light, f"{self.feeding}: climbing"
        elif high < 0.9 * sweep.radius and low < -0.99 * sweep.radius:
            push = away
            assert self.fed >= 0 or light, f"{self.feeding}: climbing"
        spring = deep * self.chances.spring * (high - low) / (2 * sweep.radius)
        (x0, y0), (x1, y1) = sweep.begin, sweep.end
        self.block.take(Sweep((x0, y0 + push), (x1, y1 + push), sweep.radius, sweep.depth - spring))

    def _before(self, sweep: Sweep) -> tuple[float, float, float]:
        """How deep it takes most of what it takes, and from where to where across the cutter."""
        skin = self.small * 0.01
        offsets = [
            (low + high) / 2
            for level in (sweep.depth - skin, sweep.depth * 0.9, sweep.depth * 0.5)
            for low, high in self.block.bites(sweep, level)
        ]
        offsets += [sweep.radius * (i / 16 - 0.999) for i in range(33)]
        low, high = sorted((sweep.begin[0], sweep.end[0]))
        low, high = max(low - sweep.radius, 0.0), min(high + sweep.radius, self.block.length)
        found: set[float] = set()
        for x in (low + (high - low) * i / 12 for i in range(1, 12)):
            for offset in offsets:
                y = (sweep.begin[1] + sweep.end[1]) / 2 + offset
                if sweep.covers(x, y):
                    found.add(round(sweep.depth - self.block.depth_at(x, y), 6))
        # the most metal, not the deepest: a sliver that an earlier pass gave way to says nothing
        deep = max(found, key=lambda one: one * self._width(sweep, one * 0.98), default=0.0)
        if deep <= skin:
            return 0.0, 0.0, 0.0
        most = self.block.bites(sweep, sweep.depth - deep / 4)
        return deep, most[0][0], most[-1][1]

    def _width(self, sweep: Sweep, bite: float) -> float:
        """Across how much of the cutter it takes more than that."""
        return sum(high - low for low, high in self.block.bites(sweep, sweep.depth - bite))

    # -- touching ---------------------------------------------------------------------------------

    def by_eye(self, **places: float) -> None:
        """Bring slides somewhere by eye, round the work."""
        watched, self.watched = self.watched, False
        for name, to in places.items():
            wheel = self.wheels[name]
            wheel.turn(to - (wheel.screw if to > wheel.nut else wheel.screw + wheel.backlash))
        self.watched = watched

    def next_part(self, block: Block, back: bool) -> None:
        """Another block in the vice, against the jaw at its back or at its front."""
        if back:
            self.square["saddle"] += block.width - self.block.width
        self.square[self.deepening] += self.chance.uniform(-20, 20) * self.small
        self.square["table"] += self.chance.uniform(-500, 500) * self.small
        self.block = block
        self.passes.clear()

    def contact(self, touch: Touch) -> float:
        """Beside the surface with the other slides by eye, and where the touching one meets it."""
        along = self.square["table"] - self.block.length * self.chance.uniform(0.3, 0.7)
        low = self.square[self.deepening] + self.small * self.chance.uniform(50, 150)
        if touch.axis == "saddle":
            self.by_eye(table=along, **{self.deepening: low})
            side = self.block.width if touch.toward > 0 else 0.0
            return self.square["saddle"] - (side + touch.toward * self.radius)
        if touch.axis == "table":
            self.by_eye(**{self.deepening: low})
            end = self.block.length if touch.toward > 0 else 0.0
            return self.square["table"] - (end + touch.toward * self.radius)
        return self.square[self.deepening]

    def clear_of_end(self, way: int) -> float:
        """Where the table stands with the cutter off the end to which the table takes it: off
        the left end where it goes right."""
        over = self.half_long + self.small * self.chance.uniform(100, 400)
        return self.square["table"] - (-over if way > 0 else self.block.length + over)

    def off(self) -> int:
        """The end that the cutter is off: 1 the right-hand one, -1 the left-hand one, 0 neither."""
        (x, _), _ = self.place()
        if x - self.half_long > self.block.length:
            return 1
        return -1 if x + self.half_long < 0 else 0

    # -- what the gauges find ---------------------------------------------------------------------

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        """The handwheels were watched: it is done."""

    def size(self, fact: str) -> float:
        """The true size that a measurement of that name finds now."""
        raise NotImplementedError(fact)

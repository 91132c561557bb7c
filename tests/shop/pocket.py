"""A plate in the vice with a pocket in it, seen from above, and a machinist who mills it.

Right and back are positive, as on paper: x from the plate's right-hand end face, so that the metal
lies at negative x, y from its front. Every turn of a handwheel moves the plate under the cutter,
and whatever the cutter meets is cut: it has to be allowed to.
"""

from __future__ import annotations

import random
import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from assistant.jobs.steps import Check, Cut, Measure, Move, Note, Step, Touch
from assistant.session.state import Phase
from tests.factories import Job, expected_words
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist

Point = tuple[float, float]
OFFSETS = np.array([-0.996, -0.99, *np.linspace(-0.97, 0.97, 21), 0.99, 0.996])
"""Places across the cutter that are looked at, in its radius."""
CELLS = 420
"""Cells along the plate."""
SKIN = 0.0035
"""Of the plate's width: what a cutter that springs leaves on a floor, and meets again there."""


@dataclass(frozen=True)
class Sweep:
    """The cutter's middle goes straight from one place to another at one depth."""

    begin: Point
    end: Point
    radius: float
    depth: float

    def on_line_x(self, x: float) -> tuple[float, float] | None:
        """From where to where in y it cut, on the line across at `x`."""
        return _span(x, self.begin, self.end, self.radius)

    def on_line_y(self, y: float) -> tuple[float, float] | None:
        """From where to where in x it cut, on the line along at `y`."""
        return _span(y, self.begin[::-1], self.end[::-1], self.radius)

    def covers(self, x: float, y: float) -> bool:
        """Whether it cut there."""
        span = self.on_line_x(x)
        return span is not None and span[0] <= y <= span[1]


def _span(at: float, begin: Point, end: Point, radius: float) -> tuple[float, float] | None:
    """Of a sweep along one axis: the second coordinate, on a line of the first."""
    beside = max(min(begin[0], end[0]) - at, at - max(begin[0], end[0]), 0.0)
    if beside >= radius:
        return None
    half = (radius**2 - beside**2) ** 0.5
    return min(begin[1], end[1]) - half, max(begin[1], end[1]) + half


@dataclass(frozen=True)
class Bite:
    """What one movement took."""

    step: str
    deep: float
    """The most, downwards, further in from the cutter's rim than what is left on a wall."""


class Plate:
    """The metal, in cells with the depth to which each is cut, and every sweep as it was."""

    def __init__(self, length: float, width: float) -> None:
        self.length, self.width = length, width
        self.cell = length / CELLS
        self.xs = -length + self.cell * (np.arange(CELLS) + 0.5)
        self.ys = self.cell * (np.arange(round(width / self.cell)) + 0.5)
        self.depth: npt.NDArray[np.float64] = np.zeros((len(self.xs), len(self.ys)))
        self.sweeps: list[Sweep] = []

    def met(self, sweep: Sweep, skin: float = 0.0) -> npt.NDArray[np.float64]:
        """Places that it would cut by more than `skin`: x, y and how deep, a row each."""
        low = np.minimum(sweep.begin, sweep.end) - sweep.radius
        high = np.maximum(sweep.begin, sweep.end) + sweep.radius
        i0, i1 = np.searchsorted(self.xs, (low[0], high[0]))
        j0, j1 = np.searchsorted(self.ys, (low[1], high[1]))
        x, y = np.meshgrid(self.xs[i0:i1], self.ys[j0:j1], indexing="ij")
        # sweeps go along an axis: the nearest place of the way is in both coordinates the nearest
        first, last = np.sort((sweep.begin, sweep.end), axis=0)
        dx, dy = x - np.clip(x, first[0], last[0]), y - np.clip(y, first[1], last[1])
        taken = sweep.depth - self.depth[i0:i1, j0:j1]
        hit = (dx * dx + dy * dy < sweep.radius**2) & (taken > skin)
        return np.column_stack((x[hit], y[hit], taken[hit]))

    def metal_at(self, places: npt.NDArray[np.float64], depth: float) -> npt.NDArray[np.bool_]:
        """Whether each of these places, x and y in a row, is metal so far down: exactly."""
        inside = (places > (-self.length, 0)) & (places < (0, self.width))
        left: npt.NDArray[np.bool_] = inside[:, 0] & inside[:, 1]
        for sweep in self.sweeps:
            if sweep.depth >= depth:
                low, high = np.sort((sweep.begin, sweep.end), axis=0)
                left &= np.hypot(*(places - np.clip(places, low, high)).T) >= sweep.radius
        return left

    def take(self, sweep: Sweep) -> None:
        """Cut it."""
        self.sweeps.append(sweep)
        found = self.met(sweep)
        i = np.searchsorted(self.xs, found[:, 0] - self.cell / 4)
        j = np.searchsorted(self.ys, found[:, 1] - self.cell / 4)
        self.depth[i, j] = np.maximum(self.depth[i, j], sweep.depth)

    def walls(self, x: float, depth: float, sweeps: int | None = None) -> tuple[float, float]:
        """Front and back wall of the pocket on the line at `x`, so far down, after all the sweeps
        or the first of them."""
        ways = self.sweeps[:sweeps]
        found = [span for s in ways if s.depth >= depth and (span := s.on_line_x(x))]
        return min(low for low, _ in found), max(high for _, high in found)

    def ends(self, y: float, depth: float, sweeps: int | None = None) -> tuple[float, float]:
        """Left and right end of the pocket on the line at `y`, in the same way."""
        ways = self.sweeps[:sweeps]
        found = [span for s in ways if s.depth >= depth and (span := s.on_line_y(y))]
        return min(low for low, _ in found), max(high for _, high in found)

    def floor(self, inside: tuple[float, float, float, float]) -> tuple[float, float]:
        """The shallowest and deepest place between these x and y."""
        x0, x1, y0, y1 = inside
        i = (self.xs > x0) & (self.xs < x1)
        j = (self.ys > y0) & (self.ys < y1)
        part = self.depth[np.ix_(i, j)]
        return float(part.min()), float(part.max())


class Pocket:
    """The plate under the cutter. `scale` is 1 for millimetres, 1/25.4 for inches."""

    def __init__(
        self, chance: random.Random, wheels: Mapping[str, Handwheel], *, scale: float,
        size: tuple[float, float], middle: Point, diameter: float, back: bool, down: str = "knee",
    ) -> None:  # fmt: skip
        self.chance, self.wheels, self.scale, self.back = chance, wheels, scale, back
        self.plate = Plate(*size)
        self.middle = middle
        """Somewhere in the middle of the pocket, where a gauge is set down."""
        self.radius = diameter / 2 + chance.uniform(-0.02, 0.01) * scale
        self.spring = chance.uniform(0, 0.015)
        """Share of what it takes that the cutter gives way by, up and aside: a short end mill in
        its holder. Common practice, no source."""
        self.at = {name: chance.uniform(-30, 30) * scale for name in wheels}
        """Where the slides stand with the cutter over the corner of front and right-hand end."""
        self.down = down
        self.watched = False
        self.may_cut = ""
        """The step in which the cutter is told to cut."""
        self.turning = True
        # what is left on a wall, and what a row that is fed back to a reading stops short by
        self.thin = 0.35 * scale + max(wheels[name].backlash for name in ("table", "saddle"))
        self.bites: list[Bite] = []
        self.roughed: int | None = None
        """Sweeps before anything was finished but the floor."""
        for name, wheel in wheels.items():
            wheel.watch = lambda before, after, name=name: self.moved(name, before, after)

    def place(self, name: str = "", nut: float = 0.0) -> tuple[Point, float]:
        """The cutter's middle over the plate, and how deep it stands; with one slide elsewhere."""
        nuts = {one: wheel.nut for one, wheel in self.wheels.items()}
        if name:
            nuts[name] = nut
        # table and saddle carry the plate: right, and in toward the back; the knee lifts it
        x = self.at["table"] - nuts["table"]
        y = self.at["saddle"] - nuts["saddle"]
        return (x, y), nuts[self.down] - self.at[self.down]

    def moved(self, name: str, before: float, after: float) -> None:
        """A slide has moved."""
        begin, was = self.place(name, before)
        end, depth = self.place(name, after)
        if not self.watched or before == after or max(was, depth) <= 0 or depth < was:
            return
        sweep = Sweep(begin, end, self.radius, depth)
        if not self.may_cut:
            rub = Sweep(begin, end, self.radius - 0.04 * self.scale, depth)
            touched = self.plate.met(rub, SKIN * self.plate.width)
            assert not len(touched), f"{name} moved, {depth:.4f} deep, and met metal: {touched[0]}"
            self.plate.take(sweep)
            return
        met = self.plate.met(sweep)
        if len(met) < 3:
            self.plate.take(sweep)
            return
        assert self.turning, f"{self.may_cut}: into metal with the spindle off"
        deep = self._deep(sweep, met)
        self.bites.append(Bite(self.may_cut, deep))
        up, aside = 0.0, (0.0, 0.0)
        if begin != end:
            up = deep * self.spring
            aside = self._gives_way(sweep)
        self.plate.take(
            Sweep(
                (begin[0] + aside[0], begin[1] + aside[1]), (end[0] + aside[0], end[1] + aside[1]),
                self.radius, depth - up,
            )
        )  # fmt: skip

    def _deep(self, sweep: Sweep, met: npt.NDArray[np.float64]) -> float:
        way = np.sort((sweep.begin, sweep.end), axis=0)
        off = np.hypot(*(met[:, :2] - np.clip(met[:, :2], way[0], way[1])).T)
        inside = met[off < self.radius - self.thin, 2]
        return float(inside.max()) if len(inside) else 0.0

    def _gives_way(self, sweep: Sweep) -> Point:
        """By how much it gives way aside. Where only one flank cuts, the metal has to be on the
        left of its way: with the teeth going clockwise, seen from above, that is against the
        feed."""
        way = np.sign(np.subtract(sweep.end, sweep.begin))
        left = np.array((-way[1], way[0]))
        far = float(np.subtract(sweep.end, sweep.begin) @ way)
        beside = sweep.radius * OFFSETS
        skin = SKIN * self.plate.width
        flank: list[float] = []
        for share in (0.15, 0.3, 0.5, 0.7, 0.85):
            at = np.array(sweep.begin) + way * far * share + left * beside[:, None]
            flank += list(beside[self.plate.metal_at(at, sweep.depth - skin)])
        if not flank:
            return 0.0, 0.0
        low, high = min(flank), max(flank)
        assert low > beside[1] or high > beside[-2], f"{self.may_cut}: climbing"
        push = float(self.spring * (high - low)) if low > 0 else 0.0  # away from a wall
        return -push * float(left[0]), -push * float(left[1])

    # -- touching and measuring -------------------------------------------------------------------

    def contact(self, touch: Touch) -> float:
        """Where the slide stands when the bare cutter meets that surface."""
        if touch.axis == self.down:
            (x, y), _ = self.place()
            assert -self.plate.length < x < 0, "over no metal"
            assert 0 < y < self.plate.width, "over no metal"
            return self.at[self.down]
        if touch.axis == "table":
            self.by_eye(table=self.at["table"] - 3 * self.radius)  # off the right-hand end
            self.by_eye(**{self.down: self.at[self.down] + 2 * self.scale})
            return self.at["table"] - self.radius
        across = self.plate.width + self.radius if self.back else -self.radius
        self.by_eye(table=self.at["table"] + self.plate.length / 2)
        self.by_eye(**{self.down: self.at[self.down] + 2 * self.scale})
        return self.at["saddle"] - across

    def by_eye(self, **to: float) -> None:
        """A slide brought somewhere round the work, without counting."""
        for name, nut in to.items():
            wheel = self.wheels[name]
            wheel.turn(nut - (wheel.screw if nut > wheel.nut else wheel.screw + wheel.backlash))

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        """It was cut as the handwheels turned."""

    def size(self, fact: str) -> float:
        """What a gauge finds, somewhere near the middle."""
        if fact == "cutter.width":
            return 2 * self.radius
        assert self.place()[1] <= 0, f"{fact} is measured with the cutter in the pocket"
        x, y = (at + self.chance.uniform(-2, 2) * self.scale for at in self.middle)
        half = (
            self.plate.depth[np.searchsorted(self.plate.xs, x), np.searchsorted(self.plate.ys, y)]
            / 2
        )
        front, back = self.plate.walls(x, half)
        left, right = self.plate.ends(y, half)
        match fact.split("."):
            case ["size", _]:
                r = 2 * self.scale
                return self.chance.uniform(*self.plate.floor((x - r, x + r, y - r, y + r)))
            case ["near", "size", _]:
                return self.plate.width - back if self.back else front
            case ["far", "size", _]:
                return back - front
            case ["right", "size", _]:
                return -right
            case ["left", "size", _]:
                return min(right, 0.0) - left
        raise NotImplementedError(fact)


MOVE = re.compile(
    r"(?:Then )?(?:table|saddle|knee|quill) (?:stays|(?:right|left|in|out|up|down)\b(?!:))",
    re.IGNORECASE,
)
LOCKS = re.compile(r"\b(un)?lock (?:the )?(table|saddle|it)\b", re.IGNORECASE)


class PocketMiller(Machinist[Pocket]):
    """Does what is said in the order in which it is said: locks, moves, the spindle."""

    locked: frozenset[str] = frozenset()

    def do(self, step: Step) -> None:
        work = self.work
        if isinstance(step, Touch):
            work.watched = False
            super().do(step)
            work.watched = True
            return
        if self.job.state.phase is Phase.VERIFY or isinstance(step, Check):
            super().do(step)
            return
        if work.roughed is None and step.id.startswith(("right-", "left-")):
            work.roughed = len(work.plate.sweeps)
        said = re.split(r"(?<=[.?!:]) ", " ".join(self.job.state.last_reply))
        at = next((n for n, one in enumerate(said) if self._is_the_move(one)), 0)
        for one in said[:at] if isinstance(step, Move | Cut) else said:
            self.obey(one, step)
        if isinstance(step, Move | Cut):
            axis = step.axis if isinstance(step, Move) else step.feed_axis
            self.may_move(axis, step)
            told = re.search(r"it (plunges|cuts)", " ".join(said))
            work.may_cut = step.id if isinstance(step, Cut) or told else ""
            if isinstance(step, Move) or step.feed_target is not None:
                self.follow(self.wheels[axis])
            work.may_cut = ""
            for one in said[at:]:
                self.obey(one, step)
            self.say("that's through" if isinstance(step, Cut) else expected_words(self.job.state))
            if isinstance(step, Move) and step.zero_after:
                wheel = self.wheels[step.axis]
                wheel.set_zero() if wheel.axis.settable else wheel.count_from_here()
        elif isinstance(step, Measure) and step.kind == "size":
            self.measure(step)
        else:
            assert isinstance(step, Measure | Note), step
            self.say(expected_words(self.job.state))

    @staticmethod
    def _is_the_move(said: str) -> bool:
        return bool(MOVE.match(said)) and "clear of" not in said

    def may_move(self, axis: str, step: Step) -> None:
        """What moves is unlocked, and what must stand still in a cut is locked."""
        assert axis not in self.locked, f"{step.id}: the {axis} is locked"
        if isinstance(step, Cut) and axis in ("table", "saddle"):
            other = "saddle" if axis == "table" else "table"
            assert other in self.locked, f"{step.id}: the {other} isn't locked"

    def obey(self, said: str, step: Step) -> None:
        """One sentence."""
        work = self.work
        if "spindle off" in said.lower():
            work.turning = False
        if "spindle on" in said.lower():
            work.turning = True
        for un, what in LOCKS.findall(said):
            axis = what.lower()
            if axis == "it":
                axis = step.axis if isinstance(step, Move) else ""
            self.locked = self.locked - {axis} if un else self.locked | {axis}
        self.locked -= {work.down, ""}
        if "clear of the top" in said:
            work.by_eye(**{work.down: work.at[work.down] - self.chance.uniform(1, 9) * work.scale})


def mill_pocket(job: Job, seed: int, **plate: object) -> PocketMiller:
    """The whole job."""
    made = PocketMiller(
        job,
        lambda chance, wheels: Pocket(chance, wheels, **plate),  # type: ignore[arg-type]
        seed,
    )
    made.work_it()
    return made

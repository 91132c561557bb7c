"""A block of metal along the table and what a cutter on the spindle leaves of it, seen from above
and in depth.

x runs along the block from its left end to its right, y across it from its front to its back, as
the operator sees them; depths run down from its top. A cut is kept as the way of the cutter's
middle and how deep it went there, so every wall and floor is found where it really is.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

Interval = tuple[float, float]
HAIR = 1e-9


@dataclass(frozen=True)
class Sweep:
    """The cutter's way at one depth, straight from one place to another."""

    begin: tuple[float, float]
    end: tuple[float, float]
    radius: float
    depth: float
    above: float = 0.0
    """Depth of the upper side of what it clears: 0 for a cutter that cuts to the top."""

    def covers(self, x: float, y: float) -> bool:
        """Whether the cutter was over that place."""
        (x0, y0), (x1, y1) = self.begin, self.end
        dx, dy = x1 - x0, y1 - y0
        long = dx * dx + dy * dy
        share = 0.0 if long == 0 else ((x - x0) * dx + (y - y0) * dy) / long
        share = min(1.0, max(0.0, share))
        return math.hypot(x - x0 - share * dx, y - y0 - share * dy) <= self.radius + HAIR

    def across(self, x: float) -> Interval | None:
        """From where to where, in y, it was over the line at `x`."""
        return self._on_line(x, self.begin, self.end)

    def along(self, y: float) -> Interval | None:
        """From where to where, in x, it was over the line at `y`."""
        return self._on_line(y, self.begin[::-1], self.end[::-1])

    def _on_line(
        self, at: float, begin: tuple[float, float], end: tuple[float, float]
    ) -> Interval | None:
        """The sweep on the line of a first coordinate, in the second. Sweeps go along an axis or
        stand still."""
        low, high = sorted((begin[0], end[0]))
        beside = max(low - at, at - high, 0.0)
        if beside > self.radius:
            return None
        half = math.sqrt(self.radius**2 - beside**2)
        first, last = sorted((begin[1], end[1]))
        return first - half, last + half


def united(intervals: Iterable[Interval]) -> list[Interval]:
    """The same ground in as few intervals as will do, in order."""
    made: list[Interval] = []
    for low, high in sorted(intervals):
        if made and low <= made[-1][1] + HAIR:
            made[-1] = (made[-1][0], max(high, made[-1][1]))
        else:
            made.append((low, high))
    return made


def without(whole: Interval, taken: Iterable[Interval]) -> list[Interval]:
    """What of an interval is left."""
    left: list[Interval] = []
    at = whole[0]
    for low, high in united(taken):
        if low > at + HAIR:
            left.append((at, min(low, whole[1])))
        at = max(at, high)
        if at >= whole[1]:
            break
    if at < whole[1] - HAIR:
        left.append((at, whole[1]))
    return [(low, high) for low, high in left if high - low > HAIR]


class Block:
    """The metal: `length` along the table, `width` across, and all cuts made in it."""

    def __init__(self, length: float, width: float) -> None:
        self.length, self.width = length, width
        self.sweeps: list[Sweep] = []

    def take(self, sweep: Sweep) -> None:
        """A cut."""
        self.sweeps.append(sweep)

    def depth_at(self, x: float, y: float) -> float:
        """How deep it is cut there; endless beside the block."""
        if not (0 < x < self.length and 0 < y < self.width):
            return math.inf
        return max((s.depth for s in self.sweeps if s.above <= 0 and s.covers(x, y)), default=0.0)

    def open_across(self, x: float, depth: float) -> list[Interval]:
        """Where the line across the block at `x` is open at that depth."""
        if not 0 < x < self.length:
            return [(-math.inf, math.inf)]
        found = [s.across(x) for s in self._reaching(depth)]
        beside = [(-math.inf, 0.0), (self.width, math.inf)]
        return united([*beside, *(one for one in found if one is not None)])

    def open_along(self, y: float, depth: float) -> list[Interval]:
        """Where the line along the block at `y` is open at that depth."""
        if not 0 < y < self.width:
            return [(-math.inf, math.inf)]
        found = [s.along(y) for s in self._reaching(depth)]
        beyond = [(-math.inf, 0.0), (self.length, math.inf)]
        return united([*beyond, *(one for one in found if one is not None)])

    def _reaching(self, depth: float) -> list[Sweep]:
        return [s for s in self.sweeps if s.above <= depth <= s.depth + HAIR]

    def walls(self, x: float, y: float, depth: float) -> Interval:
        """The walls either side of an open place, on the line across at `x`."""
        return self._around(self.open_across(x, depth), y)

    def ends(self, x: float, y: float, depth: float) -> Interval:
        """The ends of an open place, on the line along at `y`."""
        return self._around(self.open_along(y, depth), x)

    def _around(self, found: list[Interval], at: float) -> Interval:
        for low, high in found:
            if low <= at <= high:
                return low, high
        raise AssertionError(f"nothing is cut at {at:.4f}: {found}")

    def floor(self, x: float, low: float, high: float, count: int = 400) -> Interval:
        """The shallowest and the deepest place of the line across at `x`, between two walls."""
        step = (high - low) / count
        found = [self.depth_at(x, low + step * (i + 0.5)) for i in range(count)]
        return min(found), max(found)

    def metal_in(self, sweep: Sweep, skin: float, rub: float) -> bool:
        """Whether a cutter that goes so meets metal, but for a `skin` on floors and a `rub` on
        walls that it gave way to."""
        return any(high - low > rub for low, high in self.bites(sweep, sweep.depth - skin))

    def bites(self, sweep: Sweep, depth: float) -> list[Interval]:
        """What a cutter that goes so has before it at that depth, as offsets in y from its
        middle: the widest that is met along its way."""
        met: list[Interval] = []
        for x in self._stations(sweep):
            covered = sweep.across(x)
            if covered is None:
                continue
            middle = (sweep.begin[1] + sweep.end[1]) / 2
            left = without(covered, self.open_across(x, depth))
            met += [(low - middle, high - middle) for low, high in left]
        return united(met)

    def _stations(self, sweep: Sweep) -> list[float]:
        """Places along the way where a cutter is looked at: all that lie over the block."""
        low, high = sorted((sweep.begin[0], sweep.end[0]))
        low, high = max(low - sweep.radius, 0), min(high + sweep.radius, self.length)
        if high <= low:
            return []
        parts = 24
        return [low + (high - low) * (i + 0.5) / parts for i in range(parts)]

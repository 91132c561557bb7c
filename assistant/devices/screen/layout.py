"""Where everything on a page stands: the table of needs, applied to a window.

As loosely as it fits, with the largest drawing that can be read; then without a drawing; then on
several leaves; then with smaller type than is legible from the distance that was set. The lines
above and below the sentences are on every leaf, and nothing is ever left off.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import pygame

from assistant.devices.screen import typeset
from assistant.devices.screen.artwork import readable, side_by_side
from assistant.devices.screen.content import Content
from assistant.devices.screen.frame import Frame, frame_of
from assistant.devices.screen.needs import STEPS, TIGHTEST, Need, Role, type_size
from assistant.devices.screen.setting import Line, set_line

MOST_LEAVES = 4
"""More than so many can't be followed: smaller type is the lesser evil."""
SHRINKING = 0.94
LEAST_TYPE = 7
"""Pixels: under it no letter can be told from another."""
LAST = TIGHTEST * STEPS
DRAWN = STEPS
MAPPED_DRAWN = STEPS + 1
"""The tightest step at which a drawing is worth its room; and where it is the map of the job."""
NUMBER_KEEPS = 0.9
"""Of its size, whatever drawing stands beside it."""


@dataclass(frozen=True, slots=True)
class Art:
    """Room for the drawings: beside all (`column`), beside the number and all under it (`corner`),
    `beside` the sentences, or `under` them."""

    kind: str
    groups: tuple[tuple[int, int], ...] = ()
    """Width and height of each group of drawings."""

    @property
    def width(self) -> int:
        """Of the widest group."""
        return max((width for width, _ in self.groups), default=0)

    def height(self, gap: int) -> int:
        """Of all groups, one above the other."""
        return sum(height for _, height in self.groups) + gap * (len(self.groups) - 1)


NONE = Art("")


@dataclass(frozen=True, slots=True)
class Laid:
    """A page laid out."""

    frame: Frame
    step: int
    """How tight it is."""
    leaves: tuple[tuple[Line, ...], ...]
    drawings: tuple[tuple[tuple[int, int, int, int], ...], ...] = ()
    """Left, top, width and height of each drawing, by its group; empty where none is drawn."""

    @property
    def small(self) -> int:
        """The smallest type size on the page."""
        return self.frame.small


@lru_cache(maxsize=64)
def lay(content: Content, size: tuple[int, int], wanted: int) -> Laid:
    """The page of a window (width, height) in pixels, with `wanted` as its smallest type size."""
    small = wanted
    while True:
        frame = frame_of(content, size, small)
        floor = small <= LEAST_TYPE
        laid = _Page(content, frame, whole=not floor).laid() if frame.room.height > 0 else None
        if laid is not None:
            return laid
        if floor:
            break
        small = max(LEAST_TYPE, min(small - 1, int(small * SHRINKING)))
    return _Page(content, frame, whole=False).last_resort()


class _Page:
    """One page at one size of its smallest type. `whole`: no word may be broken."""

    def __init__(self, content: Content, frame: Frame, *, whole: bool) -> None:
        self.content, self.frame, self.whole = content, frame, whole
        self.small, self.room = frame.small, frame.room
        self.height = frame.size[1]
        self.gap = round(self.small * 0.8)
        self._set: dict[tuple[Need, int, int, bool], Line | None] = {}

    def laid(self) -> Laid | None:
        """As loosely as it fits; None where it does not."""
        limit = MAPPED_DRAWN if self.content.mapped else DRAWN
        for art in self._arts():
            if self._leaves(limit, art, 1) is not None:
                return self._loosest(art, 0, limit, 1)
        for most in range(1, MOST_LEAVES + 1):
            if self._leaves(LAST, NONE, most) is not None:
                return self._loosest(NONE, 0 if most == 1 else LAST - STEPS, LAST, most)
        return None

    def last_resort(self) -> Laid:
        """As many leaves as it takes, a row of each sentence at least."""
        for most in range(MOST_LEAVES, 1000):
            leaves = self._leaves(LAST, NONE, most)
            if leaves is not None:
                return Laid(self.frame, LAST, leaves)
        above = self._lines(self.content.above, LAST, self.room.width)
        return Laid(self.frame, LAST, (self._stacked(above or ()),))

    def _loosest(self, art: Art, low: int, high: int, most: int) -> Laid:
        """The loosest step from `low` on that fits; `high` is known to."""
        while low < high:
            middle = (low + high) // 2
            if self._leaves(middle, art, most) is not None:
                high = middle
            else:
                low = middle + 1
        leaves = self._leaves(high, art, most, apart=True)
        if leaves is None:
            leaves = self._leaves(high, art, most)
        assert leaves is not None
        return Laid(self.frame, high, leaves, self._boxes(art, leaves))

    # -- the drawings -----------------------------------------------------------------------

    def _arts(self) -> list[Art]:
        """Places for the drawings in which they can be read, the largest first."""
        groups = self.content.drawings
        if not groups:
            return []
        arts = [art for art in self._places() if self._readable(art)]
        return sorted(arts, key=lambda art: -sum(width * height for width, height in art.groups))

    def _places(self) -> Iterator[Art]:
        room, groups = self.room, self.content.drawings
        aspects = [sum(one.aspect for one in group) + 0.12 * (len(group) - 1) for group in groups]
        if self.frame.size[0] >= self.frame.size[1]:
            for share in (0.45, 0.38, 0.31, 0.25):
                height = min(room.height, round(room.width * share / aspects[0]))
                yield Art("column", ((round(height * aspects[0]), height),))
            for share in (0.7, 0.6, 0.52, 0.44, 0.36, 0.28):
                height = round(min(room.height * share, room.width * 0.62 / aspects[0]))
                for kind in ("corner", "beside"):
                    yield Art(kind, ((round(height * aspects[0]), height),))
            return
        for count in range(len(groups), 0, -1):
            for share in (0.6, 0.5, 0.42, 0.34, 0.26):
                each = (room.height * share - self.gap * (count - 1)) / count
                heights = [round(min(each, room.width / aspect)) for aspect in aspects[:count]]
                sizes = zip(aspects, heights, strict=False)
                yield Art("under", tuple((round(a * high), high) for a, high in sizes))

    def _readable(self, art: Art) -> bool:
        for group, (width, height) in zip(self.content.drawings, art.groups, strict=False):
            boxes = side_by_side(group, pygame.Rect(0, 0, width, height), self.gap)
            for one, box in zip(group, boxes, strict=True):
                if not readable(one, box.width, box.height, self.small):
                    return False
        return True

    def _boxes(
        self, art: Art, leaves: tuple[tuple[Line, ...], ...]
    ) -> tuple[tuple[tuple[int, int, int, int], ...], ...]:
        """The place of every drawing."""
        room, boxes = self.room, []
        above = leaves[0][: len(self.content.above)]
        top = room.top + self._top(art, above)
        if art.kind == "under":
            top = max((line.top + line.height for line in leaves[0]), default=room.top) + self.gap
        spare = max(0, room.bottom - top - art.height(self.gap))
        top += spare // 2
        for group, (width, height) in zip(self.content.drawings, art.groups, strict=False):
            left = room.left + (room.width - width) // 2 if art.kind == "under" else (
                room.right - width
            )  # fmt: skip
            box = pygame.Rect(left, top, width, height)
            placed = side_by_side(group, box, self.gap)
            boxes.append(tuple((one.left, one.top, one.width, one.height) for one in placed))
            top += height + self.gap
        return tuple(boxes)

    # -- the lines --------------------------------------------------------------------------

    def _leaves(
        self, step: int, art: Art, most: int, *, apart: bool = False
    ) -> tuple[tuple[Line, ...], ...] | None:
        """The page at one step of tightness on at most so many leaves; None where it needs more."""
        width, room = self.room.width, self.room
        low = width - (art.width + self.gap if art.kind not in ("", "under") else 0)
        content = self.content
        flow = (*content.flow, *(() if art.groups else content.undrawn), *content.last)
        above = self._above(step, art, low)
        flowing = self._lines(flow, step, low, apart=apart)
        below = self._lines(self.content.below, step, low)
        if above is None or flowing is None or below is None:
            return None
        tall = room.height - (art.height(self.gap) + self.gap if art.kind == "under" else 0)
        fixed = _height(above) + _height(below)
        beside = self._top(art, above)
        if beside + art.height(self.gap) > tall and art.kind != "under":
            return None
        if most == 1:
            if fixed + _height(flowing) > tall + self._spare([*above, *flowing, *below]):
                return None
            return (self._stacked([*above, *flowing, *below]),)
        leaves = _filled(flowing, tall - fixed, most)
        if leaves is None:
            return None
        return tuple(self._stacked([*above, *leaf, *below]) for leaf in leaves)

    def _above(self, step: int, art: Art, narrow: int) -> list[Line] | None:
        """The number and what belongs to it; None where a drawing would cost it too much: half a
        line would be worse than a smaller drawing."""
        needs, wide = self.content.above, self.room.width
        first = next((n for n, need in enumerate(needs) if need.role is Role.NUMBER), len(needs))
        begin = {"column": 0, "corner": first}.get(art.kind, len(needs))
        upper, lower = (
            self._lines(needs[:begin], step, wide),
            self._lines(needs[begin:], step, narrow),
        )
        if upper is None or lower is None:
            return None
        lines = [*upper, *lower]
        least = type_size(Role.NUMBER, LAST, self.small, self.height) if self.whole else 0
        if first < len(needs):
            free = self._lines(needs[first : first + 1], step, wide)
            if art.groups and free:
                least = max(least, round(free[0].size * NUMBER_KEEPS))
            if lines[first].size < least:
                return None
        free = self._lines(needs[begin:], step, wide) if lower else []
        broken = any(one.broken(other) for one, other in zip(lower, free or (), strict=False))
        return None if broken else lines

    def _top(self, art: Art, above: Sequence[Line]) -> int:
        """How far under the top of the room a drawing beside the type begins."""
        if art.kind == "corner":
            roles = [line.need.role for line in above]
            number = roles.index(Role.NUMBER) if Role.NUMBER in roles else len(roles)
            return _height(above[:number])
        return _height(above) if art.kind == "beside" else 0

    def _lines(
        self, needs: Sequence[Need], step: int, width: int, *, apart: bool = False
    ) -> list[Line] | None:
        lines = []
        for need in needs:
            key = (need, step, width, apart)
            if key not in self._set:
                size = type_size(need.role, step, self.small, self.height)
                self._set[key] = set_line(
                    need, size, width, apart=apart, whole=self.whole, small=self.small
                )
            line = self._set[key]
            if line is None:
                return None
            lines.append(line)
        return lines

    def _stacked(self, lines: Sequence[Line]) -> tuple[Line, ...]:
        placed, top = [], self.room.top
        for line in lines:
            placed.append(line.at(self.room.left, top))
            top += line.height
        return tuple(placed)

    def _spare(self, lines: Sequence[Line]) -> int:
        """What the last row leaves under its letters."""
        if not lines or lines[-1].need.role is Role.NUMBER:
            return 0
        return typeset.line_height(lines[-1].size) - round(lines[-1].size * 0.98)


def _height(lines: Sequence[Line]) -> int:
    return sum(line.height for line in lines)


def _filled(lines: Sequence[Line], room: int, most: int) -> list[list[Line]] | None:
    """Lines by leaves of that height, broken where a sentence begins if that costs no leaf; None
    where it takes more than `most`."""
    leaves: list[list[Line]] = [[]]
    left = room
    for line in lines:
        first = 0
        while first < len(line.rows):
            step = typeset.line_height(line.size)
            fit = first + left // step
            if fit >= len(line.rows):
                leaves[-1].append(line.part(first, len(line.rows)))
                left -= step * (len(line.rows) - first)
                break
            ends = [row for row in line.breaks if first < row <= fit]
            fit = ends[-1] if ends else fit
            if fit > first:
                leaves[-1].append(line.part(first, fit))
            if len(leaves) == most or (fit == first and left == room):
                return None
            leaves.append([])
            first, left = max(first, fit), room
    return leaves

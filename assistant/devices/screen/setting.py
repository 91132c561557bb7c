"""One line set in a width: its rows, where they stand, and how high it is."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from assistant.devices.screen import typeset
from assistant.devices.screen.needs import CAPITAL, Need, Role, Sign
from assistant.present.formatting import SENTENCE_ENDS

DISCS_SHARE = 0.45
"""Of the width, that the discs of a move may take; the turns are told in words as well."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row of type, its capitals' top left at (left, top), from the top left of its line."""

    text: str
    left: int
    top: int
    size: int
    width: int
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Line:
    """A line as it is set."""

    need: Need
    size: int
    """Type size in pixels."""
    rows: tuple[Row, ...]
    height: int
    sign_width: int = 0
    """Of the sign before it, 0 where there is none."""
    breaks: tuple[int, ...] = ()
    """Rows at which a sentence begins, besides the first."""
    top: int = 0
    left: int = 0
    """Where its top left stands on the page."""

    def broken(self, free: Line) -> bool:
        """Whether it takes more rows than where it is `free`, or its sign has no room."""
        return len(self.rows) > len(free.rows) or self.sign_width < free.sign_width // 2

    def at(self, left: int, top: int) -> Line:
        """The same line, placed."""
        return replace(self, left=left, top=top)

    def part(self, first: int, last: int) -> Line:
        """Some of its rows, as a line of their own on a leaf."""
        step = typeset.line_height(self.size)
        rows = tuple(replace(row, top=row.top - first * step) for row in self.rows[first:last])
        return replace(self, rows=rows, height=step * (last - first), breaks=())


def set_line(
    need: Need,
    size: int,
    width: int,
    *,
    apart: bool = False,
    whole: bool = True,
    small: int = 0,
) -> Line | None:
    """The line set in a width. `apart` begins every sentence on a row of its own; `small` is the
    smallest type.

    None where it can't be set so: with `whole` no word is broken; without it, words that are too
    wide are. A number is made as small as the width wants.
    """
    if need.role is Role.NUMBER:
        return _number(need, size, width, small)
    if need.role is Role.CHOICES:
        return _choices(need, size, width, whole=whole)
    sign = round(small * 0.7) if need.sign is Sign.BAR else _sign_width(need, size)
    if need.sign is Sign.DISCS:
        words = typeset.width_of(need.text, size, bold=need.bold)
        if sign > width * DISCS_SHARE or sign + words > width:
            sign = 0
    room = width - sign
    texts = SENTENCE_ENDS.split(need.text) if apart else [need.text]
    broken: list[str] = []
    breaks: list[int] = []
    for text in texts:
        breaks.append(len(broken))
        broken += typeset.wrap(text, size, room, bold=need.bold)
    if not _all_fit(broken, size, room, bold=need.bold):
        if whole:
            return None
        broken = [part for row in broken for part in typeset.cut(row, size, room, bold=need.bold)]
        breaks = [0]
    step = typeset.line_height(size)
    rows = [
        Row(
            text, sign, number * step, size, typeset.width_of(text, size, bold=need.bold), need.bold
        )
        for number, text in enumerate(broken)
    ]
    height = step * len(rows)
    if need.aside:
        rows, height = _with_aside(need, size, width, sign, rows, height, small)
    return Line(need, size, tuple(rows), height, sign, tuple(breaks[1:]))


def _all_fit(rows: Iterable[str], size: int, width: int, *, bold: bool) -> bool:
    return all(typeset.width_of(row, size, bold=bold) <= width for row in rows)


def _sign_width(need: Need, size: int) -> int:
    """Room for a sign and the gap after it."""
    return round(size * (0.85 * need.sign_aspect + 0.35)) if need.sign else 0


def _with_aside(
    need: Need, size: int, width: int, sign: int, rows: list[Row], height: int, least: int
) -> tuple[list[Row], int]:
    """With what stands at the right of the first row, or under the last where it has no room."""
    small = max(least, round(size * 0.7))
    wide = typeset.width_of(need.aside, small)
    if len(rows) == 1 and rows[0].left + rows[0].width + size + wide <= width:
        drop = round((size - small) * CAPITAL)
        return [*rows, Row(need.aside, width - wide, drop, small, wide)], height
    for text in typeset.wrap(need.aside, size, width - sign):
        rows.append(Row(text, sign, height, size, typeset.width_of(text, size)))
        height += typeset.line_height(size)
    return rows, height


def _number(need: Need, size: int, width: int, small: int) -> Line:
    """The large number: as large as the width allows, and no larger than `size`."""
    mark = round(size * 0.02) + max(8, round(size * 0.06))
    high = math.ceil(size * CAPITAL)
    fitting = min(size, typeset.number_size(need.text, need.unit, width - mark, high, small))
    high = round(fitting * CAPITAL)
    below = max(
        round(fitting * 0.14), typeset.unit_drop(need.unit, fitting, small) + round(fitting * 0.05)
    )
    return Line(need, fitting, (), high + below, mark)


def _choices(need: Need, size: int, width: int, *, whole: bool) -> Line | None:
    """Answers in frames, side by side."""
    rows, x = [], 0
    pad, high = size // 2, round(size * 1.7)
    top = (high - round(size * CAPITAL)) // 2
    for text in need.text.split("\n"):
        wide = typeset.width_of(text, size, bold=True)
        rows.append(Row(text, x + pad, top, size, wide, bold=True))
        x += wide + 3 * pad
    if x - pad > width and whole:
        return None
    return Line(need, size, tuple(rows), high + round(size * 0.2))

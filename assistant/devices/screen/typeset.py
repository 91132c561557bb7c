"""Type: the fonts, lines and paragraphs, and the one very large number.

B612 is a typeface made for reading instruments at a glance; its figures are all of one width.
Its slashed zero is used everywhere, and the decimal point of the number is drawn heavy.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

import pygame

from assistant.devices.screen.theme import Colour
from assistant.present.formatting import MINUS

SLASHED_ZERO = "\ue007"
CAPITAL = 0.75
"""Height of a capital or figure as a share of the type size (B612: 1500 of 2000 units)."""
FIGURE = 0.65
"""Width of a figure as a share of the type size (B612: 1300 of 2000 units)."""
POINT = 0.36
"""Width given to the heavy decimal point."""
_POINT_SIZE = 0.19
"""Side of the point: half as heavy again as the font's own."""


def font(size: int, *, bold: bool = False, mono: bool = False) -> pygame.font.Font:
    """The font at a size in pixels, at least 6."""
    return _font(max(6, size), bold, mono)


@lru_cache(maxsize=96)
def _font(size: int, bold: bool, mono: bool) -> pygame.font.Font:
    if not pygame.font.get_init():
        pygame.font.init()
    name = f"B612{'Mono' if mono else ''}-{'Bold' if bold else 'Regular'}.otf"
    with resources.as_file(resources.files("assistant.devices.fonts") / name) as path:
        return pygame.font.Font(str(path), size)


def forget_fonts() -> None:
    """Drop cached fonts: they die with `pygame.quit`."""
    _font.cache_clear()
    width_of.cache_clear()
    _figure.cache_clear()


def plain(text: str) -> str:
    """Text as it is set: with slashed zeros."""
    return text.replace("0", SLASHED_ZERO)


_FRACTIONS = re.compile("([¼½¾]+)")
_SENTENCES = re.compile(r"(?<=[.?!])\s+")
_FRACTION_SCALE = 1.4
"""A fraction is set larger than its line: its own figures are half the height of the others."""


def _runs(text: str, size: int) -> list[tuple[str, int]]:
    """The line cut where a fraction stands: each part with its size."""
    large = round(size * _FRACTION_SCALE)
    return [
        (part, large if number % 2 else size)
        for number, part in enumerate(_FRACTIONS.split(text))
        if part
    ]


@lru_cache(maxsize=8192)
def width_of(text: str, size: int, *, bold: bool = False) -> int:
    """Width of a line in pixels."""
    return sum(font(high, bold=bold).size(plain(part))[0] for part, high in _runs(text, size))


def line_height(size: int) -> int:
    """Distance from one line to the next."""
    return round(size * 1.2)


def wrap(text: str, size: int, width: int, *, bold: bool = False) -> list[str]:
    """Lines no wider than `width`; a word that is too wide by itself is left whole."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, size, bold=bold) > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines


def fit_line(text: str, width: int, largest: int, smallest: int, *, bold: bool = False) -> int:
    """The largest size at which one line fits the width; `smallest` where none does."""
    size = largest
    while size > smallest:
        over = width_of(text, size, bold=bold) / max(1, width)
        if over <= 1:
            return size
        size = max(smallest, min(size - 1, int(size / over)))
    return size


@dataclass(frozen=True, slots=True)
class Block:
    """A paragraph and the smaller lines under it, set to fit a box."""

    size: int
    lines: tuple[str, ...]
    small: int
    below: tuple[str, ...]


def fit_block(
    text: str,
    more: Sequence[str],
    box: tuple[int, int],
    largest: int,
    smallest: int,
    *,
    bold: bool = False,
    small_bold: bool = False,
) -> Block:
    """The largest setting of `text`, with `more` under it, that fits a box (width, height).

    Every sentence begins a line of its own where that costs little. Nothing is set under
    `smallest`: there, whole paragraphs of `more` are left off from the end, since half a caution
    is worse than none; `text` itself is cut with an ellipsis at the very last.
    """
    kept = list(more)
    while True:
        best = _largest_block(text, kept, box, largest, smallest, bold, small_bold)
        if best is not None:
            return best
        if not kept:
            break
        kept.pop()
    width, height = box
    lines = wrap(text, smallest, width, bold=bold)
    room = max(1, (height + smallest // 2) // line_height(smallest))
    if len(lines) > room:
        rest = " ".join(lines[room - 1 :])
        lines = [*lines[: room - 1], shorten(rest, smallest, width, bold=bold)]
    return Block(smallest, tuple(lines), smallest, ())


def _largest_block(
    text: str,
    more: Sequence[str],
    box: tuple[int, int],
    largest: int,
    smallest: int,
    bold: bool,
    small_bold: bool,
) -> Block | None:
    flowing: Block | None = None
    apart: Block | None = None
    sentences = [part for part in _SENTENCES.split(text) if part]
    for paragraphs in ([text], sentences):
        low, high, best = smallest, max(smallest, largest), None
        while low <= high:
            size = (low + high) // 2
            block = _set(paragraphs, more, box, size, smallest, bold, small_bold)
            if block is not None:
                best, low = block, size + 1
            else:
                high = size - 1
        flowing, apart = (best, None) if paragraphs == [text] else (flowing, best)
    if apart is not None and flowing is not None and apart.size >= flowing.size * 0.8:
        return apart
    return flowing


def _set(
    paragraphs: Sequence[str],
    more: Sequence[str],
    box: tuple[int, int],
    size: int,
    smallest: int,
    bold: bool,
    small_bold: bool,
) -> Block | None:
    """The block at one size, or None where it does not fit."""
    width, height = box
    small = max(smallest, min(round(size * 0.55), round(smallest * 1.5)))
    lines = [line for text in paragraphs for line in wrap(text, size, width, bold=bold)]
    below = [line for text in more for line in wrap(text, small, width, bold=small_bold)]
    tall = line_height(size) * len(lines) + line_height(small) * len(below)
    spare = line_height(small if below else size) - round((small if below else size) * 0.98)
    wide = max(
        [width_of(line, size, bold=bold) for line in lines]
        + [width_of(line, small, bold=small_bold) for line in below],
        default=0,
    )
    if tall - spare > height or wide > width:
        return None
    return Block(size, tuple(lines), small, tuple(below))


def shorten(text: str, size: int, width: int, *, bold: bool = False) -> str:
    """The text cut after a whole word to fit the width, with an ellipsis where it was cut."""
    if width_of(text, size, bold=bold) <= width:
        return text
    words = text.split()
    while len(words) > 1:
        words.pop()
        cut = " ".join(words).rstrip(",.;:") + " …"
        if width_of(cut, size, bold=bold) <= width:
            return cut
    return words[0] if words else ""


def write(
    surface: pygame.Surface,
    text: str,
    at: tuple[int, int],
    size: int,
    colour: Colour,
    *,
    bold: bool = False,
    anchor: str = "left",
) -> pygame.Rect:
    """One line with its capitals' top at `at`; the box of its capitals."""
    width = width_of(text, size, bold=bold)
    left = x = at[0] - {"left": 0, "centre": width // 2, "right": width}[anchor]
    middle = at[1] + size * CAPITAL / 2
    for part, high in _runs(text, size):
        face = font(high, bold=bold)
        image = face.render(plain(part), True, colour)
        # Fractions stand centred on the capitals of the line.
        surface.blit(image, (x, round(middle - high * CAPITAL / 2) - rise(face, high)))
        x += image.get_width()
    return pygame.Rect(left, at[1], width, round(size * CAPITAL))


def rise(face: pygame.font.Font, size: int) -> int:
    """How far the top of a rendered line is above its capitals."""
    return face.get_ascent() - round(size * CAPITAL)


def number_width(template: str, size: int) -> float:
    """Width of a number at a type size."""
    return size * sum(POINT if sign == "." else FIGURE for sign in template)


def number_size(template: str, unit: str, width: int, height: int) -> int:
    """The largest type size at which any number like `template`, with its unit, fits the box."""
    size = max(6, int(height / CAPITAL))
    while size > 6:
        unit_width = width_of(unit, unit_size(size), bold=True) + size * 0.18 if unit else 0
        over = (number_width(template, size) + unit_width) / width
        if over <= 1:
            return size
        size = min(size - 1, int(size / over))
    return size


def unit_drop(unit: str, size: int) -> int:
    """How far the unit behind a number of that size reaches below the line."""
    return round(unit_size(size) * 0.22) if any(sign in "pgy" for sign in unit) else 0


def unit_size(size: int) -> int:
    """Type size of the unit behind a number of that size."""
    return max(6, round(size * 0.3))


@lru_cache(maxsize=48)
def _figure(sign: str, size: int, colour: Colour, paper: Colour) -> tuple[pygame.Surface, int, int]:
    """A large figure cut to its ink on its ground, which is copied faster than it is blended; and
    where it stands from the left of its width and the top of the capitals."""
    face = font(size, bold=True)
    image = face.render(plain(sign), True, colour)
    ink = image.get_bounding_rect()
    figure = pygame.Surface(ink.size, depth=32)
    figure.fill(paper)
    figure.blit(image, (-ink.left, -ink.top))
    left = round((FIGURE * size - image.get_width()) / 2) + ink.left
    return figure, left, ink.top - rise(face, size)


def write_number(
    surface: pygame.Surface,
    number: str,
    unit: str,
    at: tuple[int, int],
    size: int,
    colour: Colour,
    paper: Colour,
) -> pygame.Rect:
    """The large number with its figures' top left at `at`; the box of number and unit."""
    x = float(at[0])
    base = at[1] + round(size * CAPITAL)
    for sign in number:
        if sign == ".":
            side = max(2, round(size * _POINT_SIZE))
            left = round(x + (POINT * size - side) / 2)
            pygame.draw.rect(
                surface, colour, (left, base - side, side, side), border_radius=max(1, side // 5)
            )
            x += POINT * size
            continue
        if sign == MINUS:
            thick = max(2, round(size * 0.12))
            pygame.draw.rect(
                surface,
                colour,
                (round(x + size * 0.06), base - round(size * 0.43), round(size * 0.53), thick),
            )
        else:
            glyph, left, top = _figure(sign, size, colour, paper)
            surface.blit(glyph, (round(x) + left, at[1] + top))
        x += FIGURE * size
    if unit:
        small = unit_size(size)
        x += size * 0.12
        # a degree sign stands at the top of the figures, any word on their line
        top = at[1] if unit == "°" else base - round(small * CAPITAL)
        box = write(surface, unit, (round(x), top), small, colour, bold=True)
        x = float(box.right)
    return pygame.Rect(at[0], at[1], round(x) - at[0], round(size * CAPITAL))

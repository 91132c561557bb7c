"""Type: the fonts, lines and paragraphs, and the one very large number.

B612 is a typeface made for reading instruments at a glance; its figures are all of one width.
Its slashed zero is used everywhere, and the decimal point of the number is drawn heavy.
"""

from __future__ import annotations

import re
from functools import lru_cache
from importlib import resources

import pygame

from assistant.devices.screen.needs import CAPITAL
from assistant.devices.screen.theme import Colour
from assistant.present.formatting import MINUS

SLASHED_ZERO = "\ue007"
FIGURE = 0.65
"""Width of a figure as a share of the type size (B612: 1300 of 2000 units)."""
POINT = 0.36
"""Width given to the heavy decimal point."""
FRACTION = 0.78
"""Width given to a fraction."""
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


FRACTIONS = "¼½¾"
_FRACTIONS = re.compile(f"([{FRACTIONS}]+)")
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
    words: list[str] = []
    space, used = width_of(" ", size, bold=bold), 0
    for word in text.split():
        wide = width_of(word, size, bold=bold)
        if words and used + space + wide > width:
            lines.append(" ".join(words))
            words, used = [word], wide
        else:
            used += wide + (space if words else 0)
            words.append(word)
    return [*lines, " ".join(words)] if words else lines


def cut(word: str, size: int, width: int, *, bold: bool = False) -> list[str]:
    """A row in pieces no wider than `width`, broken anywhere; each has a letter at least."""
    pieces, piece = [], ""
    for sign in word:
        if piece and width_of(piece + sign, size, bold=bold) > width:
            pieces.append(piece)
            piece = ""
        piece += sign
    return [*pieces, piece] if piece else pieces


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
    return size * sum(_share(sign) for sign in template)


def _share(sign: str) -> float:
    """Width of a sign of the number as a share of the type size."""
    return POINT if sign == "." else FRACTION if sign in FRACTIONS else FIGURE


def number_size(template: str, unit: str, width: int, height: int, least: int = 0) -> int:
    """The largest type size at which any number like `template`, with its unit, fits the box."""
    size = max(6, int(height / CAPITAL))
    while size > 6:
        unit_width = width_of(unit, unit_size(size, least), bold=True) + size * 0.18 if unit else 0
        over = (number_width(template, size) + unit_width) / width
        if over <= 1:
            return size
        size = min(size - 1, int(size / over))
    return size


def unit_drop(unit: str, size: int, least: int = 0) -> int:
    """How far the unit behind a number of that size reaches below the line."""
    return round(unit_size(size, least) * 0.22) if any(sign in "pgy" for sign in unit) else 0


def unit_size(size: int, least: int = 0) -> int:
    """Type size of the unit behind a number of that size, where none is under `least`."""
    return max(6, least, round(size * 0.3))


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
    left = round((_share(sign) * size - image.get_width()) / 2) + ink.left
    return figure, left, ink.top - rise(face, size)


def write_number(
    surface: pygame.Surface,
    number: str,
    unit: str,
    at: tuple[int, int],
    size: int,
    colour: Colour,
    paper: Colour,
    least: int = 0,
) -> pygame.Rect:
    """The large number with its figures' top left at `at`; the box of number and unit.

    The unit is set no smaller than `least`.
    """
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
        x += _share(sign) * size
    if unit:
        small = unit_size(size, least)
        x += size * 0.12
        # a degree sign stands at the top of the figures, any word on their line
        top = at[1] if unit == "°" else base - round(small * CAPITAL)
        box = write(surface, unit, (round(x), top), small, colour, bold=True)
        x = float(box.right)
    return pygame.Rect(at[0], at[1], round(x) - at[0], round(size * CAPITAL))

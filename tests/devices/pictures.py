"""Pages drawn in memory, and numbers measured on them."""

from __future__ import annotations

import os

os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

from pathlib import Path

import numpy as np
import pygame
from numpy.typing import NDArray
from PIL import Image

from assistant.devices.screen.page import Page, paint
from assistant.present.glance import Glance

Pixels = NDArray[np.uint8]
"""Height x width x 3."""

SIZES = ((800, 480), (1920, 1080), (1080, 1920))
LARGEST_KEPT = 1000
"""A reference picture with a longer side is kept at half its size."""
REFERENCES = Path(__file__).parent.parent / "reference" / "screens"
DIFFERENCES = Path(__file__).parent.parent.parent / "out" / "screens"


def drawn(
    glance: Glance, size: tuple[int, int], *, smallest: int = 0, fresh: bool = True
) -> tuple[Page, Pixels]:
    """A page, and its pixels."""
    pygame.font.init()
    surface = pygame.Surface(size)
    page = paint(surface, glance, smallest=smallest, fresh=fresh)
    return page, pixels_of(surface)


def pixels_of(surface: pygame.Surface) -> Pixels:
    """A surface as an array."""
    width, height = surface.get_size()
    raw = np.frombuffer(pygame.image.tobytes(surface, "RGB"), dtype=np.uint8)
    return raw.reshape(height, width, 3)


def themes_at(size: tuple[int, int]) -> tuple[str, ...]:
    """The themes with reference pictures at a size: both at the smallest, where it is tightest."""
    return ("dark", "light") if size == SIZES[0] else ("dark",)


def reference_name(name: str, size: tuple[int, int], theme: str) -> str:
    """The file name of a reference picture."""
    return f"{name}-{size[0]}x{size[1]}-{theme}.png"


def kept_size(pixels: Pixels) -> Pixels:
    """The picture as it is kept for reference: large ones at half their size."""
    height, width, _ = pixels.shape
    return pixels if max(width, height) <= LARGEST_KEPT else halved(pixels)


def halved(pixels: Pixels) -> Pixels:
    """The picture at half its size."""
    height, width, _ = pixels.shape
    halves = pixels.reshape(height // 2, 2, width // 2, 2, 3).astype(np.uint16)
    return np.asarray(halves.sum(axis=(1, 3)) // 4, dtype=np.uint8)


def save(pixels: Pixels, path: Path) -> None:
    """Write pixels as PNG, with few colours: a page has four and the shades between them."""
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.fromarray(np.ascontiguousarray(pixels))
    image.quantize(64, dither=Image.Dither.NONE).save(path, optimize=True)


def load(path: Path) -> Pixels:
    """The pixels of a PNG."""
    return np.asarray(Image.open(path).convert("RGB"), dtype=np.uint8)


def differs_from(pixels: Pixels, colour: tuple[int, int, int], by: int = 60) -> NDArray[np.bool_]:
    """Where pixels differ clearly from a colour in any channel."""
    away = np.abs(pixels.astype(np.int16) - np.array(colour, dtype=np.int16))
    found: NDArray[np.bool_] = away.max(axis=2) > by
    return found

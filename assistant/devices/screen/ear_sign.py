"""The state of the ear as a shape: each state has its own, so that colour is not needed."""

from __future__ import annotations

import math

import pygame

from assistant.devices.screen import shapes
from assistant.devices.screen.theme import Theme
from assistant.present.glance import Ear


def draw_ear(
    surface: pygame.Surface, box: pygame.Rect, ear: Ear, level: float, theme: Theme
) -> None:
    """The sign of `ear` in a square box; `level` (0 to 1) shows while it hears."""
    x, y = box.center
    r = min(box.width, box.height) / 2
    thick = max(2.0, r * 0.16)
    ink, strong = theme.ink, theme.strong
    match ear:
        case Ear.LISTENING:  # an open ring around a dot: waiting
            shapes.ring(surface, (x, y), r * 0.8, thick, ink)
            shapes.disc(surface, (x, y), r * 0.32, ink)
        case Ear.WAITING:  # three dots: not yet
            for place in (-1, 0, 1):
                shapes.disc(surface, (x + place * r * 0.68, y), r * 0.24, ink)
        case Ear.HEARING:  # bars as high as the sound
            for place, share in enumerate((0.45, 0.8, 1.0, 0.7, 0.5)):
                high = r * (0.25 + 0.75 * share * max(0.25, level))
                left = x + (place - 2) * r * 0.42
                bar = [
                    (left - r * 0.13, y - high), (left + r * 0.13, y - high),
                    (left + r * 0.13, y + high), (left - r * 0.13, y + high),
                ]  # fmt: skip
                shapes.fill(surface, bar, strong)
        case Ear.SPEAKING:  # a wedge sending out arcs
            wedge = [(x - r * 0.9, y - r * 0.3), (x - r * 0.45, y - r * 0.3),
                     (x, y - r * 0.75), (x, y + r * 0.75),
                     (x - r * 0.45, y + r * 0.3), (x - r * 0.9, y + r * 0.3)]  # fmt: skip
            shapes.fill(surface, wedge, ink)
            for radius in (0.4, 0.8):
                arc = [
                    (x + r * 0.1 + radius * r * math.cos(a / 10), y + radius * r * math.sin(a / 10))
                    for a in range(-8, 9)
                ]
                shapes.stroke(surface, arc, thick, ink)
        case Ear.NOT_LISTENING:  # a solid square: closed
            side = r * 0.75
            square = [(x - side, y - side), (x + side, y - side),
                      (x + side, y + side), (x - side, y + side)]  # fmt: skip
            shapes.fill(surface, square, ink)
        case Ear.NO_MICROPHONE:  # a cross
            away = r * 0.68
            for rise in (away, -away):
                ends = [(x - away, y + rise), (x + away, y - rise)]
                shapes.stroke(surface, ends, thick * 1.6, ink)
        case Ear.STARTING:  # a dotted ring
            for place in range(8):
                angle = math.pi * place / 4
                dot = (x + r * 0.75 * math.cos(angle), y + r * 0.75 * math.sin(angle))
                shapes.disc(surface, dot, r * 0.15, ink)
        case Ear.TROUBLE:
            draw_warning(surface, box, theme)


def draw_warning(surface: pygame.Surface, box: pygame.Rect, theme: Theme) -> None:
    """A triangle with an exclamation mark."""
    x, y = box.center
    r = min(box.width, box.height) / 2
    triangle = [(x, y - r * 0.9), (x + r, y + r * 0.8), (x - r, y + r * 0.8)]
    shapes.fill(surface, triangle, theme.strong)
    stem = max(2.0, r * 0.18)
    shapes.stroke(surface, [(x, y - r * 0.3), (x, y + r * 0.2)], stem, theme.paper)
    shapes.disc(surface, (x, y + r * 0.52), stem * 0.62, theme.paper)

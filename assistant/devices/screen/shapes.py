"""Smooth shapes: pygame draws areas and thick lines without smoothing, so edges are added."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import pygame
from pygame import gfxdraw

from assistant.devices.screen.theme import Colour

XY = tuple[float, float]


def fill(surface: pygame.Surface, points: Sequence[XY], colour: Colour) -> None:
    """A filled polygon with smooth edges."""
    if len(points) < 3:
        return
    corners = [(round(x), round(y)) for x, y in points]
    gfxdraw.aapolygon(surface, corners, colour)
    gfxdraw.filled_polygon(surface, corners, colour)


def disc(surface: pygame.Surface, centre: XY, radius: float, colour: Colour) -> None:
    """A filled circle with a smooth edge."""
    x, y, r = round(centre[0]), round(centre[1]), max(1, round(radius))
    gfxdraw.aacircle(surface, x, y, r, colour)
    gfxdraw.filled_circle(surface, x, y, r, colour)


def ring(surface: pygame.Surface, centre: XY, radius: float, width: float, colour: Colour) -> None:
    """A circle line."""
    # so many sides that none is a quarter of a pixel off the round
    count = max(24, math.ceil(math.pi * math.sqrt(2 * max(radius, 0.0))))
    points = [
        (
            centre[0] + radius * math.cos(2 * math.pi * i / count),
            centre[1] + radius * math.sin(2 * math.pi * i / count),
        )
        for i in range(count + 1)
    ]
    stroke(surface, points, width, colour, caps=False)


def stroke(
    surface: pygame.Surface,
    points: Sequence[XY],
    width: float,
    colour: Colour,
    *,
    dashed: bool = False,
    caps: bool = True,
) -> None:
    """A polyline of any width, with smooth edges and joints."""
    runs = _dashes(points, width * 4, width * 2.5) if dashed else [points]
    for run in runs:
        for (x1, y1), (x2, y2) in pairwise(run):
            length = math.hypot(x2 - x1, y2 - y1)
            if length == 0:
                continue
            dx, dy = (y2 - y1) / length * width / 2, (x1 - x2) / length * width / 2
            fill(
                surface,
                [(x1 + dx, y1 + dy), (x2 + dx, y2 + dy), (x2 - dx, y2 - dy), (x1 - dx, y1 - dy)],
                colour,
            )
        if width >= 3:
            ends = [run[0], run[-1]] if caps and not dashed else []
            for joint in (*ends, *_corners(run, width)):
                disc(surface, joint, (width - 1) / 2, colour)


def _corners(run: Sequence[XY], width: float) -> list[XY]:
    """Where a polyline turns so far that its outer edge would show a gap of half a pixel."""
    corners = []
    for (x0, y0), (x1, y1), (x2, y2) in zip(run, run[1:], run[2:], strict=False):
        turn = math.atan2(y2 - y1, x2 - x1) - math.atan2(y1 - y0, x1 - x0)
        turn = abs((turn + math.pi) % (2 * math.pi) - math.pi)
        if turn * width / 2 > 0.5:
            corners.append((x1, y1))
    return corners


def arrow_head(surface: pygame.Surface, tail: XY, tip: XY, size: float, colour: Colour) -> None:
    """A filled arrow head with its tip at `tip`."""
    angle = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
    wings = [
        (tip[0] - size * math.cos(angle + turn), tip[1] - size * math.sin(angle + turn))
        for turn in (math.radians(28), -math.radians(28))
    ]
    fill(surface, [tip, *wings], colour)


def hatch(
    surface: pygame.Surface,
    points: Sequence[XY],
    spacing: float,
    width: int,
    colour: Colour,
    paper: Colour,
) -> None:
    """A polygon filled with slanted lines."""
    left = math.floor(min(x for x, _ in points))
    top = math.floor(min(y for _, y in points))
    right = math.ceil(max(x for x, _ in points))
    bottom = math.ceil(max(y for _, y in points))
    wide, high = max(1, right - left), max(1, bottom - top)
    lines = pygame.Surface((wide, high))
    lines.fill(paper)
    at = -high
    while at < wide:
        pygame.draw.line(lines, colour, (at, high), (at + high, 0), width)
        at += max(4, round(spacing))
    # Painted out around the polygon in a colour that is then left transparent.
    around = (255, 0, 255)
    mask = pygame.Surface((wide, high))
    mask.fill(around)
    hole = (1, 2, 3)
    pygame.draw.polygon(mask, hole, [(x - left, y - top) for x, y in points])
    mask.set_colorkey(hole)
    lines.blit(mask, (0, 0))
    lines.set_colorkey(around)
    surface.blit(lines, (left, top))


def _dashes(points: Sequence[XY], on: float, off: float) -> list[list[XY]]:
    """The polyline cut into dashes."""
    runs: list[list[XY]] = []
    run: list[XY] = [points[0]]
    left, drawing = on, True
    for (x1, y1), (x2, y2) in pairwise(points):
        length = math.hypot(x2 - x1, y2 - y1)
        done = 0.0
        while length - done > left:
            done += left
            at = (x1 + (x2 - x1) * done / length, y1 + (y2 - y1) * done / length)
            if drawing:
                runs.append([*run, at])
            run, drawing = [at], not drawing
            left = on if drawing else off
        left -= length - done
        if drawing:
            run.append((x2, y2))
    if drawing and len(run) > 1:
        runs.append(run)
    return runs

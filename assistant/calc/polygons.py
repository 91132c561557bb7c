"""Flats, squares and hexagons on round stock. Geometry; needs no source."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, leg, positive, shown, system
from assistant.calc.trig import cos, tan
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity


@dataclass(frozen=True, slots=True)
class Polygon:
    """A regular polygon milled on round stock."""

    across_flats: Quantity
    """Between opposite flats; for an odd number twice the centre-to-flat distance."""
    across_corners: Quantity
    """The circle round its corners."""
    flat_width: Quantity
    depth: Quantity
    """Cut from the top of the stock for each flat; the same from every side."""
    full_corners: bool
    """False: the stock is smaller than the corners, which stay round."""


def polygon(sides: int, across_flats: Quantity, stock: Quantity) -> Polygon:
    """Flats round a bar of diameter `stock`: depth of each is (stock - across flats) / 2.

    Raises `ImpossibleInput` for fewer than three sides, and where no metal would be cut.
    """
    half = _half_angle(sides)
    if in_unit(positive("across flats", across_flats), "mm") >= in_unit(stock, "mm"):
        raise ImpossibleInput(
            "across flats", shown(across_flats), f"must be less than the stock, {shown(stock)}"
        )
    corners = across_flats / cos(half)
    full = in_unit(corners, "mm") <= in_unit(stock, "mm")
    depth = (stock - across_flats) / 2
    return Polygon(
        across_flats=across_flats,
        across_corners=corners,
        flat_width=across_flats * tan(half) if full else flat_width(stock, depth),
        depth=depth,
        full_corners=full,
    )


def largest_polygon(sides: int, stock: Quantity) -> Polygon:
    """The largest polygon with sharp corners that a bar holds: across flats = D cos(180 / n)."""
    half = _half_angle(sides)
    across = positive("stock", stock) * cos(half)
    return Polygon(
        across_flats=across,
        across_corners=stock,
        flat_width=across * tan(half),
        depth=(stock - across) / 2,
        full_corners=True,
    )


def stock_for(sides: int, across_flats: Quantity) -> Quantity:
    """The bar that a polygon with sharp corners needs: across flats / cos(180 / n)."""
    stock: Quantity = positive("across flats", across_flats) / cos(_half_angle(sides))
    return stock


def flat_width(stock: Quantity, depth: Quantity) -> Quantity:
    """Width of a flat cut `depth` deep on round stock: 2 sqrt(r^2 - (r - depth)^2)."""
    unit = system(positive("stock", stock))
    radius, cut = in_unit(stock, unit) / 2, in_unit(positive("depth", depth), unit)
    if cut > radius:
        raise ImpossibleInput("depth", shown(depth), "can't be more than half of the diameter")
    return quantity(2 * leg(radius, radius - cut), unit)


def flat_depth(stock: Quantity, width: Quantity) -> Quantity:
    """Depth that gives a flat of `width` on round stock: r - sqrt(r^2 - (width / 2)^2)."""
    unit = system(positive("stock", stock))
    radius, half = in_unit(stock, unit) / 2, in_unit(positive("width", width), unit) / 2
    if half > radius:
        raise ImpossibleInput("width", shown(width), f"can't be wider than {shown(stock)}")
    return quantity(radius - leg(radius, half), unit)


def _half_angle(sides: int) -> Decimal:
    if not 3 <= sides <= 360:
        raise ImpossibleInput("sides", sides, "wanted 3 to 360")
    return Decimal(180) / sides

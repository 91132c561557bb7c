"""The 60 degree thread form: its depths, each by name, and the basic dimensions.

Everything here is geometry of the basic profile of ISO 68-1 and ASME B1.1: a sharp triangle of
height H = (sqrt 3 / 2) P, cut off by H/8 at the crest of the external thread.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import positive, shown
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, quantity

SQRT3 = Decimal(3).sqrt()
H_PER_PITCH = SQRT3 / 2


@dataclass(frozen=True, slots=True)
class DepthBasis:
    """One of the 'single depths' of a 60 degree thread that are in print."""

    name: str
    """As a share of the sharp height: `17/24 H`."""
    share: Decimal
    """Of H."""
    factor: Decimal
    """Of the pitch."""
    meaning: str


def _basis(name: str, numerator: int, denominator: int, meaning: str) -> DepthBasis:
    share = Decimal(numerator) / Decimal(denominator)
    # Multiplied before dividing, so that 3/4 H is not a digit short of 3/4 of H.
    return DepthBasis(name, share, H_PER_PITCH * numerator / denominator, meaning)


DEPTH_BASES: dict[str, DepthBasis] = {
    basis.name: basis
    for basis in (
        _basis("5/8 H", 5, 8, "0.5413 P: internal threads, and the UN external of today's B1.1"),
        _basis("11/16 H", 11, 16, "0.5954 P: the UNR external with its rounded root"),
        _basis("17/24 H", 17, 24, "0.6134 P: rounded-root external of ISO and of older B1.1"),
        _basis("3/4 H", 3, 4, "0.6495 P: the old National form, a flat of P/8 at the root"),
    )
}


def depth_basis(name: str) -> DepthBasis:
    """The basis called `name`; raises `BadInput` that lists the four."""
    try:
        return DEPTH_BASES[name]
    except KeyError:
        raise BadInput("basis", name, "wanted one of " + ", ".join(DEPTH_BASES)) from None


def pitch_of(tpi: Decimal) -> Quantity:
    """The pitch of a thread of `tpi` threads an inch (more than zero)."""
    if not tpi > 0:
        raise ImpossibleInput("tpi", tpi, "must be more than zero")
    return quantity(1 / tpi, "inch")


def pitch_given(tpi: Decimal | None, pitch: Quantity | None) -> Quantity:
    """The pitch, given as threads an inch or itself: one of the two."""
    if tpi is not None and pitch is None:
        return pitch_of(tpi)
    if pitch is not None and tpi is None:
        return pitch
    raise BadInput("pitch", "given twice" if tpi else "missing", "give tpi=13 or pitch='1.25 mm'")


def sharp_height(pitch: Quantity) -> Quantity:
    """H, the height of the sharp 60 degree triangle: (sqrt 3 / 2) P."""
    height: Quantity = H_PER_PITCH * positive("pitch", pitch)
    return height


def single_depth(pitch: Quantity, basis: str) -> Quantity:
    """Depth of the thread on one side, on the basis named: see `DEPTH_BASES`."""
    depth: Quantity = depth_basis(basis).factor * positive("pitch", pitch)
    return depth


def depth_for_tool(pitch: Quantity, flat: Quantity) -> Quantity:
    """Depth from the crest that a tool ground with `flat` at its nose must go, external thread.

    The pitch diameter is then basic: sqrt(3)/2 (7/8 P - flat). A flat of P/8 gives 3/4 H and
    P/4 gives 5/8 H. Raises `ImpossibleInput` for a flat wider than P/4: such a nose would leave
    a root that the mating crest fouls.
    """
    positive("pitch", pitch)
    if flat.magnitude < 0:
        raise ImpossibleInput("flat", shown(flat), "can't be less than zero")
    if flat > pitch / 4:
        raise ImpossibleInput(
            "flat", shown(flat), f"a quarter of the pitch, {shown(pitch / 4)}, at the most"
        )
    depth: Quantity = H_PER_PITCH * (pitch * 7 / 8 - flat)
    return depth


@dataclass(frozen=True, slots=True)
class BasicThread:
    """The basic dimensions of a thread, before any allowance or tolerance."""

    pitch: Quantity
    height: Quantity
    """H, of the sharp triangle."""
    pitch_dia: Quantity
    minor_int: Quantity
    """Basic minor diameter of the internal thread, D - 5/4 H."""
    minor_ext_unr: Quantity
    """Minor diameter of the UNR external thread, D - 11/8 H."""
    minor_ext_rounded: Quantity
    """Minor diameter d3 of the ISO external thread with a rounded root, D - 17/12 H."""


def basic_thread(major: Quantity, pitch: Quantity) -> BasicThread:
    """Basic dimensions of a 60 degree thread (ASME B1.1 and ISO 724), unrounded.

    Raises `ImpossibleInput` where the pitch is too coarse for the diameter.
    """
    positive("major", major)
    height = sharp_height(pitch)
    rounded = major - height * 17 / 12
    if rounded.magnitude <= 0:
        raise ImpossibleInput(
            "pitch", shown(pitch), f"too coarse for {shown(major)}: nothing is left in the root"
        )
    return BasicThread(
        pitch=pitch.to(major.units),
        height=height.to(major.units),
        pitch_dia=major - height * 3 / 4,
        minor_int=major - height * 5 / 4,
        minor_ext_unr=major - height * 11 / 8,
        minor_ext_rounded=rounded,
    )


def length_over_threads(pitch: Quantity, threads: int) -> Quantity:
    """Distance that a rule laid on the scratch pass must show over `threads` threads."""
    if threads < 1:
        raise BadInput("threads", threads, "wanted one or more")
    distance: Quantity = positive("pitch", pitch) * threads
    return distance

"""Single-point threading: how the depth is reached, pass by pass, straight or by the compound."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import at_least, in_unit, positive, shown, system, whole
from assistant.calc.trig import cos, tan
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, magnitude, quantity

MOST_PASSES = 500
"""More is a slip in a cut's unit, not a plan."""


@dataclass(frozen=True, slots=True)
class CompoundInfeed:
    """Feeding a thread in with the compound set over."""

    travel: Quantity
    """Along the compound."""
    shift: Quantity
    """How far the tool moves along the axis meanwhile."""
    from_square: Quantity
    """The angle from square to the axis (29.5): what most compounds read."""
    from_axis: Quantity
    """The same setting on a compound whose zero lies along the axis (60.5)."""


def compound_infeed(depth: Quantity, set_over: Quantity) -> CompoundInfeed:
    """Travel of the compound for a radial `depth`: depth / cos of its angle from square.

    `set_over` is 0 to 30 degrees from square to the axis: beyond 30 the trailing flank would not
    be cut. Raises `ImpossibleInput` that points out a reading taken from the axis.
    """
    positive("depth", depth)
    angle = magnitude(set_over, "degree")
    if not 0 <= angle <= 30:
        hint = f"; a compound that reads {angle:f} there stands at {90 - angle:f}"
        raise ImpossibleInput(
            "set over", f"{angle:f} deg",
            "wanted 0 to 30 degrees from square to the axis" + (hint if angle >= 60 else ""),
        )  # fmt: skip
    return CompoundInfeed(
        travel=depth / cos(angle),
        shift=depth * tan(angle),
        from_square=quantity(angle, "degree"),
        from_axis=quantity(90 - angle, "degree"),
    )


@dataclass(frozen=True, slots=True)
class InfeedPlan:
    """Passes that shrink as the tool goes deeper."""

    depths: tuple[Quantity, ...]
    """Where each pass ends, from the touch; the last is the full depth exactly."""
    cuts: tuple[Quantity, ...]
    """What each pass takes; they add up to the depth."""
    spring_passes: int
    """Passes at the full depth without feeding in."""


def infeed_passes(
    depth: Quantity, first_cut: Quantity, least_cut: Quantity, spring_passes: int = 2
) -> InfeedPlan:
    """Shrinking passes to `depth`, each taking about the same area of chip.

    A 60 degree tool's chip area grows with the square of the depth, so pass k of n ends at
    depth x sqrt(k / n); n is the fewest passes whose first is `first_cut` or less. From where the
    cuts would fall under `least_cut` (a lighter cut rubs) the rest is shared out evenly, in cuts
    no lighter, and never heavier than the pass before. Only where no number of cuts fits between
    the two limits are they lighter than `least_cut`. Common practice, no source; the area is
    geometry.

    Raises `ImpossibleInput` where the depth is less than the least cut, the least cut is more
    than the first, or more than 500 passes would be needed.
    """
    unit = system(positive("depth", depth))
    full = in_unit(depth, unit)
    first = in_unit(positive("first cut", first_cut), unit)
    least = in_unit(positive("least cut", least_cut), unit)
    if least > first:
        raise ImpossibleInput(
            "least cut", shown(least_cut), f"can't be more than the first cut, {shown(first_cut)}"
        )
    if full < least:
        raise ImpossibleInput(
            "depth", shown(depth), f"less than the least useful cut, {shown(least_cut)}"
        )
    if spring_passes < 0:
        raise BadInput("spring passes", spring_passes, "wanted none or more")
    if full > MOST_PASSES * first:
        raise ImpossibleInput(
            "first cut", shown(first_cut), f"needs more than {MOST_PASSES} passes: check its unit"
        )
    ends = _equal_areas(full, first, least)
    if len(ends) > MOST_PASSES:
        raise ImpossibleInput(
            "least cut", shown(least_cut), f"gives more than {MOST_PASSES} passes: check its unit"
        )
    starts = [Decimal(0), *ends[:-1]]
    return InfeedPlan(
        depths=tuple(quantity(end, unit) for end in ends),
        cuts=tuple(quantity(b - a, unit) for a, b in zip(starts, ends, strict=True)),
        spring_passes=spring_passes,
    )


def _equal_areas(full: Decimal, first: Decimal, least: Decimal) -> list[Decimal]:
    passes = at_least(full * full, first * first)
    ends = [Decimal(0)]
    for number in range(1, min(passes, MOST_PASSES) + 1):
        # 15 places: far below any dial, and each depth prints without 28 digits of square root.
        end = (full * (Decimal(number) / passes).sqrt()).quantize(Decimal("1e-15"))
        if end - ends[-1] < least:
            break
        ends.append(end)
    if len(ends) > passes:
        return [*ends[1:-1], full]
    while True:
        rest = full - ends[-1]
        even = max(1, min(whole(rest / least), MOST_PASSES + 1))
        heaviest = ends[-1] - ends[-2] if len(ends) > 1 else first
        if least <= rest / even <= heaviest:
            break
        if len(ends) == 1:
            # So many cuts are too heavy and one more too light: the first cut's limit counts.
            even = at_least(rest, first)
            break
        # The rest would rub, or be heavier than the pass before it: share that one out too.
        ends.pop()
    start = ends[-1]
    ends += [(start + rest * k / even).quantize(Decimal("1e-15")) for k in range(1, even)]
    return [*ends[1:], full]

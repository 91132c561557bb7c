"""Passes to a depth: absolute depths, so that they add up whatever was chosen on the way.

`calc/cutting.passes` divides a whole depth at once, as a table in the shell wants it: depths spread
evenly, each set to the nearest division. Here a pass is worked out from what is left when its turn
comes, with its share set upwards: a cut that the operator chose moves only those after it, and what
was cut stays as it was planned. Both give as many passes, with depths apart by less than a division
for each pass (0.253 in three: 0.084, 0.169 there, 0.085, 0.169 here); neither can be had from the
other.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from assistant.calc.cutting import MOST_PASSES
from assistant.calc.exact import plain
from assistant.errors import ImpossibleInput


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass, in the unit of the job."""

    number: int
    kind: str
    """`witness` or `roughing`; the finishing cut is worked out from a measurement."""
    depth: Decimal
    """Cumulative."""
    taken: Decimal
    limit: Decimal
    """The most this pass may take."""


def roughing_passes(
    rough_depth: Decimal,
    *,
    witness: Decimal,
    limit: Decimal,
    least: Decimal,
    chosen: Mapping[int, Decimal],
    step: Decimal,
    last: Decimal = Decimal(0),
    pause: Decimal = Decimal(0),
) -> tuple[Pass, ...]:
    """A witness skim, then equal passes to `rough_depth`, none deeper than `limit`.

    `chosen` holds the operator's own depth of cut by pass number: the passes after it are
    divided anew over what remains. Depths are set to `step`, the dial's graduation; the last is
    exactly `rough_depth`. No pass is planned below `least`, which would rub. Where `last` is given
    and the last would take more than twice that, there is one more that takes just that. At the
    depth `pause`, where it is given, a pass ends: something is measured there.

    Raises `ImpossibleInput` where a chosen pass goes past `rough_depth`, and where the limit would
    take more passes than anybody cuts.
    """
    if rough_depth > limit * MOST_PASSES:
        raise ImpossibleInput(
            "depth of cut", f"{limit.normalize():f}",
            f"would take more than {MOST_PASSES} passes to {plain(rough_depth)}: "
            "check its unit",
        )  # fmt: skip
    passes: list[Pass] = []
    reached = Decimal(0)
    number = 0
    while reached < rough_depth:
        number += 1
        left = rough_depth - reached
        kind = "witness" if number == 1 and witness else "roughing"
        if number in chosen:
            taken = as_chosen(chosen[number], left, least)
        elif kind == "witness":
            taken = min(witness, left)
        else:
            to_pause = pause - reached
            stops = least <= to_pause <= left - least
            taken = _next_share(to_pause if stops else left, limit, step)
            if last and taken > last * 2:
                taken = _next_share(left - last, limit, step)
        reached += taken
        passes.append(Pass(number, kind, reached, taken, min(limit, left)))
    return tuple(passes)


def _next_share(left: Decimal, limit: Decimal, step: Decimal) -> Decimal:
    """What the next of the fewest equal passes takes."""
    count = int((left / limit).to_integral_value(rounding=ROUND_CEILING))
    return left if count == 1 else equal_share(left / count, limit, step)


def as_chosen(
    taken: Decimal, left: Decimal, least: Decimal, before: str = "the finishing cut"
) -> Decimal:
    """What a pass takes that the operator chose: a sliver below `least`, which would rub, goes with
    it. Raises `ImpossibleInput` where it is more than is left before the cuts of `before`."""
    if not 0 < taken <= left:
        raise ImpossibleInput(
            "depth of cut", plain(taken), f"{plain(left)} is left before {before}"
        )  # fmt: skip
    return left if 0 < left - taken < least else taken


def equal_share(share: Decimal, limit: Decimal, step: Decimal) -> Decimal:
    """An equal share set to the dial: upwards, so that no sliver is left for one pass more, but
    not beyond the cutter's limit."""
    up = (share / step).to_integral_value(rounding=ROUND_CEILING) * step
    return min(up, limit)

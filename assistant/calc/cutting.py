"""Passes of a cut: how a depth is divided, how long it takes, how far the cutter runs out.

Depths are cumulative and exact: every pass ends on an absolute depth set to the dial's readable
step, and the last on the full depth, so that rounding never adds up. Common practice, no source,
where a function names none. A job's own passes, which give way to what the operator chose, are in
`jobs/to_size/passes`, where it stands why they are others.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from itertools import pairwise

from assistant.calc.exact import at_least, in_unit, positive, shown, system, to_step
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity

MOST_PASSES = 500
"""More is a slip in the limit, not a plan."""


class PassKind(StrEnum):
    """What a pass is for."""

    WITNESS = "witness"
    """A skim that shows where the cut lies, before metal is at stake."""
    ROUGH = "rough"
    FINISH = "finish"


@dataclass(frozen=True, slots=True)
class Pass:
    """One pass: what it takes off, and the depth it ends on."""

    kind: PassKind
    cut: Quantity
    """Depth of this cut."""
    depth: Quantity
    """Depth reached from the touch, cumulative."""


def passes(
    depth: Quantity,
    limit: Quantity,
    *,
    start: Quantity | None = None,
    witness: Quantity | None = None,
    finish: Quantity | None = None,
    least: Quantity | None = None,
    step: Quantity | None = None,
) -> tuple[Pass, ...]:
    """Divide the cut from `start` (0 if not given) to `depth` into passes.

    `limit` is the most a pass may take, `witness` a first skim, `finish` what is left for the
    last pass (never more than `limit`), `least` the machine's least useful cut: a smaller finish
    grows to it, a skim that would leave less is left out, and a roughing cut below it goes with
    the finishing pass. Only a whole cut smaller than it is planned as it is. Roughing cuts are
    equal, set to `step` (the dial's readable step) where it is given. The last pass ends on
    `depth` exactly.

    Raises `ImpossibleInput` where nothing is left to cut, the limit is below the least useful
    cut, or more than 500 passes would be needed.
    """
    unit = str(depth.units)
    least_cut = in_unit(least, unit) if least is not None else Decimal(0)
    most = in_unit(positive("depth of cut", limit), unit)
    begun = in_unit(start, unit) if start is not None else Decimal(0)
    end = in_unit(depth, unit)
    if end <= begun:
        raise ImpossibleInput(
            "depth", shown(depth), f"nothing is left to cut: {shown(quantity(begun, unit))} reached"
        )
    if most < least_cut:
        raise ImpossibleInput(
            "depth of cut",
            shown(limit),
            f"below the machine's least useful cut of {shown(quantity(least_cut, unit))}",
        )
    left = end - begun
    last = in_unit(finish, unit) if finish is not None else Decimal(0)
    last = min(max(last, least_cut), most, left) if last > 0 else Decimal(0)
    skim = in_unit(witness, unit) if witness is not None else Decimal(0)
    if left - skim < max(last, least_cut) or skim >= left:
        skim = Decimal(0)
    rough = left - skim - last
    if last > 0 and 0 < rough < least_cut:
        # Too little to rough: the last pass takes it along, or the two are shared out evenly.
        rough = Decimal(0) if rough + last <= most else (rough + last) / 2
    touched = begun + skim
    grain = in_unit(step, unit) if step is not None else Decimal(0)
    ends = [(PassKind.WITNESS, touched)] if skim > 0 else []
    ends += [(PassKind.ROUGH, at) for at in _equal(touched, touched + rough, most, grain)]
    if last > 0:
        ends.append((PassKind.FINISH, end))
    depths = [begun, *(at for _, at in ends)]
    return tuple(
        Pass(kind, quantity(at - before, unit), quantity(at, unit))
        for (kind, _), (before, at) in zip(ends, pairwise(depths), strict=True)
    )


def _equal(start: Decimal, end: Decimal, most: Decimal, step: Decimal) -> list[Decimal]:
    """Depths of equal cuts of at most `most`, the inner ones set to `step`."""
    span = end - start
    if span <= 0:
        return []
    count = at_least(span, most)
    while count <= MOST_PASSES:
        ends = [start + span * i / count for i in range(1, count)]
        if step > 0:
            ends = [to_step(at, step) for at in ends]
        ends.append(end)
        if all(b - a <= most for a, b in pairwise([start, *ends])):
            return [at for before, at in pairwise([start, *ends]) if at > before]
        count += 1  # setting to the dial has put one cut over the limit
    raise ImpossibleInput(
        "depth of cut", f"{most:f}", f"would take more than {MOST_PASSES} passes: check its unit"
    )


def removal_rate(width: Quantity, depth: Quantity, feed: Quantity) -> Quantity:
    """Metal removed a minute: width x depth x feed, the volume swept."""
    unit = system(width)
    rate = (
        in_unit(positive("width", width), unit)
        * in_unit(positive("depth", depth), unit)
        * in_unit(feed, f"{unit}/minute")
    )
    return quantity(rate, f"{unit}**3/minute")


def cutting_time(length: Quantity, feed: Quantity) -> Quantity:
    """How long a cut of `length` takes at a feed, in minutes."""
    unit = system(length)
    rate = in_unit(feed, f"{unit}/minute")
    if rate <= 0:
        raise ImpossibleInput("feed", rate, "must be more than zero")
    return quantity(in_unit(length, unit) / rate, "minute")


def finish_height(feed: Quantity, nose_radius: Quantity) -> Quantity:
    """Height of the ridges that a round-nosed tool leaves: feed^2 / (8 x nose radius), feed a turn
    (or a tooth). From memory of Machinery's Handbook."""
    unit = system(feed)
    radius = in_unit(positive("nose radius", nose_radius), unit)
    return quantity(in_unit(feed, unit) ** 2 / (8 * radius), unit)


def run_out(cutter: Quantity, depth: Quantity) -> Quantity:
    """How far a slotting cutter's curved end reaches beyond full depth: sqrt(d (D - d)).

    From the chord of the cutter's circle at `depth`; the keyseat at full depth ends that much
    before the mark the cutter leaves on the surface. Raises `ImpossibleInput` for a depth over
    half the cutter.
    """
    unit = system(cutter)
    diameter, d = in_unit(positive("cutter diameter", cutter), unit), in_unit(depth, unit)
    if not 0 <= d <= diameter / 2:
        raise ImpossibleInput(
            "depth", shown(depth), f"must be within half the cutter of {shown(cutter)}"
        )
    return quantity((d * (diameter - d)).sqrt(), unit)

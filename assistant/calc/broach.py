"""A keyway in a hub by push broach: how deep, in how many passes, with which shims.

The broach runs in a slotted bushing; behind it, a shim for every pass after the first moves it
out by what one pass cuts. Depths come from `keys.hub_keyway`. The passes are common practice, no
source; the marks on the broach and its maker's sheet come first.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calc.exact import at_least, in_unit, positive, shown, system
from assistant.calc.keys import HubKeyway
from assistant.errors import ImpossibleInput
from assistant.units import Quantity, quantity

MOST_PASSES = 20


@dataclass(frozen=True, slots=True)
class BroachPlan:
    """Passes and shims for one keyway."""

    depth: Quantity
    """From the top of the bore to the keyway's floor, at least."""
    passes: int
    shims: int
    """One fewer than the passes: stacked, one more before each pass after the first."""
    shim: Quantity
    """Thickness of each shim."""
    readings: tuple[Quantity, ...]
    """Across the bore to the floor after each pass; the last is the size to check."""
    check_low: Quantity
    check_high: Quantity


def broach_plan(keyway: HubKeyway, cut_per_pass: Quantity) -> BroachPlan:
    """Divide a keyway into passes of a push broach that cuts `cut_per_pass` each time.

    `cut_per_pass` is the height of the broach's last tooth less its first, or what its sheet
    says. Raises `ImpossibleInput` for more than 20 passes.
    """
    unit = system(keyway.bore)
    depth = in_unit(keyway.depth_from_crown.nominal, unit)
    cut = in_unit(positive("cut a pass", cut_per_pass), unit)
    count = at_least(depth, cut)
    if count > MOST_PASSES:
        raise ImpossibleInput(
            "cut a pass", shown(cut_per_pass), f"would take {count} passes: check its unit"
        )
    # The first pass cuts what the broach stands out of the bushing; shims share out the rest.
    shim = (depth - cut) / (count - 1) if count > 1 else depth * 0
    bore = in_unit(keyway.bore, unit)
    first = min(cut, depth)
    reached = [first + shim * i for i in range(count)]
    return BroachPlan(
        depth=quantity(depth, unit),
        passes=count,
        shims=count - 1,
        shim=quantity(shim, unit),
        readings=tuple(quantity(bore + at, unit) for at in reached),
        check_low=keyway.opposite_to_floor.low,
        check_high=keyway.opposite_to_floor.high,
    )

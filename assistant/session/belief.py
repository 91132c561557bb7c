"""What is so, as far as anybody told: where the axes stand, what their zeros are, what is cut.

Whatever is known rests on grounds: a zero on the work, the tool and the ring of its dial, a place
on the count of its turns. A word of trouble shakes a ground; what was known before that is not
known any more, and nothing else is looked for. What was told later holds again. Everything is
dated by the number of the record that told it, so that "before" and "since" are comparisons.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Any

from assistant.jobs.steps import NO_SURFACE, Ground, SurfaceKey
from assistant.replacing import replace
from assistant.units import Quantity

CRANK = "crank"
"""What the count of a dividing head is kept under, beside the axes."""

Shaken = tuple[Ground, str]
"""A ground, and whose it is: an axis, a surface; empty for work and tool."""


class DoubtKind(StrEnum):
    """What has to be told before a move is given."""

    PLAN = "plan"
    """Whether the plan is kept that this version of the program would make otherwise."""
    PIECE = "piece"
    """Whether every piece of what broke is out of the work."""
    DIAL = "dial"
    """Where an axis stands: read the dial."""
    TURN = "turn"
    """Which turn an axis is in: read the dial with its whole turns."""
    METAL = "metal"
    """What has been cut: measure."""
    LOOK = "look"
    """Whether anything is left to be cut, where nothing measures it."""
    MOVED = "moved"
    """Whether anything was moved since the job was left."""
    FLOOR = "floor"
    """Come to what was cut: there the dial is known."""
    TOUCH = "touch"
    """The count is lost, the zero isn't: back to the touch."""
    TOOL = "tool"
    """Another tool was fitted, and nothing is touched with it: whether it is set."""
    CRANK = "crank"
    """Which division the crank is at: back to the last one cut."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something to be told before a move is given."""

    kind: DoubtKind
    axis: str = ""
    surface: SurfaceKey = NO_SURFACE


@dataclass(frozen=True, slots=True)
class AxisState:
    """Where one axis stands, counted from its last zero."""

    position: Quantity
    """Travel since the zero, positive the axis' positive way."""
    zero_reading: Quantity | None = None
    """What the dial reads at the zero: 0 where it can be set, else as told."""
    came: int = 0
    """+1 or -1: the way of the last travel (the side on which the backlash is); 0 unknown."""
    zeroed_at: int = 0
    """The record that gave it its zero; 0 where it has none."""
    by: tuple[Ground, ...] = ()
    """What that zero rests on besides the dial."""
    told_at: int = 0
    """The record that told where it stands."""
    found_at: int = 0
    """The record that found it anew, other than by the job's own moves."""

    @property
    def zeroed(self) -> bool:
        """Whether a zero was set in this job."""
        return self.zeroed_at > 0


def _frozen() -> Mapping[Any, Any]:
    return MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Belief:
    """All that is believed; changed by what is folded in alone."""

    axes: Mapping[str, AxisState] = field(default_factory=_frozen)
    shaken: Mapping[Shaken, int] = field(default_factory=_frozen)
    """When a ground was shaken last."""
    found: Mapping[Shaken, int] = field(default_factory=_frozen)
    """When it was found good again, where that is told as such."""
    cut_at: Mapping[str, AxisState] = field(default_factory=_frozen)
    """Where the axes stood when the last cut was finished, but for those zeroed anew since."""
    measured: Mapping[SurfaceKey, int] = field(default_factory=_frozen)
    """When a surface was measured last."""
    sizes: Mapping[SurfaceKey, int] = field(default_factory=_frozen)
    """How often it was."""

    # -- asking -----------------------------------------------------------------------------

    def since(self, ground: Ground, name: str = "") -> int:
        """When that ground was shaken last; 0 where it never was."""
        return self.shaken.get((ground, name), 0)

    def unsure(self, ground: Ground, name: str = "") -> bool:
        """Whether it was shaken, and not found good again."""
        return self.since(ground, name) > self.found.get((ground, name), 0)

    def lost(self, axis: str) -> Ground | None:
        """Why nobody knows where an axis stands from its zero; None where it is known, or where it
        never had one."""
        if not self.shaken or axis not in self.axes:
            return None
        now = self.axes[axis]
        if now.zeroed:
            for ground in (Ground.DIAL, *now.by):
                name = axis if ground is Ground.DIAL else ""
                if self.since(ground, name) > now.zeroed_at:
                    return ground
        for ground in (Ground.COUNT, Ground.AWAY, Ground.TURN, Ground.PLACE):
            if self.since(ground, axis) > now.told_at:
                return ground
        return None

    def zero_lost(self, axis: str) -> bool:
        """Whether its zero is worth nothing any more: it has to be given a new one."""
        kept = (None, Ground.COUNT, Ground.AWAY, Ground.TURN, Ground.PLACE)
        return self.lost(axis) not in kept

    def near(self, axis: str) -> bool:
        """Whether it stands where it was last, or on the way from there."""
        return self.lost(axis) in (None, Ground.PLACE, Ground.TURN)

    # -- folding ----------------------------------------------------------------------------

    def zero(
        self, axis: str, came: int, reading: Quantity | None, by: tuple[Ground, ...], at: int
    ) -> Belief:
        """The axis was given its zero here."""
        here = AxisState(self.axes[axis].position * 0, reading, came, at, by, at, at)
        gone = {name: kept for name, kept in self.cut_at.items() if name != axis}
        return replace(self, axes=_with(self.axes, axis, here), cut_at=MappingProxyType(gone))

    def stand(self, axis: str, position: Quantity, came: int, at: int) -> Belief:
        """The axis stands there, as it was told."""
        before = self.axes[axis]
        again = self.lost(axis) is not None
        now = replace(
            before, position=position, came=came or before.came, told_at=at,
            found_at=at if again else before.found_at,
        )  # fmt: skip
        return replace(self, axes=_with(self.axes, axis, now))

    def shake(self, ground: Ground, name: str, at: int) -> Belief:
        """A word of trouble, or of the taking back of something."""
        return replace(self, shaken=_with(self.shaken, (ground, name), at))

    def find(self, ground: Ground, name: str, at: int) -> Belief:
        """What carries that ground was told to be good."""
        return replace(self, found=_with(self.found, (ground, name), at))

    def measure(self, surface: SurfaceKey, number: int, at: int) -> Belief:
        """A surface was measured, for that time."""
        known = self.find(Ground.METAL, surface, at)
        return replace(
            known,
            measured=_with(self.measured, surface, at),
            sizes=_with(self.sizes, surface, number),
        )

    def cut(self) -> Belief:
        """A cut was finished with the axes where they stand."""
        return replace(self, cut_at=self.axes)

    def back_from(self, taken_back: Belief) -> Belief:
        """This belief once more, from one that is taken back: a cut taken back may have been made,
        so where the axes stood in the last one is known only where both say the same."""
        kept = {
            name: stood
            for name, stood in self.cut_at.items()
            if taken_back.cut_at.get(name) == stood
        }
        return replace(self, cut_at=MappingProxyType(kept))


def _with(mapping: Mapping[Any, Any], key: Any, value: Any) -> Mapping[Any, Any]:
    return MappingProxyType({**mapping, key: value})

"""What things that are known rest on, what is cut, in which ways, and what can be left out or gone
past in a cut."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NewType

SurfaceKey = NewType("SurfaceKey", str)
"""What a surface is known by: a floor, a wall, a diameter. Only compared, never read."""

NO_SURFACE = SurfaceKey("")


class Ground(StrEnum):
    """What a thing that is known rests on. A word of trouble shakes a ground, and what rests on
    it is not known any more."""

    WORK = "work"
    """Where the work lies: held as it was, and the machine's slides under it."""
    TOOL = "tool"
    """The cutter or tool, and how it is set."""
    DIAL = "dial"
    """A dial's ring on its screw."""
    COUNT = "count"
    """Which turn a wheel is in, or which division a crank."""
    PLACE = "place"
    """Where an axis stands: its dial has only to be read."""
    TURN = "turn"
    """The same, where the dial alone can't tell: it is to be read with its turns."""
    AWAY = "away"
    """The same, moved away by hand, as far as that took: it may be on either side of its zero."""
    METAL = "metal"
    """How deep something is cut."""
    HELD = "held"
    """Whether anything was moved while nobody was there."""
    PIECE = "piece"
    """Whether what broke is out of the work."""
    PLAN = "plan"
    """Whether the job goes on by the plan it has, where another program is at work now."""


class Overrun(StrEnum):
    """What "I went past" means in a cut."""

    DEPTH = "depth"
    """It was set or fed too deep."""
    LENGTH = "length"
    """It was fed too far along the work: past a shoulder, toward the jaws."""
    HOLE = "hole"
    """The quill went too deep."""
    NONE = "none"
    """Nothing in it is counted: a broach, a knurl, a saw."""


IN_ONE_GO = frozenset(
    {"spotting", "drilling", "reaming", "counterboring", "countersinking", "tapping", "division",
     "knurling"}
)  # fmt: skip
"""Kinds of cut that are no passes to a common depth: their number is the step's own figure."""


@dataclass(frozen=True)
class OneOfMany:
    """One of many that can be left out, with all that is still to come of it: a hole."""

    fact: str
    """The fact by which the plan leaves it out."""
    since: str
    """Its value: from what on it is left out."""
    called: str
    """`hole 3`."""

"""The four sides of a block on the table: which way each is set, fed and touched.

Seen from above with the operator at the front. With a right-hand cutter, conventional cuts follow
each other round the outside of a block counter-clockwise: right, back, left, front. Each then
begins at the corner at which the last one ended. Common practice, no source; the ways themselves
are geometry (`milling/strokes`).
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.jobs.milling.strokes import conventional_across, conventional_way
from assistant.machine import way


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the block, as it lies on the machine."""

    where: str
    """`right`, `back`, `left` or `front`."""
    called: str
    """`right end`, `back` ..."""
    axis: str
    """That brings it to the cutter, and sets how deep it is cut."""
    sign: int
    """The way of that axis: to the cutter, and deeper."""
    feed: str
    """The axis that feeds along it."""
    conventional: int
    """The way of the feed that mills it conventionally."""

    def way(self, climbing: bool) -> int:
        """The way of the feed in a cut."""
        return -self.conventional if climbing else self.conventional

    def begins(self, climbing: bool) -> str:
        """The place off which the cutter begins: fed in, the work comes from the column's side,
        so that the cutter goes over it from the back."""
        forward = self.way(climbing) > 0
        if self.feed == "saddle":
            return "back" if forward else "front"
        return "right end" if forward else "left end"

    @property
    def to_it(self) -> str:
        """`table right`: the way to the cutter."""
        return f"{self.axis} {way(self.axis, self.sign)}"

    @property
    def away(self) -> str:
        """`table left`: off it again."""
        return f"{self.axis} {way(self.axis, -self.sign)}"


RIGHT = Side("right", "right end", "table", 1, "saddle", conventional_across("left"))
LEFT = Side("left", "left end", "table", -1, "saddle", conventional_across("right"))
BACK = Side("back", "back", "saddle", 1, "table", conventional_way("front"))
FRONT = Side("front", "front", "saddle", -1, "table", conventional_way("back"))
ROUND = (RIGHT, BACK, LEFT, FRONT)
"""The order in which conventional cuts go round a block."""
SIDES = {side.where: side for side in ROUND}


def opposite(side: Side) -> Side:
    """The side across the block."""
    return ROUND[(ROUND.index(side) + 2) % 4]


def order(milled: str, first: Side, turned: bool) -> tuple[Side, ...]:
    """The sides in their order; turned round, the same side of the machine twice."""
    if milled == "round":
        place = ROUND.index(first)
        return ROUND[place:] + ROUND[:place]
    return (first, first) if turned else (first, opposite(first))

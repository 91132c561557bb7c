"""One pass along a side: off the corner first, set in the air, and fed past the other corner.

Conventional, the cutter is run back with the spindle stopped, since it would rub; a climbing
finishing cut begins where the conventional one before it ended.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from assistant.jobs.operations.sides.side import Side
from assistant.jobs.steps import Cut, Move, Step
from assistant.machine import Axis
from assistant.units import magnitude

LIGHT = {"inch": Decimal("0.015"), "mm": Decimal("0.4")}
"""The most that a cut takes that climbs against a lock that drags: common practice, no source."""
CLIMB_CAUTION = "Climbing pulls the work in. Light cuts, and a firm hand on the handle."


@dataclass(frozen=True)
class SideStroke:
    """Along one side, from clear of one corner to clear of the other."""

    side: Side
    feed: Axis
    climbs: bool
    """Whether the finishing cuts climb where the machine allows it."""
    unit: str

    @property
    def fit(self) -> bool:
        """Whether a cutter may climb here."""
        return self.climbs and self.feed.climb != "never"

    def climbing(self, cut: Cut) -> bool:
        """Whether this cut climbs: a finishing cut, light where only a lock holds the work back."""
        if not self.fit or cut.kind != "finishing":
            return False
        light = magnitude(cut.taken, self.unit) <= LIGHT[self.unit]
        return light or self.feed.climb == "eliminator"

    def words(self, climbing: bool) -> str:
        """Which way it is fed."""
        way = f"{self.side.feed.capitalize()} {self.feed.way(self.side.way(climbing))}"
        return f"{way}: climbing, light." if climbing else f"{way}: conventional, no climbing."

    def passes(self, move: Move, cut: Cut) -> list[Step]:
        """Run to where it begins, set it, feed past the end."""
        climbing = self.climbing(cut)
        name = cut.id.removesuffix("-cut")
        answers = (*cut.answers, ("which_feed", self.words(climbing)))
        cut = replace(
            cut,
            say=(self.words(climbing),),
            after=(*cut.after, *self._ease(climbing)),
            feed_axis=self.side.feed,
            feed_approach=self.side.way(climbing),
            answers=answers,
        )
        # asked again at every setting, as one that is told anew after trouble is not run to again
        off = f"Cutter off the {self.side.begins(climbing)}?"
        move = replace(move, say=(off, *move.say), answers=answers)
        return [self._run(name, climbing), move, cut]

    def _run(self, name: str, climbing: bool) -> Move:
        """To the corner off which the cut begins."""
        back = self.feed.way(-self.side.way(climbing))
        off = self.side.begins(climbing)
        return Move(
            id=f"{name}-run",
            title="Run to where the cut begins",
            spindle="off",
            spindle_words="Spindle off.",
            say=(f"Run the {self.feed.name} {back} till the cutter's off the {off}.",
                 *self._drag(climbing)),
            cautions=(CLIMB_CAUTION,) if climbing else (),
            axis=self.feed.name,
            target=None,
            done_words="clear",
            answers=(("which_feed", self.words(climbing)),),
        )  # fmt: skip

    def _drag(self, climbing: bool) -> tuple[str, ...]:
        if not climbing or self.feed.climb != "drag":
            return ()
        return (f"Nip the {self.feed.name} lock till it drags.",)

    def _ease(self, climbing: bool) -> tuple[str, ...]:
        """Nobody must feed the next cut against a lock that drags."""
        return (f"Then ease the {self.feed.name} lock.",) if self._drag(climbing) else ()

    def back(self, name: str) -> list[Step]:
        """It is measured where it is: the next pass runs to where it begins."""
        return []

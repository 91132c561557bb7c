"""What was measured before the cutting, and is not as it was expected: one rule for all.

Stock, a blank, a bore or a tool that leaves nothing to be made of it is refused, and stays to be
measured. One that still can be worked, but not to what was meant, is asked about first: the job
stops there until the operator says to go on, and what follows from it is said.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.errors import ImpossibleInput
from assistant.jobs.steps import Check, Facts, Step
from assistant.jobs.to_size.sizing import in_words, sized
from assistant.spoken.limits import Limits
from assistant.units import is_quantity, magnitude

GO_ON = "Measured wrong? Say scratch that. Go on with it?"


@dataclass(frozen=True)
class Expected:
    """What is measured and not cut here, in the job's unit."""

    fact: str
    """Under which it is told: `blank.size`."""
    what: str
    """In shop words: `the outside`."""
    low: Decimal
    high: Decimal
    places: int
    """In which its limits are told."""
    under: str
    """What follows where it is smaller, and what to do; empty where that is no matter."""
    over: str
    """The same where it is larger."""

    def asked(self, facts: Facts, unit: str) -> list[Step]:
        """The check that follows its measurement; none where it is within its limits, on one of
        them, or not told."""
        told = facts.get(self.fact)
        if not is_quantity(told):
            return []
        limits = Limits(sized(self.low, unit), sized(self.high, unit), self.places)
        over, under = limits.short_by(told, unit), limits.past_by(told, unit)
        assert over is not None
        assert under is not None
        off, way, follows = magnitude(under, unit), "under", self.under
        if over.magnitude > 0:
            off, way, follows = magnitude(over, unit), "over", self.over
        if off <= 0 or not follows:
            return []
        return [
            Check(
                id="check-" + self.fact.replace(".", "-"),
                title=f"{self.what.removeprefix('the ').capitalize()}: {way}",
                say=(f"{self.what.capitalize()} is {in_words(off, unit)} {way}.", follows, GO_ON),
            )
        ]


def around(
    fact: str, what: str, nominal: Decimal, within: Decimal, places: int, under: str, over: str
) -> Expected:
    """A size with no limits of its own, and how far off it is another piece than was meant."""
    return Expected(fact, what, nominal - within, nominal + within, places, under, over)


def need_metal(
    field: str, there: Decimal, wanted: Decimal, unit: str, *, hole: bool = False
) -> None:
    """Raises `ImpossibleInput` where what is there leaves nothing to be cut to what is wanted:
    stock that isn't larger, a hole that isn't smaller."""
    if (there >= wanted) if hole else (there <= wanted):
        raise ImpossibleInput(
            field, f"{there.normalize():f} {unit}",
            f"nothing to cut to {wanted.normalize():f}: measure again, or take "
            + ("another piece" if hole else "larger stock"),
        )  # fmt: skip

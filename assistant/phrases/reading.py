"""One way to read the words of a number."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.units import Quantity, quantity


@dataclass(frozen=True, slots=True)
class Reading:
    """What the words of a number may mean."""

    value: Decimal
    """Exact, in `unit`."""
    unit: str
    """`inch`, `mm`, `turn`, `degree`, `arcminute`, `rpm` ...; empty for a count."""
    form: str
    """The way it was said, in a few words: `thou`, `four figures`, `fraction`."""
    doubtful: bool = False
    """Whether a shop elsewhere means something else by these words: always asked back."""
    turns: int | None = None
    """Whole turns said before a dial reading."""
    text: str = ""
    """For a free number: its figures as they were said."""

    @property
    def quantity(self) -> Quantity:
        """Value and unit in one."""
        return quantity(self.value, self.unit or "dimensionless")

    def signed(self, sign: int) -> Reading:
        """The same, times `sign`."""
        return Reading(self.value * sign, self.unit, self.form, self.doubtful, self.turns)

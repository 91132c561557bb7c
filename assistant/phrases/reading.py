"""One way to read the words of a number."""

from __future__ import annotations

from dataclasses import dataclass, replace
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
    plain: bool = True
    """Whether the words say it as the shop says it. One that is not plain leaves out more than is
    usual, a point or a unit, and the plain one of the same words is ten times or more apart from
    it: where only such a one is likely, both are asked about and none is taken."""
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
        return replace(self, value=self.value * sign)

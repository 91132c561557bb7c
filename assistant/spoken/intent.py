"""What the operator may mean: intents, and the slots that carry sizes and choices."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from assistant.units import Quantity, is_quantity


class SlotKind(StrEnum):
    """What sort of thing a slot holds; decides which words are allowed in it."""

    LENGTH = "length"
    """A size: `six twenty-five`, `five eighths`, `forty-one and a half thou`, `8 millimetres`."""
    DEVIATION = "deviation"
    """A signed difference: `two over`, `three under`, `a thou and a half big`, `bang on`."""
    TURNS = "turns"
    """Handwheel turns: `two and a quarter turns`."""
    READING = "reading"
    """What a dial reads, perhaps with whole turns: `two turns and eleven`."""
    COUNT = "count"
    """A whole number: holes, teeth, divisions."""
    RATE = "rate"
    """A speed or feed as read from the machine: `one eighty`, `two and a quarter`."""
    ANGLE = "angle"
    """Degrees, perhaps with minutes."""
    CHOICE = "choice"
    """One of `choices`: an axis, a material, a side."""
    TEXT = "text"
    """Typed words only (a note); never in a spoken grammar."""


@dataclass(frozen=True, slots=True)
class Slot:
    """One slot of an expected intent, with the band in which a value is plausible."""

    name: str
    kind: SlotKind
    unit: str = ""
    """Unit of a bare number in this slot: `inch`, `mm`, `turn`, `rpm`, `inch/minute`, `degree`."""
    low: Quantity | None = None
    """Below this a value is implausible: it is asked back, never taken."""
    high: Quantity | None = None
    """Above this a value is implausible."""
    expected: Quantity | None = None
    """The value that the plan foresees, if any: settles `one fifty` between 0.150 and 1.50."""
    choices: tuple[str, ...] = ()
    """For CHOICE: the canonical names; the phrase book says how each may be spoken."""


@dataclass(frozen=True, slots=True)
class Expected:
    """An intent that may be heard now."""

    intent: str
    slots: tuple[Slot, ...] = ()
    floor: float = 0.5
    """Confidence below which it is asked back, 0 to 1. Higher where a slip costs more."""


SlotValue = Quantity | str | int


@dataclass(frozen=True, slots=True)
class Intent:
    """What was meant: a name from the phrase book and its slots' values."""

    name: str
    slots: tuple[tuple[str, SlotValue], ...] = ()

    def __getitem__(self, slot: str) -> SlotValue:
        for name, value in self.slots:
            if name == slot:
                return value
        raise KeyError(f"{self.name} has no slot {slot!r}")

    def get(self, slot: str) -> SlotValue | None:
        """The slot's value, or None where it was not said."""
        return dict(self.slots).get(slot)

    @property
    def has_number(self) -> bool:
        """Whether a slip of the ear could make another number of it."""
        return any(
            any(map(str.isdigit, value)) if isinstance(value, str) else True
            for _, value in self.slots
        )

    def size(self, slot: str) -> Quantity:
        """The slot's value as a quantity; TypeError if it holds a word."""
        value = self[slot]
        if not is_quantity(value):
            raise TypeError(f"{self.name}.{slot} holds {value!r}, not a quantity")
        return value

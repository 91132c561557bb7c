"""What a hand can stop: how fast a slide may run under power where the operator ends the cut.

A lead screw or a feed goes on until somebody opens the half nut, trips the feed or stops the
spindle. Until then the tool runs on, and what it may run on is what is free past the end of the
cut: a thread's groove is a pitch or two wide, the jaws stand beyond the work.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, system
from assistant.units import Quantity, quantity

FREE = {"inch": Decimal("0.15"), "mm": Decimal(4)}
"""A second, with nothing to run into: a tenth of an inch (2.8 mm) goes by in the seven tenths of a
second from seeing to acting ("Reaction time", an article on its use in the analysis of accidents,
experts.com). Common practice, no source: 3/4-10 is cut at about 70 to 90 turns a minute."""
TO_METAL = {"inch": Decimal("0.075"), "mm": Decimal(2)}
"""A second, towards a shoulder, a floor or the jaws: half of that. Common practice, no source."""
BY_SPINDLE = Decimal(2)
"""How much slower where the spindle has to come to a stand, since the half nut stays closed: it
runs on by itself. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class HandStop:
    """The fastest that a slide may run where a hand ends the cut."""

    to_metal: bool
    """There is metal to run into past the end."""
    by_spindle: bool = False
    """Only the spindle stops it."""

    def most(self, unit: str) -> Decimal:
        """Travel a second, in `inch` or `mm`."""
        free = (TO_METAL if self.to_metal else FREE)[unit]
        return free / BY_SPINDLE if self.by_spindle else free

    def most_turns(self, lead: Quantity) -> Quantity:
        """The fastest spindle speed at `lead` a turn, in rpm."""
        unit = system(positive("lead", lead))
        return quantity(self.most(unit) * 60 / in_unit(lead, unit), "revolutions_per_minute")

    def most_feed(self, spindle: Quantity, unit: str) -> Decimal:
        """The coarsest feed a turn at a spindle speed, in `unit`."""
        return self.most(unit) * 60 / in_unit(spindle, _RPM)

    def too_fast(self, spindle: Quantity, lead: Quantity) -> bool:
        """Whether a hand can't stop it in time at that speed and lead."""
        return in_unit(spindle, _RPM) > in_unit(self.most_turns(lead), _RPM)


_RPM = "revolutions_per_minute"


def slide_speed(spindle: Quantity, lead: Quantity) -> Quantity:
    """How far a slide runs in a second at `lead` a turn: speed x lead / 60, in inch or mm.

    Plain arithmetic. Raises `ImpossibleInput` for a lead of nothing or less.
    """
    unit = system(positive("lead", lead))
    turns = in_unit(spindle, _RPM)
    return quantity(turns * in_unit(lead, unit) / 60, unit)


def hand_stop_speed(lead: Quantity, to_metal: bool, by_spindle: bool) -> Quantity:
    """`HandStop.most_turns`, for the catalogue."""
    return HandStop(to_metal, by_spindle).most_turns(lead)

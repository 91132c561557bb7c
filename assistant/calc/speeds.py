"""Spindle speed, feed and the pace of a hand feed; surface speeds and chip loads as ranges.

A surface speed is a quantity in ft/min or m/min, a spindle speed in rpm, a feed in in/min or
mm/min; results are inch or metric as the diameter or chip load was given. The tables hold ranges
with their source (TRAPS of the trade: good sources differ by factors of 2 to 10), and the low end
is what a light manual machine runs at. All is advice: the chip, the sound and the machine's
manual have the last word.
"""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.exact import in_unit, positive, system
from assistant.calc.table import Row, rows
from assistant.calc.trig import PI
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, quantity

RPM = "revolutions_per_minute"
CARBON_STEEL_FACTOR = Decimal("0.5")
"""Speed of a carbon-steel drill as a fraction of the HSS speed (US Navy training manual)."""
CHIP_PER_DIAMETER = Decimal(1) / 200
"""Chip load of a small end mill as a fraction of its diameter (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Range:
    """A published range, with where it comes from."""

    low: Quantity
    high: Quantity
    what: str
    """What it holds for: `mild steel, HSS, milling`."""
    source: str


@dataclass(frozen=True, slots=True)
class Pick:
    """What the machine has for a wanted speed or feed."""

    value: Quantity
    wanted: Quantity
    above: bool
    """True where the machine's slowest is still faster than wanted: a caution, not a choice."""


def spindle_speed(surface_speed: Quantity, diameter: Quantity) -> Quantity:
    """Spindle speed in rpm that gives `surface_speed` at `diameter`: 12 V / (pi D) in ft/min and
    inches, 1000 V / (pi D) in m/min and mm: from the definition of surface speed."""
    positive("diameter", diameter)
    _positive_rate("surface speed", surface_speed)
    if system(diameter) == "mm":
        speed, size = in_unit(surface_speed, "mm/minute"), in_unit(diameter, "mm")
    else:
        speed, size = in_unit(surface_speed, "inch/minute"), in_unit(diameter, "inch")
    return quantity(speed / (PI * size), RPM)


def shop_spindle_speed(surface_speed: Quantity, diameter: Quantity) -> Quantity:
    """The rule of the shop: 4 V / D in ft/min and inches, 320 V / D in m/min and mm.

    4.7 % above the exact speed in inches. Source: maker's manual for a bench lathe, p. 27.
    """
    positive("diameter", diameter)
    _positive_rate("surface speed", surface_speed)
    if system(diameter) == "mm":
        return quantity(320 * in_unit(surface_speed, "meter/minute") / in_unit(diameter, "mm"), RPM)
    return quantity(4 * in_unit(surface_speed, "foot/minute") / in_unit(diameter, "inch"), RPM)


def surface_speed(spindle: Quantity, diameter: Quantity) -> Quantity:
    """Surface speed at `diameter`: pi D n / 12 in ft/min, pi D n / 1000 in m/min."""
    positive("diameter", diameter)
    rpm = in_unit(_positive_rate("spindle speed", spindle), RPM)
    if system(diameter) == "mm":
        return quantity(PI * in_unit(diameter, "mm") * rpm / 1000, "meter/minute")
    return quantity(PI * in_unit(diameter, "inch") * rpm / 12, "foot/minute")


def feed_rate(spindle: Quantity, teeth: int, chip_load: Quantity) -> Quantity:
    """Feed rate: spindle speed x teeth x chip load. Source: cutter maker's handbook (1973)."""
    if teeth < 1:
        raise ImpossibleInput("teeth", teeth, "a cutter has one tooth or more")
    unit = system(positive("chip load", chip_load))
    rpm = in_unit(_positive_rate("spindle speed", spindle), RPM)
    return quantity(rpm * teeth * in_unit(chip_load, unit), f"{unit}/minute")


def chip_load_of(feed: Quantity, spindle: Quantity, teeth: int) -> Quantity:
    """Chip load that a feed gives: feed / (spindle speed x teeth)."""
    if teeth < 1:
        raise ImpossibleInput("teeth", teeth, "a cutter has one tooth or more")
    unit = "mm" if "meter" in str(feed.units) else "inch"
    rpm = in_unit(_positive_rate("spindle speed", spindle), RPM)
    return quantity(in_unit(feed, f"{unit}/minute") / (rpm * teeth), unit)


def seconds_a_turn(feed: Quantity, per_turn: Quantity) -> Quantity:
    """How long one handwheel turn takes at a feed: the pace for feeding by hand.

    A guide: the chip and the sound decide (common practice, no source).
    """
    unit = system(positive("travel a turn", per_turn))
    rate = in_unit(_positive_rate("feed", feed), f"{unit}/minute")
    return quantity(in_unit(per_turn, unit) / rate * 60, "second")


def nearest_below(wanted: Quantity, available: Sequence[Quantity]) -> Pick:
    """The machine's speed or feed nearest at or below the wanted one.

    Where even the slowest is above it, that one, with `above` set. Raises `ImpossibleInput` for
    an empty list.
    """
    if not available:
        raise ImpossibleInput("speeds", "none", "the machine profile lists no speeds or feeds")
    unit = str(wanted.units)
    limit = in_unit(wanted, unit)
    fitting = [one for one in available if in_unit(one, unit) <= limit]
    if fitting:
        return Pick(max(fitting, key=lambda one: in_unit(one, unit)), wanted, above=False)
    return Pick(min(available, key=lambda one: in_unit(one, unit)), wanted, above=True)


def _positive_rate(field: str, rate: Quantity) -> Quantity:
    if not rate.magnitude > 0:
        raise ImpossibleInput(field, rate.magnitude, "must be more than zero")
    return rate


def material(word: str) -> str:
    """The table's own name of a material said in any of the shop's words.

    Raises `BadInput` with the known materials for another word.
    """
    wanted = _plain(word)
    for row in rows("materials"):
        if wanted in {_plain(row["name"]), *(_plain(w) for w in row["words"].split("|"))}:
            return row["name"]
    known = ", ".join(row["name"] for row in rows("materials"))
    raise BadInput("material", word, f"choose one of {known}")


def _plain(word: str) -> str:
    return word.lower().replace("-", " ").replace("_", " ").strip()


CUTS = {
    "milling": ("milling", "general", "starting"),
    "rough turning": ("rough turning", "general"),
    "finish turning": ("finish turning", "general"),
    "drilling": ("drilling", "general"),
    "general": ("general",),
    "starting": ("starting", "general"),
}
"""Each kind of cut, with the rows that stand for it where it has none of its own."""


def speed_range(material_word: str, tool: str = "HSS", cut: str = "general") -> Range:
    """The published surface-speed range for a material, tool (`HSS`, `carbide`) and cut.

    Where the table has no row for the cut, the general one is given, and `what` says so.
    Raises `BadInput` where there is none.
    """
    name = material(material_word)
    if cut not in CUTS:
        raise BadInput("cut", cut, f"choose one of {', '.join(CUTS)}")
    for kind in CUTS[cut]:
        for row in rows("surface_speeds"):
            if (row["material"], row["tool"].lower(), row["cut"]) == (name, tool.lower(), kind):
                return _range(row, f"{name}, {row['tool']}, {kind}", "foot/minute")
    raise BadInput("tool", tool, f"no surface speed is tabled for {name} with it: HSS or carbide")


def advised_speed(material_word: str, tool: str = "HSS", cut: str = "milling") -> Range:
    """The range to start in on a light machine: of the rows that can stand for the cut, the one
    that begins lowest. Good sources differ by a factor of two and more."""
    found = [speed_range(material_word, tool, cut)]  # raises where there is none
    for kind in CUTS[cut]:
        with contextlib.suppress(BadInput):
            found.append(speed_range(material_word, tool, kind))
    return min(found, key=lambda one: in_unit(one.low, "foot/minute"))


def chip_load_range(cutter: str, material_word: str = "any", basis: str = "starting") -> Range:
    """The published chip-load range of a cutter: `basis` is `starting`, `range` or `upper`.

    Raises `BadInput` where the table holds none.
    """
    name = "any" if material_word == "any" else material(material_word)
    for row in rows("chip_loads"):
        if (row["material"], row["cutter"], row["basis"]) == (name, cutter, basis):
            return _range(row, f"{name}, {cutter}, {basis}", "inch")
    known = sorted({row["cutter"] for row in rows("chip_loads") if row["basis"] == basis})
    raise BadInput("cutter", cutter, f"no {basis} chip load for {name}: known are {known}")


def advised_chip_load(cutter: str, diameter: Quantity) -> Range:
    """The chip load to start with on a light machine: `cutter` is `slotting cutter` or `end mill`.

    An end mill's is kept to 1/200 of its diameter as well (common practice, no source).
    """
    if cutter != "end mill":
        return chip_load_range(cutter)
    size = in_unit(positive("diameter", diameter), "inch")
    name = "end mill 1-1/2 in and over" if size >= Decimal("1.5") else "end mill under 1-1/2 in"
    table = chip_load_range(name)
    high = min(in_unit(table.high, "inch"), size * CHIP_PER_DIAMETER)
    low = min(in_unit(table.low, "inch"), high)
    return Range(quantity(low, "inch"), quantity(high, "inch"), table.what, table.source)


def drill_feed_range(diameter: Quantity) -> Range:
    """Feed a turn for a drill, by its diameter; the low end for hard materials."""
    size = in_unit(positive("drill diameter", diameter), "inch")
    for row in rows("drill_feeds"):
        if Decimal(row["over"]) < size <= Decimal(row["to"]):
            return _range(row, f"drill over {row['over']} to {row['to']} in", "inch")
    raise BadInput("drill diameter", f"{size} in", "drill feeds are tabled to 3 in")


def _range(row: Row, what: str, unit: str) -> Range:
    return Range(quantity(row["low"], unit), quantity(row["high"], unit), what, row["source"])

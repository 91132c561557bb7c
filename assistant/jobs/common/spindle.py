"""Spindle speed and feed of a job: worked out, fitted to the machine, or as the operator chose."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from assistant.calc import speeds
from assistant.calc.hand_stop import HandStop
from assistant.jobs.steps import FactKey, Facts, Note, Step, fact_key, from_key
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

CHIP_LOADS = ("end mill", "face mill")
"""Cutters with a chip load of their own; any other is fed as a slotting cutter is."""


@dataclass(frozen=True, eq=False)
class Cutting:
    """What speed and feed are worked out from. Compared by identity: keep one for a job."""

    cutter: str
    """Kind, as the chip-load table names it: `slotting cutter`, `end mill`."""
    diameter: Quantity
    teeth: int
    tool: str
    """`HSS` or `carbide`."""
    material: str
    cut: str = "milling"
    surface_speed: Quantity | None = None
    """As the job gives it; else the low end of the table's range, for a light machine."""
    chip_load: Quantity | None = None
    chip_source: str = "as the job file gives it"
    """Where the chip load is from."""
    hand_axis: str = ""
    """The axis fed by hand where that isn't the power feed's: the knee in a plunge cut."""
    stop: HandStop | None = None
    """What stops the feed where it ends in metal: a hand, in time; None where it runs out."""


@dataclass(frozen=True)
class SpeedAndFeed:
    """The two figures with their derivations, and what has to be said about them."""

    speed: Figure
    feed: Figure
    hand_feed: bool
    warnings: tuple[str, ...]


@lru_cache(maxsize=64)
def _wanted(cutting: Cutting) -> tuple[Quantity, str, Quantity, str]:
    """Surface speed and chip load with their sources."""
    if cutting.surface_speed is not None:
        surface, surface_source = cutting.surface_speed, "as the job file gives it"
    else:
        found = speeds.advised_speed(cutting.material or "mild steel", cutting.tool, cutting.cut)
        surface, surface_source = found.low, found.source
    if cutting.chip_load is not None:
        chip, chip_source = cutting.chip_load, cutting.chip_source
    else:
        cutter = cutting.cutter if cutting.cutter in CHIP_LOADS else "slotting cutter"
        load = speeds.advised_chip_load(cutter, cutting.diameter)
        # the middle: less rubs, more is for a rigid machine
        chip, chip_source = (load.low + load.high) / 2, load.source
    return surface, surface_source, chip, chip_source


def speed_and_feed(cutting: Cutting, machine: Machine, unit: str, facts: Facts) -> SpeedAndFeed:
    """Spindle speed from surface speed, feed from chip load and teeth, each the nearest at or
    below that the machine has; the operator's own speed and feed are taken as told."""
    return _speed_and_feed(
        cutting, machine, unit, fact_key(facts, "speed"), fact_key(facts, "feed")
    )


@lru_cache(maxsize=64)
def _speed_and_feed(
    cutting: Cutting, machine: Machine, unit: str, speed_told: FactKey, feed_told: FactKey
) -> SpeedAndFeed:
    chosen_speed, chosen_feed = from_key(speed_told), from_key(feed_told)
    spindle_speeds, feeds, feed_axis = machine.speeds, machine.feeds, machine.feed_axis
    if cutting.hand_axis:
        feeds, feed_axis = (), cutting.hand_axis
    per_turn = machine.axis(feed_axis).per_turn
    surface, surface_source, chip, chip_source = _wanted(cutting)
    warnings: list[str] = []
    wanted = speeds.spindle_speed(surface, cutting.diameter)
    pick = speeds.nearest_below(wanted, spindle_speeds)
    if pick.above and chosen_speed is None:
        warnings.append("The lowest speed is still fast for this cutter. Keep it cool, go easy.")
    spindle = chosen_speed or pick.value
    speed = Figure(
        value=spindle,
        what="speed",
        places=0,
        terms=(
            Term("surface speed", surface, 0),
            Term("cutter diameter", cutting.diameter, 0),
            Term("worked out", wanted, 0),
        ),
        formula="surface speed / (pi x diameter), the nearest at or below that the machine has"
        if chosen_speed is None
        else "your choice",
        source=surface_source,
    )
    rate = speeds.feed_rate(spindle, cutting.teeth, chip)
    terms = (
        Term("chip load", chip, 0),
        Term("teeth", quantity(cutting.teeth, "dimensionless"), 0),
        Term("speed", spindle, 0),
        Term("worked out", rate, 0),
    )
    if chosen_feed is None and not feeds:
        seconds = speeds.seconds_a_turn(rate, per_turn)
        feed = Figure(
            value=seconds,
            what=f"a turn of the {feed_axis}",
            places=1,
            terms=terms,
            formula="travel a turn / (speed x teeth x chip load); a guide: feed by sound and chip",
            source=chip_source,
        )
        return SpeedAndFeed(speed, feed, True, tuple(warnings))
    stop, most = cutting.stop, None
    if stop is not None:
        most = quantity(stop.most(unit) * 60, f"{unit}/minute")
    if chosen_feed is None:
        fitted = speeds.nearest_below(rate if most is None else min(rate, most), feeds)
        if fitted.above:
            warnings.append("The slowest feed is still fast. Feed by hand if it labours.")
        chosen_feed = fitted.value
        formula = "speed x teeth x chip load, the nearest at or below that the machine has"
    else:
        formula = "your choice"
    if most is not None and chosen_feed > most:
        warnings.append("That's faster than a hand stops. Trip it early, the last by hand.")
    feed = Figure(chosen_feed, "feed", places=2, terms=terms, formula=formula, source=chip_source)
    return SpeedAndFeed(speed, feed, False, tuple(warnings))


def notes(setting: SpeedAndFeed) -> list[Step]:
    """The steps that set speed and feed."""
    rpm = magnitude(setting.speed.value, "rpm")
    feed_words = (
        "Hand feed. Take it as a guide: feed by sound and chip."
        if setting.hand_feed
        else "Set the feed."
    )
    return [
        Note(
            id="set-speed",
            title=f"Spindle speed {rpm:.0f} rpm",
            say=("Set the speed.",),
            after=setting.warnings,
            figure=setting.speed,
            setting="speed",
        ),
        Note(
            id="set-feed",
            title="Feed",
            say=(feed_words,),
            figure=setting.feed,
            setting="feed",
        ),
    ]

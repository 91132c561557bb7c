"""Spindle speed and feed a turn on a lathe, fitted to the machine or as the operator chose."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc import speeds
from assistant.calc.dial import tool_travel
from assistant.calc.exact import system
from assistant.calc.hand_stop import HandStop, slide_speed
from assistant.fields import Fields
from assistant.jobs.jobfile import read_surface_speed
from assistant.jobs.steps import Check, FactKey, Facts, Note, Step, fact_key, from_key
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity, unit_name

FEEDS = {"inch": Decimal("0.004"), "mm": Decimal("0.1")}
"""Feed a turn where the job gives none: common practice, no source."""


@dataclass(frozen=True, eq=False)
class Turning:
    """What speed and feed are worked out from. Compared by identity: keep one for a job."""

    diameter: Quantity
    """Where it is fastest: of the stock, or of the finished bore."""
    tool: str
    material: str
    feed: Quantity
    """Along the work, a turn."""
    surface_speed: Quantity | None = None
    share: tuple[int, int] = (1, 1)
    """Of the turning speed: 1 of 3 for parting, 1 of 4 for threading."""
    by_hand: str = ""
    """The axis that is fed by hand, where no power feed is used."""
    lead: Quantity | None = None
    """What the carriage goes a turn, where the lead screw drives it: the pitch of a thread."""


@dataclass(frozen=True)
class LatheSpeed:
    """The two figures and what has to be said about them."""

    speed: Figure
    feed: Figure | None
    warning: str = ""
    along: Quantity | None = None
    """How far the carriage runs in a second, where the lead screw drives it."""
    too_fast: str = ""
    """How far it runs in a second, in words, where that is more than a hand stops in time."""


def read_turning(
    fields: Fields, head_material: str, unit: str, diameter: Quantity,
    share: tuple[int, int] = (1, 1), by_hand: str = "",
) -> Turning:  # fmt: skip
    """Material, surface speed and feed from the `[tool]` table."""
    feed = magnitude(fields.length("feed", unit, quantity(FEEDS[unit], unit)), unit)
    return Turning(
        diameter=diameter,
        tool=fields.choice("material", ("HSS", "carbide"), "HSS"),
        material=head_material or "mild steel",
        feed=quantity(feed, f"{unit}/turn"),
        surface_speed=read_surface_speed(fields, unit),
        share=share,
        by_hand=by_hand,
    )


TO_METAL = HandStop(to_metal=True)
"""A feed along goes towards a shoulder, a floor or the jaws, where nothing else is said."""


def lathe_speed(
    turning: Turning, machine: Machine, facts: Facts, stop: HandStop = TO_METAL
) -> LatheSpeed:
    """Speed and feed nearest at or below on the machine, and no faster along than `stop` allows;
    the operator's own are taken as told."""
    told = fact_key(facts, "speed"), fact_key(facts, "feed")
    return _lathe_speed(turning, machine, stop, *told)


@lru_cache(maxsize=64)
def _lathe_speed(
    turning: Turning, machine: Machine, stop: HandStop, speed_told: FactKey, feed_told: FactKey
) -> LatheSpeed:
    chosen, chosen_feed = from_key(speed_told), from_key(feed_told)
    if turning.surface_speed is not None:
        surface, source = turning.surface_speed, "as the job file gives it"
    else:
        found = speeds.advised_speed(turning.material, turning.tool, "rough turning")
        surface, source = found.low, found.source
    part, whole = turning.share
    wanted = speeds.spindle_speed(surface * part / whole, turning.diameter)
    lead, most = turning.lead, None
    if lead is not None:
        most = stop.most_turns(lead)
    pick = speeds.nearest_below(wanted if most is None else min(wanted, most), machine.speeds)
    warning = ""
    if pick.value > wanted and chosen is None:
        warning = "The lowest speed is still fast for this. Go easy."
    spindle = chosen or pick.value
    share = "" if part == whole else f" x {part}/{whole}"
    formula = (
        f"surface speed{share} / (pi x diameter), the nearest at or below that the machine has"
    )
    speed = Figure(
        spindle,
        "speed",
        places=0,
        terms=(
            Term("surface speed", surface, 0),
            Term("diameter", turning.diameter, 0),
            Term("worked out", wanted, 0),
            *((Term("most that a hand stops", most, 0),) if most is not None else ()),
        ),
        formula=formula if chosen is None else "your choice",
        source=source,
    )
    feed = _feed(turning, machine, stop, spindle, chosen_feed)
    a_turn = lead if lead is not None else _power_feed(feed)
    fast = a_turn is not None and stop.too_fast(spindle, a_turn)
    return LatheSpeed(
        speed, feed, warning,
        along=None if lead is None else slide_speed(spindle, lead),
        too_fast=a_second(slide_speed(spindle, a_turn)) if a_turn is not None and fast else "",
    )  # fmt: skip


def a_second(along: Quantity) -> str:
    """How far a slide runs in a second, as it is said: `75 thou a second`."""
    if system(along) == "inch":
        return f"{along.magnitude * 1000:.0f} thou a second"
    return f"{along.magnitude:.1f} millimetres a second"


def _power_feed(feed: Figure | None) -> Quantity | None:
    """The travel a turn under power; None where it is fed by hand."""
    if feed is None or feed.value.check("[time]"):
        return None
    return a_turn(feed.value)


def a_turn(feed: Quantity) -> Quantity:
    """A feed for each turn, as the length that it goes in one."""
    unit = "mm" if "meter" in unit_name(feed) else "inch"
    return quantity(magnitude(feed, f"{unit}/turn"), unit)


def _feed(
    turning: Turning, machine: Machine, stop: HandStop, spindle: Quantity, chosen: Quantity | None
) -> Figure | None:
    if turning.by_hand:
        if turning.by_hand not in machine.axes:
            return None
        rate = speeds.feed_rate(spindle, 1, a_turn(turning.feed))
        axis = machine.axis(turning.by_hand)
        # a dial that counts the diameter counts twice what the tool moves
        moved = tool_travel(axis.per_turn, "diameter" if axis.diameter_reading else "radius")
        seconds = speeds.seconds_a_turn(rate, moved)
        return Figure(
            seconds, f"a turn of the {turning.by_hand}", places=1,
            terms=(Term("feed", turning.feed, 0), Term("speed", spindle, 0)),
            formula="travel a turn / (speed x feed a turn); a guide: feed by sound and chip",
            source="common practice",
        )  # fmt: skip
    if chosen is not None:
        return Figure(chosen, "feed", terms=(), formula="your choice", source="as told")
    if not machine.feeds:
        return None
    unit = system(a_turn(turning.feed))
    wanted = turning.feed
    if turning.lead is None:
        wanted = min(wanted, quantity(stop.most_feed(spindle, unit), f"{unit}/turn"))
    fitted = speeds.nearest_below(wanted, machine.feeds)
    return Figure(
        fitted.value, "feed", terms=(Term("wanted", wanted, 0),),
        formula="the nearest at or below that the machine has", source="common practice",
    )  # fmt: skip


def notes(found: LatheSpeed) -> list[Step]:
    """The steps that set speed and feed."""
    rpm = magnitude(found.speed.value, "rpm")
    after = [found.warning] if found.warning else []
    if found.along is not None:
        after.append(f"The carriage runs {a_second(found.along)}.")
    steps: list[Step] = [
        Note(
            id="set-speed",
            title=f"Spindle speed {rpm:.0f} rpm",
            say=("Set the speed. Change gears as the manual says.",),
            after=tuple(after),
            figure=found.speed,
            setting="speed",
        )
    ]
    if found.feed is not None and found.along is None:
        by_hand = found.feed.value.check("[time]")
        steps.append(
            Note(
                id="set-feed",
                title="Feed",
                say=("Hand feed. Feed by sound and chip.",) if by_hand else ("Set the feed.",),
                figure=found.feed,
                setting="feed",
            )
        )
    if found.too_fast:
        steps.append(_faster_than_a_hand(found))
    return steps


def _faster_than_a_hand(found: LatheSpeed) -> Check:
    """Even the slowest, or what the operator chose, runs on too far before it is stopped."""
    how = (
        "The last turns round by hand, spindle off. Clear?"
        if found.along is not None
        else "Trip it early, the last of it by hand. Clear?"
    )
    return Check(
        id="check-carriage",
        title="Faster than a hand stops",
        say=(f"The carriage runs {found.too_fast}. That's faster than a hand stops.", how),
    )


def results(found: LatheSpeed) -> tuple[tuple[str, Figure], ...]:
    """Named results, for the questions about speed and feed."""
    both = (("speed", found.speed),)
    return both if found.feed is None else (*both, ("feed", found.feed))

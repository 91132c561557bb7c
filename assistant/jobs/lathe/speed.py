"""Spindle speed and feed a turn on a lathe, fitted to the machine or as the operator chose."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc import speeds
from assistant.calc.dial import tool_travel
from assistant.fields import Fields
from assistant.jobs.jobfile import read_surface_speed
from assistant.jobs.steps import FactKey, Facts, Note, Step, fact_key, from_key
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

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


@dataclass(frozen=True)
class LatheSpeed:
    """The two figures and what has to be said about them."""

    speed: Figure
    feed: Figure | None
    warning: str = ""


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


def lathe_speed(turning: Turning, machine: Machine, facts: Facts) -> LatheSpeed:
    """Speed and feed nearest at or below on the machine; the operator's own are taken as told."""
    return _lathe_speed(turning, machine, fact_key(facts, "speed"), fact_key(facts, "feed"))


@lru_cache(maxsize=64)
def _lathe_speed(
    turning: Turning, machine: Machine, speed_told: FactKey, feed_told: FactKey
) -> LatheSpeed:
    chosen, chosen_feed = from_key(speed_told), from_key(feed_told)
    if turning.surface_speed is not None:
        surface, source = turning.surface_speed, "as the job file gives it"
    else:
        found = speeds.advised_speed(turning.material, turning.tool, "rough turning")
        surface, source = found.low, found.source
    part, whole = turning.share
    wanted = speeds.spindle_speed(surface * part / whole, turning.diameter)
    pick = speeds.nearest_below(wanted, machine.speeds)
    warning = ""
    if pick.above and chosen is None:
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
        ),
        formula=formula if chosen is None else "your choice",
        source=source,
    )
    return LatheSpeed(speed, _feed(turning, machine, spindle, chosen_feed), warning)


def _feed(
    turning: Turning, machine: Machine, spindle: Quantity, chosen: Quantity | None
) -> Figure | None:
    if turning.by_hand:
        if turning.by_hand not in machine.axes:
            return None
        unit = "mm" if "meter" in str(turning.feed.units) else "inch"
        rate = speeds.feed_rate(spindle, 1, quantity(turning.feed.magnitude, unit))
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
    fitted = speeds.nearest_below(turning.feed, machine.feeds)
    return Figure(
        fitted.value, "feed", terms=(Term("wanted", turning.feed, 0),),
        formula="the nearest at or below that the machine has", source="common practice",
    )  # fmt: skip


def notes(found: LatheSpeed) -> list[Step]:
    """The steps that set speed and feed."""
    rpm = magnitude(found.speed.value, "rpm")
    steps: list[Step] = [
        Note(
            id="set-speed",
            title=f"Spindle speed {rpm:.0f} rpm",
            say=("Set the speed. Change gears as the manual says.",),
            after=(found.warning,) if found.warning else (),
            figure=found.speed,
            setting="speed",
        )
    ]
    if found.feed is not None:
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
    return steps


def results(found: LatheSpeed) -> tuple[tuple[str, Figure], ...]:
    """Named results, for the questions about speed and feed."""
    both = (("speed", found.speed),)
    return both if found.feed is None else (*both, ("feed", found.feed))

"""Fields that jobs on every machine have."""

from __future__ import annotations

from functools import cache

from assistant.calc.thread_series import threads_of
from assistant.jobs.field import Field, Kind, Known, Offer, number, pick
from assistant.units import Quantity

TABLES = "what the tables give"
USUAL_CUT = "the usual cut"


def same_as(key: str) -> Offer:
    """Offers the size that was told for another field."""

    def offer(known: Known) -> tuple[Quantity | int | str, ...]:
        told = known.size(key)
        return () if told is None else (told,)

    return offer


def surface_speed(table: str, called: str = "tool") -> Field:
    """The job's own surface speed."""
    return number(
        f"{table}.surface_speed", f"surface speed of the {called}",
        "What surface speed, in feet a minute, or metres on a metric job?",
        "Only where you have your own. The tables give one for the material.",
        "1", "3000", usual=TABLES, aside=True, kind=Kind.NUMBER,
    )  # fmt: skip


def held(*choices: str) -> Field:
    """How a milled or drilled work is held."""
    return pick("holding", "holding", "How is it held?",
                "What is checked before the cut, and what still holds for the next part.",
                choices, usual=choices[0], aside=True)  # fmt: skip


@cache
def _threads(inch: bool) -> tuple[str, ...]:
    series = ("UNC", "UNF") if inch else ("coarse", "fine")
    return tuple(dict.fromkeys(one.name for name in series for one in threads_of(name)))


def known_threads(known: Known) -> tuple[str, ...]:
    """Names of the usual threads in a job of that unit; others are typed."""
    return _threads(known.unit == "inch")

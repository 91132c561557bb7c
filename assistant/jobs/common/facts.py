"""What was told: parts of a plan, kept until a fact they depend on changes; the last of a series.

A plan is worked out anew at every fact told, and most facts touch a small part of it. A part is a
function of job, machine and the facts that it names, kept by `functools.lru_cache`; jobs and
machines are compared by identity, and quantities are put into keys as decimal and unit, since
pint converts to base units to hash one.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.jobs.steps import Facts, FactValue
from assistant.units import Quantity, is_quantity, quantity, unit_name

Told = tuple[tuple[str, Decimal | None, str], ...]
"""Facts as something cheap to hash: name, magnitude and unit; a word has no magnitude."""


def told(facts: Facts, *names: str) -> Told:
    """Those facts that are called so, or begin so where a name ends in a full stop."""
    return tuple(
        (name, Decimal(value.magnitude), unit_name(value))
        if is_quantity(value)
        else (name, None, str(value))
        for name, value in facts.items()
        if any(name == one or (one.endswith(".") and name.startswith(one)) for one in names)
    )


def as_facts(kept: Told) -> dict[str, FactValue]:
    """The facts of a key."""
    return {name: text if number is None else quantity(number, text) for name, number, text in kept}


def last_told(facts: Facts, begins: str, ends: str = "") -> tuple[int, Quantity] | None:
    """Number and value of the last quantity told of a series: `BEGINS.N`, or `BEGINS.N.ENDS`."""
    found: tuple[int, Quantity] | None = None
    tail = f".{ends}" if ends else ""
    for name, value in facts.items():
        if not (is_quantity(value) and name.startswith(f"{begins}.") and name.endswith(tail)):
            continue
        number = name[len(begins) + 1 : len(name) - len(tail)]
        if number.isdigit() and (found is None or int(number) > found[0]):
            found = int(number), value
    return found


@dataclass(frozen=True, slots=True)
class ToldSize:
    """One measurement of a surface that is cut in passes, as it was told."""

    number: int
    """Which of its measurements, from 1."""
    size: Quantity
    at: Quantity | None
    """Where the axis that sets it stood when that was cut; None where nobody knows."""
    cuts: int | None
    """Passes finished by then; None where that wasn't told: as on the plain way."""
    begun: bool
    """Whether the next pass was begun: measured with the cutter still in it."""
    half: Quantity | None
    """What the cut at hand takes, where only the first of the two that the size goes over is
    made."""


def told_sizes(facts: Facts, surface: str) -> tuple[ToldSize, ...]:
    """The measurements of a surface so far, in the order in which they were told."""
    found: list[ToldSize] = []
    while is_quantity(size := facts.get(f"{surface}.{len(found) + 1}")):
        key = f"{surface}.{len(found) + 1}"
        at, half, cuts = (facts.get(f"{key}.{name}") for name in ("at", "half", "cuts"))
        found.append(
            ToldSize(
                len(found) + 1,
                size,
                at if is_quantity(at) else None,
                int(cuts.magnitude) if is_quantity(cuts) else None,
                facts.get(f"{key}.begun") == "yes",
                half if is_quantity(half) else None,
            )
        )
    return tuple(found)


def size_told(surface: str, one: ToldSize) -> dict[str, FactValue]:
    """The facts that keep a measurement, as `told_sizes` finds them."""
    key = f"{surface}.{one.number}"
    kept: dict[str, FactValue] = {key: one.size}
    if one.cuts is not None:
        kept[f"{key}.cuts"] = quantity(one.cuts, "dimensionless")
    if one.at is not None:
        kept[f"{key}.at"] = one.at
    if one.begun:
        kept[f"{key}.begun"] = "yes"
    if one.half is not None:
        kept[f"{key}.half"] = one.half
    return kept

"""What was told: parts of a plan, kept until a fact they depend on changes; the last of a series.

A plan is worked out anew at every fact told, and most facts touch a small part of it. A part is a
function of job, machine and the facts that it names, kept by `functools.lru_cache`; jobs and
machines are compared by identity, and quantities are put into keys as decimal and unit, since
pint converts to base units to hash one.
"""

from __future__ import annotations

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

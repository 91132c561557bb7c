"""Drill sizes by name, and the drill nearest to a size."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from assistant.calc.exact import as_unit, in_unit, positive, shown
from assistant.calc.table import rows
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, parse_length, quantity

KINDS = ("number", "letter", "fraction", "metric")
INCH_KINDS = ("number", "letter", "fraction")
RULES = ("nearest", "at or above", "at or below")


@dataclass(frozen=True, slots=True)
class Drill:
    """One drill of a set."""

    name: str
    """As it is stamped: `#7`, `F`, `29/64`, `6.8 mm`."""
    kind: str
    """number, letter, fraction or metric."""
    diameter: Quantity
    source: str


@cache
def drills(kind: str) -> tuple[Drill, ...]:
    """All drills of one kind, in the order of the set."""
    if kind not in KINDS:
        raise BadInput("drills", kind, "wanted some of " + ", ".join(KINDS))
    return tuple(
        Drill(row["name"], kind, quantity(row["diameter"], row["unit"]), row["source"])
        for row in rows("drills")
        if row["kind"] == kind
    )


def drill_named(name: str) -> Drill:
    """The drill called `#7`, `number 7`, `F`, `29/64` or `6.8 mm`.

    A size that is in no set, such as 0.3 in, is refused: ask `nearest_drill` for it.
    """
    text = re.sub(r"^(number|no\.?|letter)\s*", "#", name.strip(), flags=re.IGNORECASE)
    bare = text.lstrip("#").strip()
    if re.fullmatch(r"\d{1,2}", bare):
        wanted = f"#{int(bare)}"
    elif re.fullmatch(r"[A-Za-z]", bare):
        wanted = bare.upper()
    else:
        return _by_size(name, bare)
    for kind in ("number", "letter"):
        for drill in drills(kind):
            if drill.name == wanted:
                return drill
    raise BadInput("drill", name, "number drills go from 1 to 97")


def _by_size(name: str, text: str) -> Drill:
    size = parse_length(text, "inch", "drill")
    metric = "meter" in str(size.units)
    for drill in drills("metric" if metric else "fraction"):
        if in_unit(drill.diameter - size, "mm") == 0:
            return drill
    near = nearest_drill(size, ("metric",) if metric else INCH_KINDS)
    raise BadInput("drill", name, f"in no set; the nearest is {near.name}")


def nearest_drill(
    size: Quantity, kinds: Sequence[str] = INCH_KINDS, rule: str = "nearest"
) -> Drill:
    """The drill nearest to `size`, or the nearest one at or above or at or below it.

    Of two as near the smaller is taken: a hole can be opened. Raises `ImpossibleInput` for a size
    beyond the sets, where even the nearest is out by more than a tenth of it.
    """
    positive("size", size)
    if rule not in RULES:
        raise BadInput("rule", rule, "wanted one of " + ", ".join(RULES))
    if not kinds:
        raise BadInput("drills", "none", "wanted some of " + ", ".join(KINDS))
    wanted = in_unit(size, "mm")
    fit: list[tuple[Decimal, Decimal, Drill]] = []
    for kind in kinds:
        for diameter, drill in _in_mm(kind):
            apart = diameter - wanted
            if (apart < 0 and rule == "at or above") or (apart > 0 and rule == "at or below"):
                continue
            fit.append((abs(apart), diameter, drill))
    best = min(fit, key=lambda item: item[:2], default=None)
    if best is None or best[0] > wanted / 10:
        raise ImpossibleInput("size", shown(size), f"no drill is near: {_span(kinds)}")
    return best[2]


@cache
def _in_mm(kind: str) -> tuple[tuple[Decimal, Drill], ...]:
    """The drills of a kind with their diameters in mm: converting 300 takes longer than a word."""
    return tuple((in_unit(drill.diameter, "mm"), drill) for drill in drills(kind))


def _span(kinds: Sequence[str]) -> str:
    sizes = [pair for kind in kinds for pair in _in_mm(kind)]
    least = min(sizes, key=lambda pair: pair[0])[1]
    most = max(sizes, key=lambda pair: pair[0])[1]
    return f"they go from {least.name} to {most.name}"


@dataclass(frozen=True, slots=True)
class NamedSize:
    """A drill's diameter in both systems."""

    name: str
    kind: str
    inch: Quantity
    mm: Quantity
    source: str


def named_size(name: str) -> NamedSize:
    """The diameter of a drill by its name, in inches and millimetres."""
    found = drill_named(name)
    return NamedSize(
        name=found.name,
        kind=found.kind,
        inch=as_unit(found.diameter, "inch"),
        mm=as_unit(found.diameter, "mm"),
        source=found.source,
    )


def kinds_of(drills: str) -> tuple[str, ...]:
    """The kinds that `inch`, `metric` or `all` stands for."""
    sets = {"inch": INCH_KINDS, "metric": ("metric",), "all": KINDS}
    if drills not in sets:
        raise BadInput("drills", drills, "wanted inch, metric or all")
    return sets[drills]


def nearest_of(size: Quantity, drills: str, rule: str) -> Drill:
    """`nearest_drill` with the sets named as `inch`, `metric` or `all`."""
    return nearest_drill(size, kinds_of(drills), rule)

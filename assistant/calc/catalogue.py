"""Every calculation there is: found by name, run from text, listed without a heavy import.

`calc/listing/*.toml` hold the entries as plain data; importing this module imports neither pint
nor any formula. `calc.handbook` makes the help page of it.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

from assistant.calc import listing
from assistant.calc.calculation import Calculation, Json
from assistant.errors import BadInput


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculation gave."""

    calculation: Calculation
    inputs: Mapping[str, str]
    """As they were given, with the defaults that were taken."""
    result: Mapping[str, Json]
    """Field to value; sizes as exact decimal strings in the unit of `units`."""
    units: Mapping[str, str]
    """Field to the symbol of its unit: `in`, `rpm`; empty for plain numbers and words."""
    value: Any
    """What the function itself returned."""

    def as_json(self) -> dict[str, Json]:
        """Plain data for a program."""
        return {
            "calculation": self.calculation.name,
            "inputs": dict(self.inputs),
            "result": dict(self.result),
            "units": dict(self.units),
            "formula": self.calculation.formula,
            "source": self.calculation.source,
        }


@cache
def entries() -> tuple[Calculation, ...]:
    """All calculations, topic by topic, in the order they are written down."""
    found: dict[str, Calculation] = {}
    for entry in listing.calculations():
        if entry.name in found:
            raise ValueError(f"two calculations are named {entry.name}")
        found[entry.name] = entry
    return tuple(sorted(found.values(), key=lambda entry: entry.topic))


def topics() -> Iterator[tuple[str, tuple[Calculation, ...]]]:
    """Each topic with its calculations."""
    for topic in dict.fromkeys(entry.topic for entry in entries()):
        yield topic, tuple(entry for entry in entries() if entry.topic == topic)


def find(name: str) -> Calculation:
    """The calculation of that name; raises `BadInput` with the nearest names for another."""
    wanted = name.strip().lower().replace("_", "-").replace(" ", "-")
    by_name = {entry.name: entry for entry in entries()}
    if wanted in by_name:
        return by_name[wanted]
    near = difflib.get_close_matches(wanted, by_name, n=4, cutoff=0.5)
    near += [n for n in by_name if n not in near and any(w in n for w in wanted.split("-") if w)]
    want = f"did you mean {', '.join(near[:6])}?" if near else "list them with: calc --list"
    raise BadInput("calculation", name, want)


def run(name: str, given: Mapping[str, str]) -> Answer:
    """Run a calculation on inputs given as text.

    Raises `BadInput` that names the input for one that is missing, unknown, of the wrong kind
    or outside its limits, and `ImpossibleInput` where the geometry can't be.
    """
    from assistant.calc import encoding, given as reading  # noqa: I001  (pint: only when run)

    entry = find(name)
    known = {about.name: about for about in entry.inputs}
    for unknown in given.keys() - known.keys():
        raise BadInput(unknown, given[unknown], f"{entry.name} takes {', '.join(known) or 'none'}")
    taken: dict[str, str] = {}
    values: dict[str, Any] = {}
    for about in entry.inputs:
        text = given.get(about.name, about.default)
        if text is None:
            if not about.optional:
                example = f"{about.name}={entry.example[0].get(about.name, '...')}"
                raise BadInput(about.name, "missing", f"give {about.what}, such as {example}")
            values[about.name] = None
            continue
        taken[about.name] = str(text)
        values[about.name] = reading.read(str(text), about)
    returned = entry.resolve()(**values)
    found = encoding.fields(returned, entry.result)
    # Where no size was given ('thread=M8') the answer's own first size decides.
    metric = encoding.is_metric([*(values[name] for name in taken), *found.values()])
    units = {output.name: encoding.unit_of(output, metric) for output in entry.result}
    return Answer(
        calculation=entry,
        inputs=taken,
        result={field: encoding.encode(value, units[field]) for field, value in found.items()},
        units={field: encoding.symbol(unit) for field, unit in units.items()},
        value=returned,
    )


def differences(expected: Json, got: Json, where: str = "") -> list[str]:
    """Where a result differs from an example, a line each; none where they agree.

    A decimal string of the example is good to the places written.
    """
    if isinstance(expected, dict):
        if not isinstance(got, dict):
            return [f"{where}: expected {expected}, got {got}"]
        return [
            line
            for key, value in expected.items()
            for line in differences(value, got.get(key), f"{where}.{key}".lstrip("."))
        ]
    if isinstance(expected, list):
        if not isinstance(got, list) or len(got) != len(expected):
            return [f"{where}: expected {expected}, got {got}"]
        return [
            line
            for index, (one, other) in enumerate(zip(expected, got, strict=True))
            for line in differences(one, other, f"{where}[{index}]")
        ]
    if isinstance(expected, str) and isinstance(got, str) and _rounds_to(got, expected):
        return []
    return [] if expected == got else [f"{where}: expected {expected}, got {got}"]


def _rounds_to(got: str, expected: str) -> bool:
    try:
        wanted, value = Decimal(expected), Decimal(got)
    except ArithmeticError:
        return False
    step = Decimal(1).scaleb(int(wanted.as_tuple().exponent))
    return abs(value - wanted) <= step / 2


def check_example(entry: Calculation) -> list[str]:
    """Runs an entry's own example: where it differs, a line each."""
    inputs, expected = entry.example
    return differences(dict(expected), dict(run(entry.name, inputs).result))

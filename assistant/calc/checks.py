"""Runs a file of check values against the core: which agree, which don't, which have no answer.

A file is TOML with one `[[check]]` a value: `id`, `inputs`, `expected`, `tolerance` (absolute),
`unit`, `source`. A shop's own entry names its `calculation` itself, with inputs as text:

    [[check]]
    id = "pump shaft"
    calculation = "keyseat-depth"
    inputs = { shaft = "1-1/2 in" }
    expected = { floor_to_opposite = 1.289 }
    tolerance = 0.001

An entry without `calculation` says its `quantity` in words; `tables/quantities.toml` maps those
words to a calculation, with its inputs and the names of the result's fields.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from importlib import resources
from pathlib import Path
from typing import Any

from assistant.calc import catalogue
from assistant.calc.calculation import Json
from assistant.errors import BadFile, BadInput
from assistant.textfile import read_file, read_toml

SLACK = Decimal("1e-9")
"""Added to every tolerance: expected values are printed, and a limit itself is inside."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One value that differs by more than its tolerance."""

    id: str
    field: str
    expected: str
    got: str
    tolerance: str
    unit: str
    source: str

    def __str__(self) -> str:
        field = f" {self.field}" if self.field else ""
        return (
            f"{self.id}:{field} expected {self.expected} {self.unit} within {self.tolerance}, "
            f"got {self.got}  ({self.source})"
        )


@dataclass(frozen=True, slots=True)
class NotAnswered:
    """One entry that the core has no calculation for, and why."""

    id: str
    quantity: str
    reason: str

    def __str__(self) -> str:
        return f"{self.id}: not answered: {self.reason}"


@dataclass(frozen=True, slots=True)
class Report:
    """What a file of check values showed."""

    passed: tuple[str, ...]
    """The ids of entries that agree."""
    failed: tuple[Difference, ...]
    not_answered: tuple[NotAnswered, ...]

    @property
    def failed_ids(self) -> tuple[str, ...]:
        """The ids of entries with a difference, each once."""
        return tuple(dict.fromkeys(difference.id for difference in self.failed))

    @property
    def summary(self) -> str:
        """`N passed, N failed, N not answered`, counting entries."""
        return (
            f"{len(self.passed)} passed, {len(self.failed_ids)} failed, "
            f"{len(self.not_answered)} not answered"
        )

    def as_json(self) -> dict[str, Json]:
        """Plain data for a program."""
        return {
            "passed": list(self.passed),
            "failed": [
                {name: getattr(d, name) for name in Difference.__slots__} for d in self.failed
            ],
            "not_answered": [
                {name: getattr(n, name) for name in NotAnswered.__slots__}
                for n in self.not_answered
            ],
            "summary": self.summary,
        }


@dataclass(frozen=True, slots=True)
class Mapped:
    """How one quantity of a check file is asked of the core."""

    calculation: str = ""
    inputs: Mapping[str, str] | None = None
    """Input of the calculation to text with the entry's inputs in braces: '{shaft_dia} in'."""
    fields: Any = None
    """A field, a list of two for a range, or expected name to field for a row."""
    refused: str = ""
    """Words of the refusal that is the right answer."""
    reason: str = ""
    """Why the core doesn't answer it."""


def load_map(path: Path | None = None) -> list[tuple[str, Mapped]]:
    """The quantities of `tables/quantities.toml` (or `path`), in order: how they begin, and how
    they are asked."""
    where = path or resources.files("assistant.calc") / "tables" / "quantities.toml"
    document = tomllib.loads(where.read_text(encoding="utf-8"))
    return [(row.pop("quantity"), Mapped(**row)) for row in (dict(row) for row in document["map"])]


def check_file(path: Path | str, mapping: Sequence[tuple[str, Mapped]] | None = None) -> Report:
    """Runs every entry of a check file; raises `BadFile` where the file can't be read."""
    path = Path(path)
    document = read_toml(read_file(path), path)
    checks = document.get("check")
    if not isinstance(checks, list) or not checks:
        raise BadFile(path, "check", "missing", "wanted [[check]] entries, one a value")
    mapping = load_map() if mapping is None else mapping
    passed: list[str] = []
    failed: list[Difference] = []
    not_answered: list[NotAnswered] = []
    for number, entry in enumerate(checks, 1):
        for key in ("id", "expected"):
            if key not in entry:
                raise BadFile(path, f"check {number}", entry.get("id", "?"), f"has no {key}")
        mapped = _mapped(entry, mapping)
        if not mapped.calculation:
            not_answered.append(NotAnswered(entry["id"], entry.get("quantity", ""), mapped.reason))
            continue
        found = _check(entry, mapped)
        failed += found
        if not found:
            passed.append(entry["id"])
    return Report(tuple(passed), tuple(failed), tuple(not_answered))


def _mapped(entry: Mapping[str, Any], mapping: Sequence[tuple[str, Mapped]]) -> Mapped:
    if "calculation" in entry:
        inputs = {name: str(value) for name, value in entry.get("inputs", {}).items()}
        return Mapped(entry["calculation"], inputs, fields=entry.get("field"))
    quantity = entry.get("quantity", "")
    best = max(
        (row for row in mapping if quantity.startswith(row[0]) or entry["id"].startswith(row[0])),
        key=lambda row: len(row[0]),
        default=None,
    )
    return best[1] if best else Mapped(reason="no calculation is mapped to this quantity")


def _check(entry: Mapping[str, Any], mapped: Mapped) -> list[Difference]:
    """The differences of one entry."""
    inputs = {
        name: text.format_map(_Texts(entry.get("inputs", {})))
        for name, text in (mapped.inputs or {}).items()
    }
    expected = entry["expected"]
    try:
        answer = catalogue.run(mapped.calculation, inputs)
    except BadInput as refusal:
        if mapped.refused and mapped.refused in str(refusal):
            return []
        return [_difference(entry, "", expected, f"refused: {refusal}")]
    if mapped.refused:
        return [_difference(entry, "", expected, dict(answer.result))]
    tolerance = Decimal(entry.get("tolerance", 0)) + SLACK
    pairs = _pairs(expected, mapped.fields, answer.result)
    return [
        _difference(entry, field, wanted, got)
        for field, wanted, got in pairs
        if not _agree(wanted, got, tolerance)
    ]


class _Texts(dict[str, Any]):
    """Inputs of an entry, for filling in braces; what is missing is named."""

    def __missing__(self, key: str) -> str:
        raise BadInput("inputs", key, "the entry has no such input")


def _pairs(expected: Any, fields: Any, result: Mapping[str, Json]) -> list[tuple[str, Any, Json]]:
    """Each expected value with the field of the result that answers it."""
    if isinstance(expected, Mapping):
        names: Mapping[str, str] = fields or {}
        return [
            (name, wanted, result.get(names.get(name, name))) for name, wanted in expected.items()
        ]
    if isinstance(fields, list):
        return [
            (field, wanted, result.get(field))
            for field, wanted in zip(fields, expected, strict=True)
        ]
    field = str(fields) if fields else next(iter(result))
    return [(field, expected, result.get(field))]


def _agree(expected: Any, got: Json, tolerance: Decimal) -> bool:
    if isinstance(expected, bool) or isinstance(got, bool):
        return expected is got
    if isinstance(expected, Mapping):
        return isinstance(got, dict) and all(
            _agree(value, got.get(key), tolerance) for key, value in expected.items()
        )
    if isinstance(expected, list):
        return (
            isinstance(got, list)
            and len(got) == len(expected)
            and all(_agree(e, g, tolerance) for e, g in zip(expected, got, strict=True))
        )
    if isinstance(expected, (int, Decimal)) and isinstance(got, (int, str)):
        try:
            return abs(Decimal(got) - Decimal(expected)) <= tolerance
        except InvalidOperation:
            return False
    return bool(expected == got)


def _difference(entry: Mapping[str, Any], field: str, expected: Any, got: Any) -> Difference:
    return Difference(
        id=entry["id"],
        field=field,
        expected=str(expected),
        got=str(got),
        tolerance=str(entry.get("tolerance", 0)),
        unit=str(entry.get("unit", "")),
        source=str(entry.get("source", "no source given")),
    )

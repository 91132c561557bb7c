"""Reading values out of TOML tables, with errors that name file, key, value and what is wanted."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any, NoReturn

from assistant.errors import BadFile, BadInput
from assistant.units import Quantity, is_quantity, parse_length, quantity

SMALLEST_LENGTH = quantity("0.00001", "inch")
"""A tenth of a tenth: a smaller length in a file is a slip."""


class Fields:
    """Takes values out of one TOML table and names file and key when one is wrong.

    A key without a default must be there. `done()` refuses keys that nothing asked for, so a
    misspelt one can't be passed over in silence.
    """

    def __init__(self, path: str, table: Mapping[str, Any], prefix: str = "") -> None:
        self.path, self.table, self.prefix = path, table, prefix
        self.used: set[str] = set()

    def fail(self, key: str, value: object, want: str) -> NoReturn:
        raise BadFile(self.path, self.prefix + key, value, want)

    def take(self, key: str, want: str, default: Any = ...) -> Any:
        self.used.add(key)
        if key not in self.table:
            if default is ...:
                self.fail(key, "missing", want)
            return default
        return self.table[key]

    def text(self, key: str, want: str, default: Any = ...) -> str:
        value = self.take(key, want, default)
        if not isinstance(value, str) or (not value.strip() and default is ...):
            self.fail(key, repr(value), want)
        return value

    def choice(self, key: str, choices: tuple[str, ...], default: Any = ...) -> str:
        want = "wanted " + " or ".join(f'"{choice}"' for choice in choices)
        value = self.text(key, want, default)
        if value not in choices:
            self.fail(key, repr(value), want)
        return value

    def length(self, key: str, unit: str, default: Any = ..., *, zero_ok: bool = False) -> Quantity:
        want = 'wanted a length such as "0.200 in" or "4 mm"'
        value = self.take(key, want, default)
        if is_quantity(value):
            return value
        if isinstance(value, bool) or not isinstance(value, str | int | float | Decimal):
            self.fail(key, repr(value), want)
        try:
            size = parse_length(value, unit, key)
        except BadInput as bad:
            self.fail(key, repr(value), bad.want)
        if size.magnitude < 0 or (size.magnitude == 0 and not zero_ok):
            self.fail(key, repr(value), "must be more than zero")
        if 0 < size < SMALLEST_LENGTH:
            self.fail(key, repr(value), "smaller than anything measured here: check the unit")
        return size

    def optional_length(self, key: str, unit: str) -> Quantity | None:
        """A length that may be left out."""
        return None if self.take(key, "", None) is None else self.length(key, unit)

    def whole(self, key: str, low: int, high: int, default: Any = ...) -> int:
        """A whole number from `low` to `high`."""
        want = f"wanted a whole number from {low} to {high}"
        value = self.take(key, want, default)
        if type(value) is not int or not low <= value <= high:
            self.fail(key, repr(value), want)
        return value

    def flag(self, key: str, default: bool) -> bool:
        """True or false."""
        value = self.take(key, "wanted true or false", default)
        if not isinstance(value, bool):
            self.fail(key, repr(value), "wanted true or false")
        return value

    def number(
        self,
        key: str,
        low: int | str,
        high: int | str,
        default: Any = ...,
        *,
        of: str = "a number",
    ) -> Decimal:
        """A plain number from `low` to `high`: an angle in degrees, a diametral pitch. `of` says
        in the error what it counts."""
        want = f"wanted {of} from {low} to {high}"
        value = self.take(key, want, default)
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            self.fail(key, repr(value), want)
        if not Decimal(value).is_finite():  # nan can't be compared
            self.fail(key, repr(value), want)
        if not Decimal(low) <= Decimal(value) <= Decimal(high):
            self.fail(key, repr(value), want)
        return Decimal(value)

    def numbers(self, key: str, unit: str, default: Any = ...) -> tuple[Quantity, ...]:
        want = "wanted a list of numbers greater than zero, rising"
        values = self.take(key, want, default)
        if not isinstance(values, list | tuple):
            self.fail(key, repr(values), want)
        result = []
        for value in values:
            if isinstance(value, bool) or not isinstance(value, int | Decimal):
                self.fail(key, repr(value), want)
            if not Decimal(value).is_finite() or value <= 0:
                self.fail(key, repr(value), want)
            result.append(quantity(value, unit))
        if sorted(result) != result:
            self.fail(key, repr([str(v.magnitude) for v in result]), want)
        return tuple(result)

    def table_at(self, key: str, default: Any = ...) -> Fields:
        value = self.take(key, f"wanted a table [{self.prefix}{key}]", default)
        if not isinstance(value, Mapping):
            self.fail(key, repr(value), f"wanted a table [{self.prefix}{key}]")
        return Fields(self.path, value, f"{self.prefix}{key}.")

    def done(self) -> None:
        for key in self.table:
            if key not in self.used:
                known = ", ".join(sorted(self.used))
                self.fail(key, repr(self.table[key]), f"unknown key; known here: {known}")


def read_toml(text: str, path: Path | str) -> dict[str, Any]:
    """Parse TOML with exact decimals; `BadFile` names line and reason."""
    try:
        return tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise BadFile(path, "TOML", "not readable", str(error)) from None


def read_file(path: Path) -> str:
    """The text of a configuration file; `BadFile` where it can't be read."""
    try:
        return path.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BadFile(path, "file", "missing", "wanted a readable TOML file") from None
    except (OSError, UnicodeDecodeError) as error:
        want = f"wanted a readable TOML file ({error})"
        raise BadFile(path, "file", "not readable", want) from None

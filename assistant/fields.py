"""Reading values out of TOML tables, with errors that name file, key, value and what is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from difflib import get_close_matches
from typing import Any, NoReturn

from assistant.errors import BadFile, BadInput, Unlikely
from assistant.textfile import as_written, visible
from assistant.units import Quantity, is_quantity, parse_length, quantity

SMALLEST_LENGTH = quantity("0.00001", "inch")
"""A tenth of a tenth: a smaller length in a file is a slip."""
LONGEST_NOTE = 400
"""Letters of a note."""


class Fields:
    """Takes values out of one TOML table and names file and key when one is wrong.

    A key without a default must be there. `done()` refuses keys that nothing asked for, so a
    misspelt one can't be passed over in silence.

    `strict` is False for a text that an earlier version of the program took: what was checked
    later than that isn't held against it.
    """

    def __init__(
        self, path: str, table: Mapping[str, Any], prefix: str = "", *, strict: bool = True
    ) -> None:
        self.path, self.table, self.prefix, self.strict = path, table, prefix, strict
        self.used: set[str] = set()

    def fail(self, key: str, what: object, want: str) -> NoReturn:
        """Raise `BadFile` for a key of which `what` is true: `missing`, `empty`."""
        raise BadFile(self.path, self.prefix + key, what, want)

    def refuse(self, key: str, value: object, want: str) -> NoReturn:
        """Raise `BadFile` for a value that the file gives, shown as it is written there."""
        self.fail(key, as_written(value), want)

    def doubt(self, key: str, reason: str, confirm: str) -> NoReturn:
        """Raise `Unlikely` for a value that the file gives."""
        raise Unlikely(
            self.path, self.prefix + key, as_written(self.table.get(key)), reason, confirm
        )

    def take(self, key: str, want: str, default: Any = ...) -> Any:
        self.used.add(key)
        if key not in self.table:
            if default is ...:
                self.fail(key, "missing", want + self._instead(key))
            return default
        return self.table[key]

    def _instead(self, key: str) -> str:
        """A key of the file that may have been meant for a missing one."""
        unasked = [name for name in self.table if name not in self.used]
        near = get_close_matches(key, unasked, n=1, cutoff=0.7)
        return f"; the file has {near[0]}: did you mean that?" if near else ""

    def text(self, key: str, want: str, default: Any = ...) -> str:
        value = self.take(key, want, default)
        if not isinstance(value, str) or (not value.strip() and default is ...):
            self.refuse(key, value, want)
        if "\0" in value:
            self.refuse(key, value, "has a NUL in it, which no text has: take it out")
        return value

    def line(self, key: str, want: str, default: Any = ...) -> str:
        """A text to be shown: one line, of which nothing is acted on, cut where it is too long."""
        return visible(self.text(key, want, default))

    def lines(self, key: str) -> tuple[str, ...]:
        """Sentences to be shown; none where the key is left out."""
        want = "wanted a list of sentences"
        value = self.take(key, want, [])
        if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
            self.refuse(key, value, want)
        return tuple(visible(one, LONGEST_NOTE) for one in value)

    def choice(self, key: str, choices: tuple[str, ...], default: Any = ...) -> str:
        want = "wanted " + " or ".join(f'"{choice}"' for choice in choices)
        value = self.text(key, want, default)
        if value not in choices:
            self.refuse(key, value, want)
        return value

    def length(self, key: str, unit: str, default: Any = ..., *, zero_ok: bool = False) -> Quantity:
        want = 'wanted a length such as "0.200 in" or "4 mm"'
        value = self.take(key, want, default)
        if is_quantity(value):
            return value
        if isinstance(value, bool) or not isinstance(value, str | int | float | Decimal):
            self.refuse(key, value, want)
        try:
            size = parse_length(value, unit, key)
        except BadInput as bad:
            self.refuse(key, value, bad.want)
        if size.magnitude < 0 or (size.magnitude == 0 and not zero_ok):
            self.refuse(key, value, "must be more than zero")
        if 0 < size < SMALLEST_LENGTH:
            self.refuse(key, value, "smaller than anything measured here: check the unit")
        return size

    def optional_length(self, key: str, unit: str) -> Quantity | None:
        """A length that may be left out."""
        return None if self.take(key, "", None) is None else self.length(key, unit)

    def whole(self, key: str, low: int, high: int, default: Any = ...) -> int:
        """A whole number from `low` to `high`."""
        want = f"wanted a whole number from {low} to {high}"
        value = self.take(key, want, default)
        if type(value) is not int or not low <= value <= high:
            self.refuse(key, value, want)
        return value

    def flag(self, key: str, default: bool) -> bool:
        """True or false."""
        value = self.take(key, "wanted true or false", default)
        if not isinstance(value, bool):
            self.refuse(key, value, "wanted true or false")
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
            self.refuse(key, value, want)
        if not Decimal(value).is_finite():  # nan can't be compared
            self.refuse(key, value, want)
        if not Decimal(low) <= Decimal(value) <= Decimal(high):
            self.refuse(key, value, want)
        return Decimal(value)

    def numbers(self, key: str, unit: str, default: Any = ...) -> tuple[Quantity, ...]:
        want = "wanted a list of numbers greater than zero, rising"
        values = self.take(key, want, default)
        if not isinstance(values, list | tuple):
            self.refuse(key, values, want)
        result = []
        for value in values:
            if isinstance(value, bool) or not isinstance(value, int | Decimal):
                self.refuse(key, value, want)
            if not Decimal(value).is_finite() or value <= 0:
                self.refuse(key, value, want)
            result.append(quantity(value, unit))
        if sorted(result) != result:
            self.refuse(key, values, want)
        return tuple(result)

    def table_at(self, key: str, default: Any = ...) -> Fields:
        value = self.take(key, f"wanted a table [{self.prefix}{key}]", default)
        if not isinstance(value, Mapping):
            self.refuse(key, value, f"wanted a table [{self.prefix}{key}]")
        return Fields(self.path, value, f"{self.prefix}{key}.", strict=self.strict)

    def done(self) -> None:
        for key in self.table:
            if self.strict and key not in self.used:
                known = sorted(self.used)
                near = get_close_matches(key, known, n=1, cutoff=0.7)
                meant = f"did you mean {near[0]}? " if near else ""
                want = f"unknown key; {meant}known here: {', '.join(known)}"
                self.refuse(key, self.table[key], want)

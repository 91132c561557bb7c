"""The sheet that is filled in: what was told, what is usual, what is still to be asked."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property
from typing import Any, Self

from assistant.filling.values import as_toml, drop, put, read_size, written_size
from assistant.jobs.field import Doubted, Field, Form, Kind, Value
from assistant.units import Quantity

YES, NO = "yes", "no"


@dataclass(frozen=True)
class Sheet:
    """One file as far as it is told. `Known` for the offers of its fields.

    A key told as None was left out on purpose: it is not asked again.
    """

    form: Form
    told: Mapping[str, Value | None] = field(default_factory=dict)
    """By the field's key, in the order in which they were told."""
    row: tuple[Decimal, ...] = ()
    """Numbers told so far of the row that is asked for."""
    declined: frozenset[str] = frozenset()
    """Fields whose offer was not wanted."""
    base: Mapping[str, Any] = field(default_factory=dict)
    """The table of the file that this one is like; what no field asks for is kept of it."""

    # -- what a sheet of its kind says --------------------------------------------------------

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        raise NotImplementedError

    @property
    def machine_kind(self) -> str:
        """What sort of machine it is for, or is."""
        raise NotImplementedError

    @property
    def title(self) -> str:
        """What it is called in a line."""
        raise NotImplementedError

    @property
    def heading(self) -> str:
        """The line over all that was told."""
        raise NotImplementedError

    def head(self) -> Mapping[str, Value]:
        """What stands first in the file, unasked."""
        return {}

    def check(self, *, whole: bool) -> None:
        """The word of the file's own reader; `whole` once all is told. Raises `BadInput`."""
        raise NotImplementedError

    def every_field(self) -> tuple[Field, ...]:
        """In the order in which they are asked."""
        return self.form.fields

    # -- what is known ------------------------------------------------------------------------

    @cached_property
    def fields(self) -> Mapping[str, Field]:
        """Every field, by its key, in the order in which they are asked."""
        return {one.key: one for one in self.every_field()}

    @cached_property
    def _known(self) -> dict[tuple[str, object], Any]:
        """What was worked out of this sheet, which never changes: its fields look at one another
        over and over."""
        return {}

    def size(self, key: str) -> Quantity | None:
        """A size that was told, is worked out, or is offered and taken unasked."""
        return read_size(self.value_of(key), self.unit)

    def value_of(self, key: str) -> Value | None:
        """What a field is, as the file has it; None where it isn't told, or not asked."""
        one = self.fields.get(key)
        return None if one is None or not self.holds(one) else self.value(one)

    def word(self, key: str) -> str:
        """What a field is, in a word: as told, else as it is usual; '' where it isn't asked."""
        one = self.fields.get(key)
        if one is None or not self.holds(one):
            return ""
        value = self.value(one)
        if value is None:
            return one.usual
        return (YES if value else NO) if isinstance(value, bool) else str(value)

    def holds(self, one: Field) -> bool:
        """Whether a field belongs to this file, by what was told before."""
        known = self._known.get(("holds", one.key))
        if known is None:
            known = all(self.word(key) in words for key, words in one.when.items())
            self._known["holds", one.key] = known
        return bool(known)

    def offered(self, one: Field) -> tuple[Quantity | int | str, ...]:
        """What is offered for a field; nothing where that was not wanted."""
        if one.offer is None or one.key in self.declined:
            return ()
        return one.offer(self)

    def doubted(self, one: Field) -> Doubted | None:
        """Why it is asked, of a field that is asked only where something is odd."""
        if one.doubt is None or not self.holds(one):
            return None
        if ("doubt", one.key) not in self._known:
            self._known["doubt", one.key] = one.doubt(self)
        doubted: Doubted | None = self._known["doubt", one.key]
        return doubted

    def value(self, one: Field) -> Value | None:
        """What a field is, as the file has it: as told, else what is taken unasked."""
        if one.worked is not None:
            if ("worked", one.key) not in self._known:
                self._known["worked", one.key] = one.worked(self)
            worked: Value | None = self._known["worked", one.key]
            return worked
        if one.key in self.told:
            return self.told[one.key]
        if one.offer is None:
            return None
        found = self.offered(one)
        if one.kind is Kind.YES:  # without a standard there is nothing to say yes to
            return None if found else False
        return self.of_offer(one) if one.aside and found else None

    def of_offer(self, one: Field) -> Value | None:
        """What is offered, as the file has it."""
        found = self.offered(one)
        if not found:
            return None
        if one.kind is Kind.YES:
            return True
        first = found[0]
        return first if isinstance(first, str | int) else written_size(first)

    # -- what is asked ------------------------------------------------------------------------

    def asked(self, *, more: bool) -> Iterator[Field]:
        """The fields that a person is asked, in order."""
        for one in self.fields.values():
            if one.worked is not None or not self.holds(one) or (one.aside and not more):
                continue
            only_yes = one.gate and one.kind is Kind.YES and one.offer is not None
            nothing_offered = only_yes and not self.offered(one)
            if not nothing_offered and (one.doubt is None or self.doubted(one) is not None):
                yield one

    def open(self, *, more: bool) -> Field | None:
        """The next one that wasn't told yet; None where all were."""
        if ("open", more) not in self._known:
            waiting = (one for one in self.asked(more=more) if one.key not in self.told)
            self._known["open", more] = next(waiting, None)
        found: Field | None = self._known["open", more]
        return found

    def tell(self, key: str, value: Value | None) -> Self:
        """With a field told; told anew it keeps its place in the order."""
        return self._calmed(replace(self, told={**self.told, key: value}, row=()))

    def untell(self, key: str) -> Self:
        """Without what was told for a field, and with its offer made anew."""
        told = {one: value for one, value in self.told.items() if one != key}
        return self._calmed(replace(self, told=told, row=(), declined=self.declined - {key}))

    def _calmed(self, after: Self) -> Self:
        """Without the answers to doubts that aren't what they were."""
        lapsed = {
            key
            for key in after.told
            if (one := self.fields[key]).doubt and self.doubted(one) != after.doubted(one)
        }
        if not lapsed:
            return after
        return replace(after, told={k: v for k, v in after.told.items() if k not in lapsed})

    # -- what comes of it ---------------------------------------------------------------------

    def table(self) -> dict[str, Any]:
        """The file as a table."""
        made = copy.deepcopy(dict(self.base))
        for one in self.fields.values():
            drop(made, one.key)
        head = self.head()
        made = {**head, **{key: value for key, value in made.items() if key not in head}}
        for one in self.in_file():
            value = self.value(one)
            if value is not None:
                put(made, one.key, value)
        return made

    def in_file(self) -> Iterator[Field]:
        """The fields that are in the file."""
        for one in self.fields.values():
            if not one.gate and self.holds(one):
                yield one

    @property
    def text(self) -> str:
        """The file."""
        return as_toml(self.table())


class Nothing(Sheet):
    """Before it is told what is made."""

    @property
    def unit(self) -> str:
        """Inches."""
        return "inch"


NOTHING = Nothing(Form("", "", (), "", ()))

"""One field of a file, a job's or a machine's, as a person is asked for it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import Protocol

from assistant.units import Quantity

Row = tuple[Decimal, ...]
"""Numbers that were read off one after another, rising."""
Value = str | int | Decimal | bool | Row | tuple[Row, ...] | tuple[str, ...]
"""What stands in the file: a size as `"1-1/2 in"`, a word, a number, true or false, a list."""
AS_USUAL = "as usual"
"""What a field is where its reason tells what that means."""
GATE = "?"
"""Begins the key of a question that only decides what is asked next: it is in no file."""


class Kind(StrEnum):
    """What sort of answer a field takes."""

    LENGTH = "length"
    """A size; also one of the field's choices, as a drill by its letter."""
    READING = "reading"
    """What a dial reads."""
    RATE = "rate"
    """One number in the unit of the field's `each`, as a speed."""
    ROW = "row"
    """Such numbers one after another, until the last was told."""
    WHOLE = "whole"
    ANGLE = "angle"
    """Degrees, a plain number in the file."""
    NUMBER = "number"
    """A plain number with places, as a taper a foot."""
    CHOICE = "choice"
    """One of the field's choices; typed, also another designation where `free`."""
    YES = "yes"
    """Yes or no: true or false in the file."""
    TEXT = "text"
    """A line, which has to be typed."""


class Known(Protocol):
    """What was told so far, as a field's offer sees it."""

    @property
    def unit(self) -> str:
        """`inch` or `mm`: the job's."""

    @property
    def machine_kind(self) -> str:
        """What sort of machine it is for."""

    def size(self, key: str) -> Quantity | None:
        """A size that was told or is offered; None where there is none yet."""

    def word(self, key: str) -> str:
        """A word that was told, else what the field is where nothing is told."""

    def value_of(self, key: str) -> Value | None:
        """What a field is, as the file has it; None where there is nothing."""


@dataclass(frozen=True)
class Each:
    """What the numbers of a row are, and what is plausible for one."""

    unit: str
    """`rpm`, `inch/minute`, `mm/turn` ...; '' where they are counted."""
    low: Decimal
    high: Decimal


@dataclass(frozen=True)
class Doubted:
    """Why what was told has to be asked about once more."""

    reason: str
    """In a sentence: it is said before the question."""
    anew: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Answer -> the fields that are asked anew then; any other answer has it taken as it is."""


Offer = Callable[[Known], tuple[Quantity | int | str, ...]]
"""What would be usual, by what is known: sizes, a count, a word; nothing where nothing is."""
Choices = tuple[str, ...] | Callable[[Known], tuple[str, ...]]


@dataclass(frozen=True)
class Field:
    """One field: its key in the file, and all that is needed to ask for it.

    `low` and `high` bound what is plausible: inches for a size, else the number itself. Outside
    it is asked back, never refused here.
    """

    key: str
    """As in the file, tables and all: `seat.length`; `step.0.length` is in the first `[[step]]`."""
    name: str
    """How it is called when it is read back: `length of the seat`."""
    ask: str
    """The question, as one would ask it aloud."""
    why: str
    """What it is for, in a line."""
    kind: Kind = Kind.LENGTH
    low: Decimal = Decimal(0)
    high: Decimal = Decimal(0)
    choices: Choices = ()
    free: bool = False
    """Whether a designation that is not among the choices may be typed."""
    usual: str = ""
    """What it is where the file is silent: a choice's own word, else in a few words. '' where it
    has to be told."""
    offer: Offer | None = None
    """What is offered; of a field `aside`, it is taken unasked."""
    offered: str = ""
    """The question where something is offered, with `{offer}` for it."""
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """It is asked only where each of these fields is one of these words; `yes` and `no` too."""
    aside: bool = False
    """Whether it is asked only when more is wanted than what has no usual answer."""
    how: str = ""
    """What has to be done before it can be answered: said before the question, the first time."""
    caution: str = ""
    """Shown as long as it is asked; said where the question before had another."""
    below: str = ""
    """Key of the size that this one has to be smaller than."""
    each: Callable[[Known], Each] | None = None
    """Of a rate or a row: unit and band."""
    doubt: Callable[[Known], Doubted | None] | None = None
    """It is asked only where this gives a reason; told something else meanwhile, it lapses."""
    worked: Callable[[Known], Value | None] | None = None
    """It is never asked: it is worked out from other answers."""
    source: str = ""
    """Of one that is worked out: the field to be told anew where the result can't be."""

    @property
    def gate(self) -> bool:
        """Whether it is in no file."""
        return self.key.startswith(GATE)

    @property
    def needed(self) -> bool:
        """Whether it can't be left out."""
        return not self.usual


@dataclass(frozen=True)
class Form:
    """One kind of work, or a machine: what it is called, and what is asked."""

    operation: str
    called: str
    """As the title of a job begins: `Keyseat`."""
    machines: tuple[str, ...]
    """Kinds of machine that can do it; the reader and the plan have the last word. Of a machine's
    own form, none."""
    main: str
    """Key of the size that tells two such jobs apart: `same again, but ...` changes it."""
    fields: tuple[Field, ...]
    cuts: bool = True
    """Whether metal is cut, so that the material matters."""
    last: str = "Run it now?"
    """Asked once the file is kept."""

    def field(self, key: str) -> Field | None:
        """The field of that key."""
        return next((one for one in self.fields if one.key == key), None)


def when(text: str) -> dict[str, tuple[str, ...]]:
    """`seat.end=closed` or `cutter.kind=end mill|face mill & ?step=yes` as a field has it."""
    found = {}
    for part in filter(None, (one.strip() for one in text.split("&"))):
        key, _, words = part.partition("=")
        found[key] = tuple(words.split("|"))
    return found


def size(
    key: str, name: str, ask: str, why: str, low: str, high: str, *, given: str = "",
    usual: str = "", aside: bool = False, offer: Offer | None = None, offered: str = "",
    choices: Choices = (), free: bool = False, below: str = "",
) -> Field:  # fmt: skip
    """A length; `low` and `high` in inches."""
    return Field(
        key, name, ask, why, Kind.LENGTH, Decimal(low), Decimal(high), usual=usual, aside=aside,
        when=when(given), offer=offer, offered=offered, choices=choices, free=free, below=below,
    )  # fmt: skip


def count(
    key: str, name: str, ask: str, why: str, low: int, high: int, *, given: str = "",
    usual: str = "", aside: bool = False,
) -> Field:  # fmt: skip
    """A whole number."""
    return Field(
        key, name, ask, why, Kind.WHOLE, Decimal(low), Decimal(high), usual=usual, aside=aside,
        when=when(given),
    )  # fmt: skip


def number(
    key: str, name: str, ask: str, why: str, low: str, high: str, *, given: str = "",
    usual: str = "", aside: bool = False, kind: Kind = Kind.ANGLE,
) -> Field:  # fmt: skip
    """Degrees, or a plain number."""
    return Field(
        key, name, ask, why, kind, Decimal(low), Decimal(high), usual=usual, aside=aside,
        when=when(given),
    )  # fmt: skip


def pick(
    key: str, name: str, ask: str, why: str, choices: Choices, *, given: str = "",
    usual: str = "", aside: bool = False, offer: Offer | None = None, free: bool = False,
) -> Field:  # fmt: skip
    """One of several words."""
    return Field(
        key, name, ask, why, Kind.CHOICE, choices=choices, usual=usual, aside=aside,
        when=when(given), offer=offer, free=free,
    )  # fmt: skip


def yes(
    key: str, name: str, ask: str, why: str, *, usual: str, given: str = "", aside: bool = False,
    offer: Offer | None = None, offered: str = "",
) -> Field:  # fmt: skip
    """Yes or no."""
    return Field(
        key, name, ask, why, Kind.YES, usual=usual, aside=aside, when=when(given), offer=offer,
        offered=offered,
    )  # fmt: skip


def toleranced(
    key: str, name: str, ask: str, why: str, low: str, high: str, *, given: str = "",
    usual: str = "", limits_aside: bool = True, aside: bool = False,
) -> tuple[Field, ...]:  # fmt: skip
    """A size and its limits, as `KEY`, `KEY_plus` and `KEY_minus` of the file."""
    either = "What the drawing allows. Where only one limit is told the other is nothing; where "
    either += "neither is, five thou either way, or a tenth of a millimetre."
    return (
        size(key, name, ask, why, low, high, given=given, usual=usual, aside=aside),
        # under before over: a shaft has only that, and nothing over is no size without it
        size(f"{key}_minus", f"{name}, under", f"{name[:1].upper()}{name[1:]}: how much under "
             "may it be?", either, "0", "0.25", given=given, usual=AS_USUAL,
             aside=aside or limits_aside),
        size(f"{key}_plus", f"{name}, over", f"{name[:1].upper()}{name[1:]}: how much over "
             "may it be?", either, "0", "0.25", given=given, usual=AS_USUAL,
             aside=aside or limits_aside),
    )  # fmt: skip

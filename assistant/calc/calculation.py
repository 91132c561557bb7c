"""What the catalogue says of one calculation: plain data, so that listing it costs nothing.

A file of `calc/listing/` has a table for each `Calculation`. Nothing here or there imports pint,
numpy or a formula: the function is named as text and found when it is run.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

Kind = str
"""How the text of an input is read, and what the function gets:

    length          '1-1/2 in', '8 mm'; a bare number is refused     Quantity
    inch, mm        '0.375', '3/8', or with any unit of length        Quantity
    lengths         '1/4 in, 3/8 in': several lengths                 tuple[Quantity, ...]
    speed           '90 ft/min', '30 m/min' (surface speed)           Quantity
    feed            '7.2 in/min', '96 mm/min'                         Quantity
    rpm             '600' or '600 rpm'                                Quantity in revolutions/minute
    degree          '29.5', '16d42m20s', "16°42'20\\""                Quantity in degrees
    count           '7'                                               int
    counts          '15, 16, 17'                                      tuple[int, ...]
    number          '0.75' (a ratio, a percentage, a factor)          Decimal
    numbers         '60, 85, 120'                                     tuple[Decimal, ...]
    fraction        '3/64', '1-1/2', '0.375' (no unit)                Fraction
    yes or no       'yes', 'no', 'true', 'false'                      bool
    text            anything, or one of `choices`                     str

An `Output` uses the same words, 'removal' (a volume a minute), or any unit that pint knows. For
'length', 'speed', 'feed' and 'removal' the answer is inch or metric as the first size given was;
a tuple of sizes, or of tuples of them, takes the word of one size.
"""

Json = str | int | bool | None | list[Any] | dict[str, Any]


@dataclass(frozen=True, slots=True)
class Input:
    """One input: its name on the command line, how it is read and what may be given."""

    name: str
    """The function's own keyword, `shaft` or `measured_key`."""
    unit: Kind
    what: str
    """In a few words, as a machinist would ask for it."""
    low: str | None = None
    """The least allowed, itself allowed; as text of the same kind: '0 in', '1'."""
    high: str | None = None
    """The most allowed, itself allowed."""
    choices: tuple[str, ...] = ()
    """For 'text': the only words allowed."""
    default: str | None = None
    """What is taken where it is not given; None makes the input required."""
    above: str | None = None
    """It must be more than this; '0' makes it positive whatever the unit."""
    optional: bool = False
    """True: where it is not given the function gets None."""


@dataclass(frozen=True, slots=True)
class Output:
    """One field of a result."""

    name: str
    """The attribute or key of what the function returns; for a single bare value, its name."""
    unit: Kind
    what: str = ""


@dataclass(frozen=True, slots=True)
class Calculation:
    """One calculation of the catalogue.

    The function is called with the inputs as keywords and returns either one bare value (then
    `result` has one `Output`), or a dataclass or mapping with an attribute or key for each
    `Output`. A value is a Quantity, Decimal, Fraction, int, str, bool, None, or a tuple, list or
    mapping of those. In JSON a size is a decimal string (exact, in the unit named beside it), a
    Fraction is text such as '3/8', and int, str, bool and None are themselves.
    """

    name: str
    """In trade words with hyphens: `keyseat-depth`."""
    title: str
    """What it is for, one line."""
    inputs: tuple[Input, ...]
    result: tuple[Output, ...]
    formula: str
    """As it would be written on paper, or 'table' where it is looked up."""
    source: str
    """The published source of the formula or table, 'common practice, no source', or
    'from memory of ...'."""
    example: tuple[Mapping[str, str], Mapping[str, Json]]
    """Inputs as text, and the result fields with their values in JSON form. A decimal string is
    good to the places written: '0.141' stands for anything that rounds to it."""
    function: str
    """`package.module:name`, imported only when it is run."""
    topic: str = ""
    """The heading it is listed under: `Keys`, `Threads`."""

    def resolve(self) -> Callable[..., Any]:
        """The function itself; imports its module."""
        module, _, name = self.function.partition(":")
        function: Callable[..., Any] = getattr(importlib.import_module(module), name)
        return function

"""Number words that are all but the same in sound: fifteen and fifty, ten and tenth, thou and
thousand. What one ear takes for the other both ears may.

A size in thousands is in no ear's grammar (`lengths.py`): where somebody says "five thousand" the
built-in ear hears five thou, and the second one, which knows thou, five thousandth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

_TEENS = ("thir", "four", "fif", "six", "seven", "eigh", "nine")
ALIKE: Mapping[str, str] = MappingProxyType(
    {"ten": "tenth", "hundred": "hundredth", "thousand": "thousandth"}
)
"""Apart by the last sound alone, which a shop's noise covers: no ear is sure of them. By both ears
"one ten" was taken as "one tenth" at .93."""
NEAR: tuple[tuple[str, str], ...] = (
    *((f"{stem}teen", "forty" if stem == "four" else f"{stem}ty") for stem in _TEENS),
    ("thou", "thousand"),
    *((one, f"{other}s") for one, other in ALIKE.items()),
)
"""Told apart as a rule: asked about where an ear heard the other."""


def _both_ways(pairs: Iterator[tuple[str, str]], alike: bool) -> Iterator[tuple[str, str, bool]]:
    for one, other in pairs:
        yield one, other, alike
        yield other, one, alike


_OTHERS: dict[str, list[tuple[str, bool]]] = {}
for _word, _other, _alike in (
    *_both_ways(iter(ALIKE.items()), True),
    *_both_ways(iter(NEAR), False),
):
    _OTHERS.setdefault(_word, []).append((_other, _alike))


def twins(words: str) -> Iterator[tuple[str, bool]]:
    """`words` with one word of a pair put for the other, each way that there is; and whether no
    ear is sure of that pair.

    >>> list(twins("cut one ten"))
    [('cut one tenth', True), ('cut one tenths', False)]
    """
    said = words.split()
    for place, word in enumerate(said):
        for other, alike in _OTHERS.get(word, ()):
            yield " ".join((*said[:place], other, *said[place + 1 :])), alike

"""Events of earlier versions, brought up to today's on reading.

An event's version goes up when a field of it, or of anything inside it, is renamed, taken away or
given another meaning; then `UPGRADES` gets a function from the old form to the next. A new field
with a default needs none: every field is always written, so one that is missing was not thought
of yet, and its default says what it was then. Journals of every version are kept under
`tests/session/journals/`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from assistant.errors import JournalError


@dataclass(frozen=True, slots=True)
class Stored:
    """One event as it was written: plain JSON, not yet an object."""

    type: str
    version: int
    fields: Mapping[str, Any]


Upgrade = Callable[[Stored], Stored]


def _no_longer_told(stored: Stored) -> Stored:
    """What was written down and is worked out now."""
    return Stored("Superseded", 1, {"what": stored.type})


def _axis_lost(stored: Stored) -> Stored:
    ground = {"@": "Ground", "is": "count"}
    fields = {"ground": ground, "name": stored.fields["axis"], "why": stored.fields["why"]}
    return Stored("Shaken", 1, fields)


UPGRADES: Mapping[tuple[str, int], Upgrade] = MappingProxyType(
    {
        ("AxisLost", 1): _axis_lost,
        ("Doubted", 1): _no_longer_told,
        ("DoubtSettled", 1): _no_longer_told,
        ("Retouching", 1): _no_longer_told,
    }
)
"""From the type and version of a stored event to the function that makes the next version of it.

The result may have another type, so that an event can be renamed; its version must be higher, or
its type different.
"""


def upgrade(
    stored: Stored, current: Mapping[str, int], upgrades: Mapping[tuple[str, int], Upgrade]
) -> Stored:
    """`stored` in the version that `current` names for its type.

    Raises `JournalError` for a type that is not known, a version that is newer than this program
    and a version from which no upgrade leads on.
    """
    seen: set[tuple[str, int]] = set()
    while current.get(stored.type) != stored.version:
        step = upgrades.get((stored.type, stored.version))
        if step is None or (stored.type, stored.version) in seen:
            raise JournalError(_no_way(stored, current))
        seen.add((stored.type, stored.version))
        stored = step(stored)
    return stored


def _no_way(stored: Stored, current: Mapping[str, int]) -> str:
    known = current.get(stored.type)
    if known is None:
        return (
            f"event type {stored.type!r} is unknown to this program: "
            "the journal was written by a newer one, or is damaged"
        )
    if stored.version > known:
        return (
            f"event {stored.type} has version {stored.version} and this program knows up to "
            f"{known}: open the journal with the newer program that wrote it"
        )
    return (
        f"event {stored.type} has version {stored.version}, from which no upgrade leads to {known}"
    )


def inside(value: Any, tag: str, change: Callable[[dict[str, Any]], dict[str, Any]]) -> Any:
    """`value` with every object tagged `tag` in it, however deep, replaced by `change` of it.

    For upgrades of a type that is inside events, such as `Figure`.
    """
    if isinstance(value, Mapping):
        deep = {key: inside(part, tag, change) for key, part in value.items()}
        return change(deep) if deep.get("@") == tag else deep
    if isinstance(value, list):
        return [inside(part, tag, change) for part in value]
    return value

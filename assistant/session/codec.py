"""Events as lines of JSON and back, exactly.

    {"type": "AxisZeroed", "version": 1, "axis": "knee", "came": 1,
     "zero_reading": {"@": "quantity", "is": "0.0405 inch"}}

`plain.py` says how the values inside are written, `upgrade.py` how older versions are read. A long
event, which is a whole plan, is packed: it was four fifths of a journal. What says the story of a
job stands as it is:

    {"type": "Planned", "version": 1, "packed": "c$|zU..."}
"""

from __future__ import annotations

import json
import zlib
from base64 import b85decode, b85encode
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NoReturn

from assistant.errors import JournalError
from assistant.session.events import Event
from assistant.session.plain import Reader, field_names, subclasses, to_plain
from assistant.session.upgrade import UPGRADES, Stored, Upgrade, upgrade

PACKED = "packed"
LONG = 2000
"""Bytes from which on an event is packed."""
LONGEST = 64 * 1024 * 1024


def event_types() -> Mapping[str, type[Event]]:
    """Every event class by name, found as the subclasses of `Event`."""
    return _event_types(len(Event.__subclasses__()))


@lru_cache(maxsize=1)
def _event_types(count: int) -> Mapping[str, type[Event]]:
    return {kind.__name__: kind for kind in subclasses(Event)}


def encode(event: Event) -> str:
    """`event` as one line of JSON. Raises `JournalError` for what can't be kept exactly."""
    kind: Any = type(event)
    body: dict[str, Any] = {"type": kind.__name__, "version": kind.VERSION}
    try:
        for name in field_names(kind):
            body[name] = to_plain(getattr(event, name))
        text = json.dumps(body, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
        whole = text.encode()  # half a surrogate pair, as from a broken keyboard, is in no encoding
    except (TypeError, ValueError) as error:
        raise JournalError(f"{kind.__name__} can't be written: {error}") from error
    if len(whole) <= LONG:
        return text
    packed = b85encode(zlib.compress(whole)).decode()
    return f'{{"type":"{kind.__name__}","version":{kind.VERSION},"{PACKED}":"{packed}"}}'


def decode(
    text: str,
    upgrades: Mapping[tuple[str, int], Upgrade] = UPGRADES,
    reader: Reader | None = None,
) -> Event:
    """The event that `encode` wrote, upgraded where an earlier version wrote it.

    `reader` is given where many events are read: what is equal in them is then made once.

    Raises `JournalError` for damaged text, and for types and versions this program doesn't know.
    """
    body = _object(text)
    if PACKED in body:
        body = _object(_unpacked(body[PACKED]))
    name, version = body.pop("type", None), body.pop("version", None)
    if not isinstance(name, str) or type(version) is not int:
        raise JournalError(f"not an event: no type and version in {text[:60]!r}")
    kinds = event_types()
    if name not in kinds or version != kinds[name].VERSION:
        versions = {known: kind.VERSION for known, kind in kinds.items()}
        stored = upgrade(Stored(name, version, body), versions, upgrades)
        name, body = stored.type, dict(stored.fields)
    try:
        event: Event = (reader or Reader()).build(kinds[name], body)
    except RecursionError as error:
        raise JournalError(f"nested too deeply to be an event: {text[:60]!r}") from error
    return event


def _object(text: str) -> dict[str, Any]:
    try:
        body = _JSON.decode(text)
    except (ValueError, RecursionError) as error:
        raise JournalError(f"not an event: {error}") from error
    if not isinstance(body, dict):
        raise JournalError(f"not an event: {text[:60]!r}")
    return body


def _unpacked(packed: object) -> str:
    """The text of a long event. Never more than `LONGEST`, whatever a damaged file makes of it."""
    try:
        opened = zlib.decompressobj()
        whole = opened.decompress(b85decode(str(packed)), LONGEST)
        if not opened.eof:
            raise ValueError("it is cut short, or too long")
        return whole.decode()
    except (ValueError, zlib.error) as error:
        raise JournalError(f"not an event: what is packed in it can't be read: {error}") from error


def _no_constant(name: str) -> NoReturn:
    raise ValueError(f"{name} is not a number that an event may hold")


_JSON = json.JSONDecoder(parse_constant=_no_constant)

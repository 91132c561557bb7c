"""Fields of shaft and key, as every keyseat and keyway has them."""

from __future__ import annotations

from assistant.calc.key_tables import key_for_shaft
from assistant.errors import BadInput
from assistant.jobs.field import Field, Known, Offer, size, yes
from assistant.units import Quantity

Offered = tuple[Quantity | int | str, ...]


def standard_key(of: str) -> Offer:
    """The standard's key for the shaft or bore under that key."""

    def offer(known: Known) -> Offered:
        told = known.size(of)
        try:
            key = None if told is None else key_for_shaft(told)
        except BadInput:
            return ()  # no key in the table for it: width and height are asked
        return () if key is None else (key.width, key.height)

    return offer


def key_width(of: str) -> Offer:
    """The width of the key: as told, else the standard's."""

    def offer(known: Known) -> Offered:
        told = known.size("key.width")
        return (told,) if told is not None else standard_key(of)(known)[:1]

    return offer


def key_fields(of: str, what: str) -> tuple[Field, ...]:
    return (
        yes("?key", "key by the standard", "Is it the standard's key?",
            f"The standard gives a key for each {what}. Another is as the drawing has it.",
            usual="yes", offer=standard_key(of),
            offered="Key {offer}, by the standard. Right?"),
        size("key.width", "width of the key", "How wide is the key?",
             "As on the drawing. The seat is cut as wide.", "0.06", "3", given="?key=no", below=of),
        size("key.height", "height of the key", "How high is the key?",
             "As on the drawing. The depth goes by it.", "0.06", "3", given="?key=no", below=of),
    )  # fmt: skip


SHAFT = size("shaft.diameter", "shaft", "What diameter is the shaft?",
              "As on the drawing. The key and the depth go by it.", "0.2", "11")  # fmt: skip

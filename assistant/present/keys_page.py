"""The page of keys, shown by F1 until the next key or word."""

from __future__ import annotations

from assistant.present.glance import Glance, Moment
from assistant.replacing import replace

KEYS: tuple[tuple[str, str], ...] = (
    ("Space, Enter, pedal", "the step is done, or yes; a number is asked again"),
    ("Escape", "be quiet; no to a question"),
    ("Up", "say again"),
    ("Right", "what now"),
    ("Down", "how much left"),
    ("Left", "scratch that"),
    ("?", "why"),
    ("F1", "this page, and help"),
    ("F11", "full screen"),
)
"""Each key with what it does."""


def keys_page(shown: Glance) -> Glance:
    """The keys instead of the step; `shown` is what they stand before.

    A question, trouble and `stop` are never covered.
    """
    if shown.moment in (Moment.ASK, Moment.TROUBLE):
        return shown
    return replace(
        shown,
        moment=Moment.NOTE,
        number="", unit="", what="", widest="", phase="", way="", say="",
        cautions=(), stop=None, move=None, bar=None, limits=None, drawing=(), drawing_kind="",
        instruction="Keys",
        detail=tuple(f"{key}: {what}" for key, what in KEYS),
    )  # fmt: skip

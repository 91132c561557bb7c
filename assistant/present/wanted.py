"""The words that the step at hand wants to hear, for the foot of the page: `I'm set`."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.session.allowed import allowed
from assistant.session.state import State

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "bare": "bare",
        "checked": "checked",
        "clear": "clear",
        "dial_reads": "dial reads ...",
        "even": "it's even",
        "left_wall": "left wall ...",
        "listen": "listen",
        "measured": "measured ...",
        "next_division": "next division",
        "nothing_moved": "nothing moved",
        "paper": "paper is ..., or bare",
        "ready_set": "I'm set",
        "right_wall": "right wall ...",
        "same_again": "same again",
        "through": "that's through",
        "touched": "touched",
        "where": "where are we",
        "yes": "yes, or no",
    }
)
"""Intent -> what to say; `...` stands for the value that is told with it."""


def wanted_words(state: State) -> str:
    """What carries the job on from here: the first that may be heard; '' before there is a job."""
    if state.stopped:
        return WORDS["where"]
    if not state.at_work:
        return ""
    return WORDS.get(allowed(state)[0].intent, "")

"""Keys that mirror the voice: also a foot pedal, which is a keyboard to the computer."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.app.talker import Talker
from assistant.spoken import Heard

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "up": "say again",
        "left": "scratch that",
        "right": "what now",
        "down": "how much left",
        "f1": "help",
        "?": "why",
    }
)
"""Key -> what it says."""


def press(assistant: Talker, key: str) -> None:
    """Act on a key: Escape silences, Enter and the pedal finish the step, others ask.

    F1 also shows the keys; the next key or word takes them away.
    """
    if assistant.keys_shown:
        assistant.keys_shown = False
        assistant.show()
        if key == "f1":
            return
    if key == "escape":
        assistant.devices.speaker.hush()
        if assistant.asked_back:
            _say(assistant, "no")
        return
    if key in ("enter", "space"):
        _say(assistant, assistant.forward or ("say again" if assistant.asks else "what now"))
    elif key in WORDS:
        _say(assistant, WORDS[key])
        if key == "f1":
            assistant.keys_shown = True
            assistant.show()


def _say(assistant: Talker, words: str) -> None:
    now = assistant.devices.clock.monotonic()
    assistant.hear(Heard(words, 1.0, now, now, engine="typed"))

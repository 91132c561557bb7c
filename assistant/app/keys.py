"""Keys that mirror the voice: also a foot pedal, which is a keyboard to the computer."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.app.assistant import Assistant
from assistant.app.forward import forward_words
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


def press(assistant: Assistant, key: str) -> None:
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
        if assistant.state.question is not None:
            _say(assistant, "no")
        return
    if key in ("enter", "space"):
        asked = assistant.state.question is not None
        _say(assistant, forward_words(assistant.state) or ("say again" if asked else "what now"))
    elif key in WORDS:
        _say(assistant, WORDS[key])
        if key == "f1":
            assistant.keys_shown = True
            assistant.show()


def _say(assistant: Assistant, words: str) -> None:
    now = assistant.devices.clock.monotonic()
    assistant.hear(Heard(words, 1.0, now, now, engine="typed"))

"""Keys that mirror the voice: also a foot pedal, which is a keyboard to the computer."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.app.assistant import Assistant
from assistant.jobs.steps import Check, Cut, Index, Measure, Move, Note, Touch
from assistant.session.state import Phase, State
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


def forward_words(state: State) -> str:
    """What Enter says: the word that finishes the step at hand; '' where a value is wanted, or
    one is asked back.

    Never the same key for two things of a cut: a move is answered "I'm set", a cut "that's
    through", each by the step's own word.
    """
    if state.question is not None:
        candidate = state.question.candidate
        # a tap says that the step is done, never that a number is right
        return "yes" if candidate is not None and not candidate.has_number else ""
    if state.doubts:
        return ""
    match state.step:
        case Touch() if state.phase is not Phase.ACT:
            return ""
        case Touch():
            return "touched"
        case Move() if state.phase is Phase.VERIFY:
            return "yes"
        case Move(done_words="clear"):
            return "clear"
        case Move() | Note() | Index():
            return "i'm set"
        case Cut():
            return "that's through"
        case Check():
            return "checked"
        case Measure(kind="even"):
            return "it's even"
        case Measure(kind="gauge"):
            return "yes"
    return ""


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

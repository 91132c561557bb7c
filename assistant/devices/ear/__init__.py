"""The ear around a recogniser: when somebody speaks, when it is over, and what was heard.

`Hearing` does it in this process, for sound files and tests; `EarProcess` in a child process, so
that a hung or crashed decoder can be killed and started anew.
"""

from assistant.devices.ear.apart import EarApart
from assistant.devices.ear.events import (
    EarEvent,
    EarState,
    HeardEvent,
    Helpless,
    Level,
    Partial,
    SpeechStarted,
)
from assistant.devices.ear.hearing import Hearing, Listener, hear
from assistant.devices.ear.process import EarProcess
from assistant.devices.ear.scripted import ScriptedEar

__all__ = [
    "EarApart",
    "EarEvent",
    "EarProcess",
    "EarState",
    "HeardEvent",
    "Hearing",
    "Helpless",
    "Level",
    "Listener",
    "Partial",
    "ScriptedEar",
    "SpeechStarted",
    "hear",
]

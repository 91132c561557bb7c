"""The small types that every layer shares: what may be said, what was heard, what is answered.

Nothing here calculates, listens or speaks; these are the words the layers use to each other.
"""

from assistant.machine import Wheel
from assistant.spoken.automaton import WordAutomaton
from assistant.spoken.figure import DialMove, Figure, Term
from assistant.spoken.heard import Heard, Opinion, Reason, Refused, Understood
from assistant.spoken.intent import Expected, Intent, Slot, SlotKind, SlotValue
from assistant.spoken.sentence import Sentence, Urgency

__all__ = [
    "DialMove",
    "Expected",
    "Figure",
    "Heard",
    "Intent",
    "Opinion",
    "Reason",
    "Refused",
    "Sentence",
    "Slot",
    "SlotKind",
    "SlotValue",
    "Term",
    "Understood",
    "Urgency",
    "Wheel",
    "WordAutomaton",
]

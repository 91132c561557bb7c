"""The word that carries a job on, and what will be answered to it."""

from __future__ import annotations

from datetime import datetime

from assistant.app.turn import Outcome, turn
from assistant.jobs.steps import Check, Cut, Index, Measure, Move, Note, Touch
from assistant.phrases.book import PhraseBook
from assistant.phrases.matcher import TYPED
from assistant.session.state import Phase, State
from assistant.spoken import Heard

ASKED = "what now"
"""What else is asked at any step."""


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


def foreseen(book: PhraseBook, state: State, now: datetime) -> list[Outcome]:
    """The likeliest answers to come, the next step's first.

    Pure: nothing of it happens. The clock's time only stands in the records that are thrown away.
    """
    words = filter(None, (forward_words(state), ASKED))
    return [turn(book, state, Heard(each, engine=TYPED), now) for each in words]

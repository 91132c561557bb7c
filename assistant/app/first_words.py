"""Says aloud, the first times, which word carries the job on: "Say touched when it touches."

The foot of the page shows that word at every step; whoever is new at this looks at the handle, not
at the foot.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from assistant.ports import JobEntry
from assistant.session.state import Phase, State
from assistant.session.wanted import WORDS, wanted, what_to_say
from assistant.spoken import Refused, Sentence, Understood

JOBS_OF_A_BEGINNER = 3
"""Finished jobs in the journal, until which the words are told."""
TIMES = 2
"""A word that the operator said so often in this run is known."""


class When(StrEnum):
    """The setting `say_words`."""

    FIRST = "first"
    ALWAYS = "always"
    NEVER = "never"


@dataclass
class FirstWords:
    """Which words the operator knows by now. Used by one conversation."""

    when: When = When.NEVER
    _said: Counter[str] = field(default_factory=Counter)

    @classmethod
    def of_journal(cls, when: When, jobs: Iterable[JobEntry]) -> FirstWords:
        """For an operator who has these jobs behind them."""
        known = when is When.FIRST and sum(job.finished for job in jobs) >= JOBS_OF_A_BEGINNER
        return cls(When.NEVER if known else when)

    def heard(self, said: Understood | Refused) -> None:
        """One thing heard, and understood or not."""
        if isinstance(said, Understood):
            self._said[said.intent.name] += 1

    def added(
        self, sentences: Sequence[Sentence], before: State | None, state: State
    ) -> list[Sentence]:
        """The `sentences` that led from `before` (None: a job begun or taken up) to `state`, and
        the word behind them where the operator comes to something new to do."""
        told = " ".join(sentence.text for sentence in sentences).casefold()
        if not told or self.when is When.NEVER or not _new_to_do(before, state):
            return [*sentences]
        intent = wanted(state)
        known = self.when is When.FIRST and self._said[intent] >= TIMES
        word = WORDS.get(intent, "").partition(" ...")[0].casefold()
        if known or not word or word in told or intent == "yes":
            return [*sentences]
        return [*sentences, Sentence(what_to_say(state))]


def _new_to_do(before: State | None, state: State) -> bool:
    """Whether the place is another one, and not asked with a yes or no."""
    if not state.at_work or state.stopped or not state.listening:
        return False
    if state.question is not None or state.doubts or state.phase is Phase.VERIFY:
        return False
    if before is None or not before.at_work or before.doubts:
        return True
    return (before.step_id, before.phase) != (state.step_id, state.phase)

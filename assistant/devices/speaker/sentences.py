"""Which sentence is said next, and which may be left out."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable

from assistant.spoken import Sentence, Urgency


class Sentences:
    """The queue: cautions before all else, status left out when something newer is to be said.

    Not safe for threads by itself; the speaker holds its lock.
    """

    def __init__(self) -> None:
        self._cautions: deque[Sentence] = deque()
        self._others: deque[Sentence] = deque()

    def __len__(self) -> int:
        return len(self._cautions) + len(self._others)

    def add(self, sentences: Iterable[Sentence]) -> list[Sentence]:
        """Queue sentences that belong together; the waiting ones that were left out for them."""
        fresh = [sentence for sentence in sentences if sentence.text.strip()]
        if not fresh:
            return []
        dropped = [waiting for waiting in self._others if waiting.urgency is Urgency.STATUS]
        self._others = deque(
            waiting for waiting in self._others if waiting.urgency is not Urgency.STATUS
        )
        for sentence in fresh:
            caution = sentence.urgency is Urgency.CAUTION
            (self._cautions if caution else self._others).append(sentence)
        return dropped

    def next(self) -> Sentence | None:
        """Take the next one; None where nothing waits."""
        waiting = self._cautions or self._others
        return waiting.popleft() if waiting else None

    def put_back(self, sentence: Sentence) -> None:
        """It could not be said: first again among its own."""
        caution = sentence.urgency is Urgency.CAUTION
        (self._cautions if caution else self._others).appendleft(sentence)

    def clear(self, *, but_cautions: bool = False) -> list[Sentence]:
        """Forget what waits, perhaps all but the cautions; what was forgotten."""
        gone = [*([] if but_cautions else self._cautions), *self._others]
        if not but_cautions:
            self._cautions.clear()
        self._others.clear()
        return gone

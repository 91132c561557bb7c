"""A recogniser around another: what it hears is the first's, with the second's opinion."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np

from assistant.devices.opinion.helper import Helper
from assistant.devices.opinion.strange import StrangeWords
from assistant.ports import Foresighted, Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton

WAIT_SECONDS = 0.25
"""The second ear works while the first does, and while the end of the sentence is waited for; it
is later than that only on a machine that has no time for it, and then isn't waited for."""


class SecondOpinion:
    """A `Recogniser`. Closes both."""

    def __init__(
        self,
        first: Recogniser,
        second: Helper,
        *,
        better: bool = False,
        strange: StrangeWords | None = None,
        wait: float = WAIT_SECONDS,
    ) -> None:
        """`better`: the second is the better ear of the two; `strange`: words it doesn't know."""
        self.name = first.name
        self._first, self._second = first, second
        self._better, self._strange = better, strange
        self.wait = wait
        """Seconds for which the opinion is waited for."""
        self._grammar: WordAutomaton | None = None
        self._sound: list[Samples] = []
        self._question = 0
        """Number of the question about the sound so far; 0 where it isn't asked."""
        self._followed = 0
        """Number under which the second ear follows what is being said; 0 where it doesn't."""

    @property
    def trouble(self) -> str:
        """Why there is no second opinion; '' while there is."""
        return self._second.trouble

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Have both compile; the words that the first can't hear."""
        self._second.prepare([self._known(grammar) for grammar in grammars])
        return self._first.prepare(grammars)

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._grammar, self._sound = self._known(grammar), []
        self._question = self._followed = 0
        self._second.warm(self._grammar)
        self._first.begin(grammar)

    def feed(self, samples: Samples) -> str:
        """More of the utterance; the words so far, of the second ear where the first tells none
        before the end."""
        self._sound.append(samples)
        self._question = 0
        words = self._first.feed(samples)
        return words or self._follow(samples)

    def _follow(self, samples: Samples) -> str:
        if self._grammar is None:
            return ""
        if self._followed:
            self._second.more(self._followed, self._grammar, samples)
        else:
            self._followed = self._second.follow(self._grammar, np.concatenate(self._sound))
        words = self._second.saying(self._followed)
        return words if self._strange is None else self._strange.words(words)

    def pause(self) -> None:
        """Somebody pauses: what was said so far may be all, so the second ear begins on it."""
        if self._grammar is not None and self._sound and not self._question:
            self._question = self._second.ask(self._grammar, np.concatenate(self._sound))
            self._followed = 0  # if more is said it follows all of it anew

    def finish(self) -> Heard:
        """What the first heard, with the second's opinion where it came in time."""
        self.pause()
        heard = self._first.finish()
        question, self._question, self._sound = self._question, 0, []
        # A word that it doesn't know leaves it without an opinion.
        if not question or not heard.words or self._second.deaf.intersection(heard.words.split()):
            return heard
        opinion = self._second.told(question, self.wait)
        if opinion is not None:
            words = opinion.words if self._strange is None else self._strange.words(opinion.words)
            opinion = replace(opinion, words=words, better=self._better)
        return replace(heard, opinion=opinion)

    def _known(self, grammar: WordAutomaton) -> WordAutomaton:
        return grammar if self._strange is None else self._strange.grammar(grammar)

    def close(self) -> None:
        """End the second ear, and close the first."""
        self._second.close()
        self._first.close()


class _WithForesight(SecondOpinion):
    """Around a recogniser that can tell in a pause what was said so far."""

    def peek(self) -> Heard:
        """What the first would report if nothing more came."""
        assert isinstance(self._first, Foresighted)
        return self._first.peek()


def with_second_opinion(
    make_first: Callable[[], Recogniser],
    make_second: Callable[[], Recogniser],
    *,
    better: bool = False,
    strange: tuple[str, str] | None = None,
    wait: float = WAIT_SECONDS,
) -> Recogniser:
    """The first ear, with the other to check it; `better` where that is the better one.

    `strange`: an attention word that the second doesn't know, and its word for the unknown;
    `wait`: seconds for which an opinion is waited for.
    Raises what `make_first` raises.
    With `functools.partial` it is what an ear's process makes its recogniser with.
    """
    helper = Helper(make_second)
    try:
        first = make_first()
    except BaseException:
        helper.close()
        raise
    kind = _WithForesight if isinstance(first, Foresighted) else SecondOpinion
    words = None if strange is None else StrangeWords(*strange)
    return kind(first, helper, better=better, strange=words, wait=wait)

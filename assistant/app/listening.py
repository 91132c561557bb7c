"""The three ways to listen: always, after a word of the operator's choosing, or by a pedal.

    open     every sentence of the step is heard
    called   only what follows the attention word, in one breath or after a short pause; for a
             while also the answer to a question of the assistant's
    pedal    only while a key is held down, or the next sentence after it was tapped

"Stop" is heard in every one of them, and Escape is a key. Which grammar the ear is held to says it
all: what may not be heard isn't in it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from assistant.app.turn import NO_COMMAND
from assistant.phrases.held import called, called_or_not, only
from assistant.spoken import Heard, WordAutomaton
from assistant.spoken.kept import Kept

ALWAYS = ("stop",)
"""Heard in every mode."""
ANSWER_SECONDS = 10.0
"""After its own question, and after the attention word alone, no word is wanted for so long."""
TAP_SECONDS = 0.4
"""A pedal let go sooner was tapped."""
HELD_SECONDS = 60.0
"""Nobody holds a pedal for longer: its release was lost, as with a display that went away."""
KEPT_GRAMMARS = 128
RELEASED = " released"
"""What a screen puts behind a key that is let go."""
PEDALS = (
    *(f"f{number}" for number in (2, 3, 4, 5, 6, 7, 8, 9, 10, 12)),
    "space", "enter", "page up", "page down", "home", "end", "insert", "backspace",
    *"abcdefghijklmnopqrstuvwxyz0123456789",
)  # fmt: skip
"""Keys that may be the pedal: any but those with a use that must stay, as Escape."""
PEDAL_WANT = (
    "wanted f2 to f10, f12, space, enter, page up, page down, home, end, insert, backspace, "
    "a letter or a figure"
)


class Mode(StrEnum):
    """When the ear listens."""

    OPEN = "open"
    CALLED = "called"
    PEDAL = "pedal"


@dataclass
class Listening:
    """Which way to listen, and whether it may be heard now. Used from the main thread.

    All times are the clock's monotonic seconds.
    """

    mode: Mode = Mode.OPEN
    attention: str = ""
    pedal: str = ""

    def __post_init__(self) -> None:
        self.attention = " ".join(self.attention.lower().split())
        if self.mode is Mode.CALLED and not self.attention:
            raise ValueError("called by no word")
        self._awake_until = 0.0
        self._pressed = 0.0
        """When the pedal was pressed; 0 while it is up."""
        self._asked_until = 0.0
        self._made: Kept[tuple[str, bool], WordAutomaton] = Kept(KEPT_GRAMMARS)

    # -- when ---------------------------------------------------------------------------------

    def awake(self, now: float) -> bool:
        """Whether every sentence of the step is heard now, without a word or the pedal."""
        if self.mode is Mode.OPEN:
            return True
        held = bool(self._pressed) and now - self._pressed < HELD_SECONDS
        return held or now < max(self._awake_until, self._asked_until)

    def asks(self, now: float) -> None:
        """The assistant asks something, or has just asked: the answer needs no word.

        By the pedal it does: who answers has a foot on it.
        """
        if self.mode is Mode.CALLED:
            self._asked_until = now + ANSWER_SECONDS

    def answered(self) -> None:
        """No question is open any more."""
        self._asked_until = 0.0

    def key(self, key: str, now: float) -> bool:
        """A key went down, or up (`f9 released`); whether it was the pedal."""
        if self.mode is not Mode.PEDAL or key.removesuffix(RELEASED) != self.pedal:
            return False
        if not key.endswith(RELEASED):
            self._pressed = now
            self._awake_until = 0.0
        elif self._pressed:
            tapped = now - self._pressed < TAP_SECONDS
            self._pressed = 0.0
            self._awake_until = now + ANSWER_SECONDS if tapped else 0.0
        return True

    # -- what ---------------------------------------------------------------------------------

    def held(self, grammar: WordAutomaton, now: float) -> WordAutomaton:
        """What the ear is held to now, of the sentences of `grammar`."""
        return self._of(grammar, self.awake(now))

    def ahead(self, grammar: WordAutomaton) -> tuple[WordAutomaton, ...]:
        """All that it may be held to by and by, the likeliest first."""
        made = (self._of(grammar, False), self._of(grammar, True))
        return made if made[0].id != made[1].id else made[:1]

    def take(self, heard: Heard, now: float) -> Heard | None:
        """What was heard without the attention word; None where it was that word alone.

        What is heard closes what a tap or the word had opened; sound that is no command doesn't,
        nor does it wake anything.
        """
        if not heard.words or heard.confidence < NO_COMMAND:
            return heard
        if self.mode is Mode.CALLED and heard.words == self.attention:
            self._awake_until = now + ANSWER_SECONDS
            return None
        self._awake_until = 0.0
        if self.mode is not Mode.CALLED:
            return heard
        opinion = heard.opinion
        if opinion is not None:
            opinion = replace(opinion, words=self._bare(opinion.words))
        others = tuple((self._bare(words), sure) for words, sure in heard.others)
        return replace(
            heard,
            words=self._bare(heard.words),
            others=tuple(other for other in others if other[0]),
            opinion=opinion,
        )

    def waits_for(self, now: float) -> str:
        """For the screen: what has to come first; '' while it simply listens."""
        if self.awake(now):
            return ""
        if self.mode is Mode.CALLED:
            return f'say "{self.attention}" first'
        return f"hold or tap the pedal ({self.pedal})"

    def _of(self, grammar: WordAutomaton, awake: bool) -> WordAutomaton:
        if self.mode is Mode.OPEN or (self.mode is Mode.PEDAL and awake):
            return grammar
        return self._made.of((grammar.id, awake), lambda: self._make(grammar, awake))

    def _make(self, grammar: WordAutomaton, awake: bool) -> WordAutomaton:
        if self.mode is Mode.PEDAL:
            return only(grammar, ALWAYS)
        if awake:
            return called_or_not(grammar, self.attention.split())
        return called(grammar, self.attention.split(), ALWAYS)

    def _bare(self, words: str) -> str:
        if words == self.attention:
            return ""
        return words.removeprefix(f"{self.attention} ")

"""An attention word that the second ear doesn't know: it is told of it by its word for the unknown.

A small model knows the words of the phrase book alone. With its unknown word in the place of the
attention word it still hears the rest of the sentence, and it is the rest that it is asked about.
"""

from __future__ import annotations

from assistant.spoken import WordAutomaton
from assistant.spoken.kept import Kept

KEPT_GRAMMARS = 128


class StrangeWords:
    """Puts `stand_in` for each word of `call`, and back. No sentence may have those elsewhere."""

    def __init__(self, call: str, stand_in: str) -> None:
        self._call = call
        self._words = frozenset(call.split())
        self._stand_in = stand_in
        self._before = " ".join(stand_in for _ in call.split())
        self._made: Kept[str, WordAutomaton] = Kept(KEPT_GRAMMARS)

    def grammar(self, grammar: WordAutomaton) -> WordAutomaton:
        """`grammar` in words that the second ear knows."""
        if not self._words & grammar.vocabulary:
            return grammar
        return self._made.of(grammar.id, lambda: self._make(grammar))

    def _make(self, grammar: WordAutomaton) -> WordAutomaton:
        arcs = tuple(
            {self._stand_in if word in self._words else word: after
             for word, after in following.items()}
            for following in grammar.arcs
        )  # fmt: skip
        return WordAutomaton(f"{grammar.id}, strange", arcs, grammar.finals)

    def words(self, words: str) -> str:
        """What was heard, with the attention word where the stand-in was."""
        if words == self._before or words.startswith(f"{self._before} "):
            return self._call + words[len(self._before) :]
        return words

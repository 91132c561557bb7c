"""From the phrases allowed now to the automaton that an ear is held to."""

from __future__ import annotations

from collections.abc import Sequence
from weakref import WeakKeyDictionary

from assistant.phrases.acyclic import StateStore
from assistant.phrases.book import PhraseBook, shape
from assistant.spoken import Expected, WordAutomaton

_Grammars = dict[tuple[object, ...], WordAutomaton]
_store = StateStore()
_grammars: WeakKeyDictionary[PhraseBook, _Grammars] = WeakKeyDictionary()


def compile_grammar(book: PhraseBook, allowed: Sequence[Expected]) -> WordAutomaton:
    """The automaton of every sentence that `allowed` admits, minimal and deterministic.

    The first of `allowed` is what the step asks for: it alone may be answered by a bare size.
    Sizes may be said in every form and of any magnitude, whatever the slot's band: a size that is
    out of its band must be heard as what it is and asked back, not as another one inside it.

    Kept by content: steps that admit the same share one automaton. Not safe to share by threads.
    """
    known = _grammars.setdefault(book, {})
    key = tuple(shape(expected) for expected in allowed)
    grammar = known.get(key)
    if grammar is None:
        start = _store.union(
            _store.build(book.bound(expected, asked=place == 0), _store.end)
            for place, expected in enumerate(allowed)
        )
        grammar = known[key] = _store.automaton(start)
    return grammar

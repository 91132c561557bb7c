"""The phrase book: what may be said, read from a TOML file, and what of it may be said now."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from assistant.errors import BadFile
from assistant.phrases.book_file import read_book_file
from assistant.phrases.designations import said_as_written
from assistant.phrases.entries import Phrases, SlotValues, Template
from assistant.phrases.expression import Blank, Choice, Meaning, Node, Rest, Sentence, bind
from assistant.phrases.numbers import FREE, number_phrase
from assistant.shipped import shipped
from assistant.spoken import Expected, Slot, SlotKind

FREE_NUMBER = (Expected("number", (Slot("number", SlotKind.COUNT, FREE),)),)
"""Any number alone: what `hear --numbers` listens for."""

_Key = tuple[object, ...]


class PhraseBook:
    """All phrases of one file; compared by identity. Not safe to share between threads."""

    def __init__(
        self, title: str, intents: Mapping[str, Phrases], slots: Mapping[str, SlotValues]
    ) -> None:
        self.title = title
        self.intents = intents
        self.slots = slots
        self._bound: dict[_Key, Node] = {}
        self._by_word: dict[str, list[tuple[str, Node]]] = {}

    def expected(self, names: Iterable[str] | None = None) -> tuple[Expected, ...]:
        """Every intent (or those named), with its slots as the book has them.

        For listening to a whole book, and for telling a phrase that is not allowed now from
        words that are no phrase.
        """
        chosen = self.intents if names is None else names
        return tuple(Expected(name, self.intents[name].slots) for name in chosen)

    def bound(self, expected: Expected, asked: bool) -> Node:
        """The tree of all that may be said for `expected`; its values are (slot, value) pairs.

        `asked`: whether it is what the step asks for, so that a size alone will do.
        """
        key = (asked, *shape(expected))
        node = self._bound.get(key)
        if node is None:
            node = self._bound[key] = Choice(
                tuple(node for _, node in self.templates(expected, asked))
            )
        return node

    def anywhere(self, word: str) -> Sequence[tuple[str, Node]]:
        """Intent and tree of all that begins with `word`, at whatever step it may be said."""
        if not self._by_word:
            for expected in self.expected():
                node = self.bound(expected, asked=True)
                for first in node.first:
                    self._by_word.setdefault(first, []).append((expected.intent, node))
        return self._by_word.get(word, ())

    def templates(self, expected: Expected, asked: bool) -> list[tuple[Template, Node]]:
        """The templates that `bound` is made of, each with its slots filled."""
        phrases = self.intents.get(expected.intent)
        slots = {slot.name: slot for slot in expected.slots}

        def fill(blank: Blank) -> Node | None:
            slot = slots.get(blank.slot)
            if slot is None:
                known = self.slots[blank.values].slot
                # typed text has no unit and no band: it needs no word from the step
                slot = Slot(blank.slot, known.kind) if known.kind is SlotKind.TEXT else None
            return None if slot is None else self._slot(slot, blank.values)

        found: list[tuple[Template, Node]] = []
        for template in phrases.templates if phrases else ():
            if asked or not template.bare:
                node = bind(template.node, fill)
                if node is not None:
                    found.append((template, node))
        return found

    def _slot(self, slot: Slot, values: str) -> Node:
        name = slot.name
        if slot.kind is SlotKind.CHOICE:
            known = self.slots[values].forms if values in self.slots else {}
            return Choice(
                tuple(
                    Meaning(known.get(choice) or said_as_written(choice), _pair(name, choice))
                    for choice in slot.choices or known
                )
            )
        node = Rest() if slot.kind is SlotKind.TEXT else number_phrase(slot.kind, slot.unit)
        return Meaning(node, lambda value: (name, value))


def shape(expected: Expected) -> _Key:
    """What of `expected` decides the words that may be said; bands and floors don't."""
    return (
        expected.intent,
        *((slot.name, slot.kind, slot.unit, slot.choices) for slot in expected.slots),
    )


def load_book(path: Path | str | None = None) -> PhraseBook:
    """The phrase book at `path`, or the project's own.

    Raises `BadFile` that names file, key, value and what would be right.
    """
    return PhraseBook(*read_book_file(_own_book() if path is None else Path(path)))


def _own_book() -> Path:
    """The project's own phrase book."""
    path = shipped("configs") / "phrases.toml"
    if not path.is_file():
        raise BadFile(path, "file", "missing", "install Wheelcall again, or name a phrase book")
    return path


def _pair(name: str, value: str) -> Callable[..., tuple[str, str]]:
    return lambda: (name, value)


def _reads(node: Node, words: Sentence) -> bool:
    return any(end == len(words) for end, _ in node.read(words, 0))

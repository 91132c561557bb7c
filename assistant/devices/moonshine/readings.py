"""How a string of pieces can be read as words of a closed grammar, piece by piece."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.devices.moonshine.spellings import Mode, Words
from assistant.devices.moonshine.tokenizer import Tokenizer
from assistant.devices.moonshine.tries import Node, Tries

MAX_READINGS = 12
"""Ways to read one string of pieces that are kept; one or two are usual."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read the pieces so far: whole words, and a place inside the next."""

    words: Words
    state: int
    """The grammar's state after `words`."""
    mode: Mode
    node: Node | None
    """The place inside the next word, or None between words."""

    @property
    def between_words(self) -> bool:
        """Whether no word is begun."""
        return self.node is None

    @property
    def after_mark(self) -> bool:
        """Whether a comma or full stop came last."""
        return self.mode in (Mode.COMMA, Mode.STOP)


START = Reading((), 0, Mode.START, None)


class Reader:
    """Follows readings through the tries of one grammar.

    A comma or a full stop may stand after any word: the model writes the pauses that it hears.
    """

    def __init__(self, tries: Tries, tokenizer: Tokenizer) -> None:
        self._tries = tries
        self._finals = tries.grammar.finals
        self._marks = ((tokenizer.id(","), Mode.COMMA), (tokenizer.id("."), Mode.STOP))

    def follow(self, readings: list[Reading]) -> dict[int, list[Reading]]:
        """Every piece that may come next, with the readings that it leads to."""
        nexts: dict[int, list[Reading]] = {}
        for reading in readings:
            node = reading.node
            if node is None:
                node = self._tries.root(reading.state, reading.mode)
                if reading.words and not reading.after_mark:
                    for piece, mode in self._marks:
                        nexts.setdefault(piece, []).append(
                            Reading(reading.words, reading.state, mode, None)
                        )
            for piece, child in node.children.items():
                ways = nexts.setdefault(piece, [])
                if child.children:
                    ways.append(Reading(reading.words, reading.state, reading.mode, child))
                ways += [
                    Reading(reading.words + arrival.words, arrival.state, arrival.mode, None)
                    for arrival in child.arrivals
                ]
        return {piece: ways[:MAX_READINGS] for piece, ways in nexts.items()}

    def sentences(self, readings: list[Reading]) -> list[Reading]:
        """Those of `readings` that are whole sentences."""
        return [
            reading
            for reading in readings
            if reading.between_words and reading.words and reading.state in self._finals
        ]

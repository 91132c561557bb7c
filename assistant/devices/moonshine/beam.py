"""Beam search over the sentences of a closed grammar.

A hypothesis is a string of pieces together with every way to read it as words of the grammar:
the figures 120 may be "one twenty" or "one two oh". All hypotheses of a step go through the
decoder as one batch. The score of a sentence sums over its spellings and punctuation.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from assistant.devices.moonshine.model import Encoded, Floats, Model
from assistant.devices.moonshine.spellings import Mode, Words
from assistant.devices.moonshine.tokenizer import BEGIN, END, Tokenizer
from assistant.devices.moonshine.tries import Node, Tries

MAX_READINGS = 12
"""Ways to read one string of pieces that are kept; figures with many zeros have more."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """A whole sentence of the grammar."""

    words: Words
    score: float
    """Log probability in nats, summed over its spellings."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to read a hypothesis: its whole words, and a place inside the next."""

    words: Words
    state: int
    """The grammar's state after `words`."""
    mode: Mode
    node: Node | None
    """The place inside the next word, or None between words."""


@dataclass(slots=True)
class Hypothesis:
    """One row of the batch."""

    score: float
    parent: int
    piece: int
    readings: list[Reading]


class Beam:
    """The search, for one model and any grammar."""

    def __init__(self, model: Model, tokenizer: Tokenizer, width: int = 8) -> None:
        self._model = model
        self._width = width
        self._comma = tokenizer.id(",")
        self._stop = tokenizer.id(".")
        self._ends = (tokenizer.id("?"), tokenizer.id("!"))

    def search(
        self, encoded: Encoded, tries: Tries, margin: float = 8.0, limit: int = 64
    ) -> list[Sentence]:
        """Sentences of the grammar, the likeliest first; none where no path led to an end.

        Goes on until every open hypothesis is `margin` nats below the best sentence, so that the
        runner-up is known too, or for `limit` pieces.
        """
        logs, cache = self._model.begin(encoded, [[BEGIN]])
        rows = logs[:, -1]
        beam = [Hypothesis(0.0, 0, BEGIN, [Reading((), 0, Mode.START, None)])]
        found: dict[Words, float] = {}
        best = -np.inf
        for _ in range(limit):
            for row, hypothesis in zip(rows, beam, strict=True):
                for words, score in self._endings(row, hypothesis, tries):
                    found[words] = float(np.logaddexp(found.get(words, -np.inf), score))
                    best = max(best, found[words])
            beam = self._grow(rows, beam, tries)
            beam = [hypothesis for hypothesis in beam if hypothesis.score > best - margin]
            if not beam:
                break
            rows = self._model.step(
                cache, [each.parent for each in beam], [each.piece for each in beam]
            )
        sentences = [Sentence(words, score) for words, score in found.items()]
        return sorted(sentences, key=lambda sentence: -sentence.score)

    def _endings(
        self, row: Floats, hypothesis: Hypothesis, tries: Tries
    ) -> Iterator[tuple[Words, float]]:
        """Sentences that may end here. After a full stop or comma only the end itself does: a
        comma alone would cut digit strings short."""
        finals = tries.grammar.finals
        ends: dict[bool, float] = {}
        for reading in hypothesis.readings:
            if reading.node is not None or not reading.words or reading.state not in finals:
                continue
            marked = reading.mode in (Mode.COMMA, Mode.STOP)
            if marked not in ends:
                pieces = (END,) if marked else (END, *self._ends)
                ends[marked] = float(np.logaddexp.reduce(row[list(pieces)]))
            yield reading.words, hypothesis.score + ends[marked]

    def _grow(self, rows: Floats, beam: list[Hypothesis], tries: Tries) -> list[Hypothesis]:
        """The best hypotheses that are one piece longer."""
        pieces, scores, parents = [], [], []
        following: list[dict[int, list[Reading]]] = []
        for number, hypothesis in enumerate(beam):
            nexts = self._follow(hypothesis, tries)
            following.append(nexts)
            ids = np.fromiter(nexts, np.int64, len(nexts))
            pieces.append(ids)
            scores.append(rows[number, ids] + hypothesis.score)
            parents.append(np.full(len(nexts), number))
        all_scores = np.concatenate(scores)
        order = np.argsort(-all_scores)[: self._width * 3]
        all_pieces, all_parents = np.concatenate(pieces), np.concatenate(parents)
        grown: list[Hypothesis] = []
        seen: dict[tuple[object, ...], Hypothesis] = {}
        for at in order:
            parent, piece = int(all_parents[at]), int(all_pieces[at])
            readings = following[parent][piece]
            key = tuple((each.words, id(each.node), each.mode) for each in readings)
            twin = seen.get(key)
            if twin is not None:
                # The same words with other commas: one row of the batch is enough for both.
                twin.score = float(np.logaddexp(twin.score, all_scores[at]))
                continue
            hypothesis = Hypothesis(float(all_scores[at]), parent, piece, readings)
            seen[key] = hypothesis
            grown.append(hypothesis)
            if len(grown) == self._width:
                break
        return grown

    def _follow(self, hypothesis: Hypothesis, tries: Tries) -> dict[int, list[Reading]]:
        """Every piece that may come next, with the readings that it leads to."""
        nexts: dict[int, list[Reading]] = {}
        for reading in hypothesis.readings:
            if reading.node is None:
                node = tries.root(reading.state, reading.mode)
                if reading.words and reading.mode not in (Mode.COMMA, Mode.STOP):
                    for piece, mode in ((self._comma, Mode.COMMA), (self._stop, Mode.STOP)):
                        nexts.setdefault(piece, []).append(
                            Reading(reading.words, reading.state, mode, None)
                        )
            else:
                node = reading.node
            for piece, child in node.children.items():
                readings = nexts.setdefault(piece, [])
                if len(readings) >= MAX_READINGS:
                    continue
                if child.children:
                    readings.append(Reading(reading.words, reading.state, reading.mode, child))
                readings += [
                    Reading(reading.words + arrival.words, arrival.state, arrival.mode, None)
                    for arrival in child.arrivals
                ]
        return nexts

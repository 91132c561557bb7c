"""Beam search over the sentences of a closed grammar.

A hypothesis is a string of pieces together with every way to read it as words of the grammar. All
hypotheses of a step go through the decoder as one batch. The score of a sentence sums over its
spellings and punctuation.

In noise the decoder's own language habit takes over: it has heard "yeah" more often than "bare".
So each step's log probability is lessened by a share of what the same piece gets with silence for
sound (internal language model estimation, after Meng et al., "Internal language model estimation
for domain-adaptive end-to-end speech recognition", 2021).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from assistant.devices.moonshine.free import FreeText
from assistant.devices.moonshine.model import Cache, Encoded, Floats, Model
from assistant.devices.moonshine.readings import START, Reader, Reading
from assistant.devices.moonshine.spellings import Words
from assistant.devices.moonshine.tokenizer import BEGIN, END, Tokenizer
from assistant.devices.moonshine.tries import Tries
from assistant.ports import RATE

HABIT_SHARE = 0.2
"""Tuned on AN4's `train` speakers and synthetic phrases, quiet and in noise: at 0.2 phrases of the
book in noise of 10 dB went from 168 to 184 of 240, while strings of digits stayed as they were;
from 0.3 on digits suffered."""
LEAST_HABIT = -12.0
"""A piece that silence makes less likely than this tells nothing more."""
SILENCE_SECONDS = 1.0
MARGIN = 8.0
"""Nats. A runner-up further off than this takes no certainty away."""
HOPELESS = 30.0
"""Nats by which the free text leads all hypotheses where the search is given up: of 690 sentences
that were heard right none was forced by more than 14."""
LIMIT = 64
"""Pieces. The longest sentence that fits into nine seconds has fewer."""


@dataclass(frozen=True, slots=True)
class Sentence:
    """A whole sentence of the grammar. Scores in nats, summed over its spellings."""

    words: Words
    score: float
    """Log probability less the share of habit: for comparing sentences."""
    plain: float
    """Log probability as the model gives it: for comparing with the free text."""


@dataclass(slots=True)
class Hypothesis:
    """One row of the batch."""

    score: float
    plain: float
    parent: int
    piece: int
    readings: list[Reading]


class Beam:
    """The search, for one model and any grammar. Used from one thread."""

    def __init__(
        self,
        model: Model,
        tokenizer: Tokenizer,
        width: int = 8,
        habit_share: float = HABIT_SHARE,
    ) -> None:
        self._model = model
        self._tokenizer = tokenizer
        self._width = width
        self._share = habit_share
        marks = [tokenizer.id(mark) for mark in ".,?!"]
        self._stop, self._comma, *others = marks
        self._ends = (END, *others)
        self._unweighed = [END, *marks]
        silence = model.encode(np.zeros(round(SILENCE_SECONDS * RATE), np.float32))
        logs, self._silent = model.begin(silence, [[BEGIN]])
        self._silent_row, self._silent_own = logs[:, -1], self._silent.own

    def search(
        self, encoded: Encoded, tries: Tries, margin: float = MARGIN, limit: int = LIMIT
    ) -> tuple[list[Sentence], FreeText]:
        """Sentences of the grammar, the likeliest first (none where no path led to an end), and
        what the model writes unheld; both go through the decoder together.

        Goes on until every open hypothesis is `margin` nats below the best sentence, so that the
        runner-up is known too, or for `limit` pieces.
        """
        reader = Reader(tries, self._tokenizer)
        logs, cache = self._model.begin(encoded, [[BEGIN]])
        silent = self._begin_silent()
        free = FreeText.of(encoded)
        free.take(logs[0, -1])
        free_row = 0
        plain = logs[:, -1]
        scores = plain - self._habit(self._silent_row)
        beam = [Hypothesis(0.0, 0.0, 0, BEGIN, [START])]
        found: dict[Words, Sentence] = {}
        best = -np.inf
        for _ in range(limit):
            for row, hypothesis in zip(scores, beam, strict=True):
                for sentence in self._endings(row, hypothesis, reader):
                    found[sentence.words] = _sum(found.get(sentence.words), sentence)
                    best = max(best, found[sentence.words].score)
            beam = [
                hypothesis
                for hypothesis in self._grow(scores, plain, beam, reader)
                if hypothesis.score > best - margin and hypothesis.plain > free.score - HOPELESS
            ]
            if not beam and not found:
                break
            if not beam and not free.is_open:
                break
            parents, pieces = [each.parent for each in beam], [each.piece for each in beam]
            along = free.is_open
            rows = self._model.step(
                cache, [*parents, *[free_row] * along], [*pieces, *[free.last] * along]
            )
            if along:
                free_row = len(beam)
                free.take(rows[free_row])
            if beam:
                plain = rows[: len(beam)]
                scores = plain - self._habit(self._model.step(silent, parents, pieces))
            else:
                scores = plain = rows[:0]
        return sorted(found.values(), key=lambda sentence: -sentence.score), free

    def _begin_silent(self) -> Cache:
        self._silent.own = self._silent_own
        return self._silent

    def _habit(self, silent: Floats) -> Floats:
        habit = self._share * np.maximum(silent, LEAST_HABIT)
        # Where to end and where to pause is heard, not a habit; and silence would end at once.
        habit[:, self._unweighed] = 0
        return np.asarray(habit, np.float32)

    def _endings(self, row: Floats, hypothesis: Hypothesis, reader: Reader) -> Iterator[Sentence]:
        """Sentences that may end here. After a full stop or comma only the end itself does: a
        comma alone would cut digit strings short."""
        for reading in reader.sentences(hypothesis.readings):
            pieces = [END] if reading.after_mark else list(self._ends)
            end = float(np.logaddexp.reduce(row[pieces]))
            yield Sentence(reading.words, hypothesis.score + end, hypothesis.plain + end)

    def _grow(
        self, scores: Floats, plain: Floats, beam: list[Hypothesis], reader: Reader
    ) -> list[Hypothesis]:
        """The best hypotheses that are one piece longer."""
        following = [reader.follow(hypothesis.readings) for hypothesis in beam]
        parents = np.repeat(np.arange(len(beam)), [len(nexts) for nexts in following])
        pieces = np.fromiter((piece for nexts in following for piece in nexts), np.int64)
        before = np.array([hypothesis.score for hypothesis in beam])
        totals = scores[parents, pieces] + before[parents]
        grown: list[Hypothesis] = []
        seen: dict[tuple[object, ...], Hypothesis] = {}
        for at in np.argsort(-totals)[: 3 * self._width]:
            parent, piece, score = int(parents[at]), int(pieces[at]), float(totals[at])
            readings = following[parent][piece]
            key = tuple((each.words, id(each.node), each.mode) for each in readings)
            twin = seen.get(key)
            if twin is not None:
                # The same words with other commas: one row of the batch is enough for both.
                more = float(np.logaddexp(twin.score, score)) - twin.score
                twin.score += more
                twin.plain += more
                continue
            hypothesis = Hypothesis(
                score, beam[parent].plain + float(plain[parent, piece]), parent, piece, readings
            )
            seen[key] = hypothesis
            grown.append(hypothesis)
            if len(grown) == self._width:
                break
        return grown


def _sum(one: Sentence | None, other: Sentence) -> Sentence:
    """Both spellings of one sentence together."""
    if one is None:
        return other
    return Sentence(
        one.words,
        float(np.logaddexp(one.score, other.score)),
        float(np.logaddexp(one.plain, other.plain)),
    )

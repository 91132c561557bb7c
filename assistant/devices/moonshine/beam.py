"""Beam search over the sentences of a closed grammar.

A hypothesis is a string of pieces together with every way to read it as words of the grammar. All
hypotheses of a step go through the decoder as one batch, against every version of the sound, and
score by the mean of them. The score of a sentence sums over its spellings and punctuation.

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

HABIT_SHARE = 0.35
"""Tuned on the tuning voices' number sentences (90) and AN4's `train` speakers (30), with two
versions of the sound: at 0.2, 0.3, 0.4 and 0.5 right were of the sentences at 10 dB 75, 77, 78,
79, at 5 dB 65, 68, 71, 68, from afar in noise 55, 59, 61, 63; of AN4 at 5 dB 28, 28, 28, 26, from
afar 21, 23, 21, 20. In quiet it made no difference of more than one."""
LEAST_HABIT = -12.0
"""A piece that silence makes less likely than this tells nothing more."""
SILENCE_SECONDS = 1.0
MARGIN = 8.0
"""Nats. A runner-up further off than this takes no certainty away."""
BEHIND = 8.0
"""Nats behind the best of a step where a hypothesis is let go. It spared a twelfth of the work, and
of 120 sentences the same were heard."""
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
    plain: Floats
    """Log probability as the model gives it, of each version of the sound."""

    def plus(self, other: Sentence) -> Sentence:
        """Both together, by the words of this one."""
        return Sentence(
            self.words,
            float(np.logaddexp(self.score, other.score)),
            np.logaddexp(self.plain, other.plain),
        )


@dataclass(slots=True)
class Hypothesis:
    """One row of the batch."""

    score: float
    plain: Floats
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
        self._ends = (END, *marks[2:])
        self._unweighed = [END, *marks]
        silence = model.encode(np.zeros(round(SILENCE_SECONDS * RATE), np.float32))
        logs, self._silent = model.begin(silence, [[BEGIN]])
        self._silent_row, self._silent_own = logs[:, -1], self._silent.own

    def search(
        self, encoded: Encoded, tries: Tries, margin: float = MARGIN, limit: int = LIMIT
    ) -> tuple[list[Sentence], list[FreeText]]:
        """Sentences of the grammar, the likeliest first (none where no path led to an end), and
        what the model writes unheld of each version; all go through the decoder together.

        Goes on until every open hypothesis is `margin` nats below the best sentence, so that the
        runner-up is known too, or for `limit` pieces.
        """
        reader = Reader(tries, self._tokenizer)
        versions = range(encoded.versions)
        logs, cache = self._model.begin(encoded, [[BEGIN]])
        silent = self._begin_silent()
        free = [FreeText.of(encoded) for _ in versions]
        for text, row in zip(free, logs[:, -1], strict=True):
            text.take(row)
        along = 0
        """Groups of rows that stand before the hypotheses: one as long as a free text is open."""
        plain = logs[None, :, -1]
        scores = plain.mean(axis=1) - self._habit(self._silent_row)
        beam = [Hypothesis(0.0, np.zeros(len(free), np.float32), 0, BEGIN, [START])]
        found: dict[Words, Sentence] = {}
        best = -np.inf
        for _ in range(limit):
            for row, each, hypothesis in zip(scores, plain, beam, strict=True):
                for sentence in self._endings(row, each, hypothesis, reader):
                    known = found.get(sentence.words)
                    found[sentence.words] = known.plus(sentence) if known else sentence
                    best = max(best, found[sentence.words].score)
            unheld = float(np.mean([text.score for text in free]))
            beam = [
                hypothesis
                for hypothesis in self._grow(scores, plain, beam, reader)
                if hypothesis.score > best - margin and hypothesis.plain.mean() > unheld - HOPELESS
            ]
            is_open = any(text.is_open for text in free)
            if not beam and not (found and is_open):
                break
            parents, pieces = [each.parent for each in beam], [each.piece for each in beam]
            groups = [*[0] * is_open, *(along + parent for parent in parents)]
            ids = [text.last for text in free] * is_open
            rows = self._model.step(
                cache,
                [group * len(free) + version for group in groups for version in versions],
                [*ids, *(piece for piece in pieces for _ in versions)],
            ).reshape(len(groups), len(free), -1)
            if is_open:
                for text, row in zip(free, rows[0], strict=True):
                    if text.is_open:
                        text.take(row)
            along = int(is_open)
            plain = rows[along:]
            scores = plain.mean(axis=1)
            if beam:
                scores -= self._habit(self._model.step(silent, parents, pieces))
        return sorted(found.values(), key=lambda sentence: -sentence.score), free

    def _begin_silent(self) -> Cache:
        self._silent.own = self._silent_own
        return self._silent

    def _habit(self, silent: Floats) -> Floats:
        habit = self._share * np.maximum(silent, LEAST_HABIT)
        # Where to end and where to pause is heard, not a habit; and silence would end at once.
        habit[:, self._unweighed] = 0
        return np.asarray(habit, np.float32)

    def _endings(
        self, row: Floats, plain: Floats, hypothesis: Hypothesis, reader: Reader
    ) -> Iterator[Sentence]:
        """Sentences that may end here. After a full stop or comma only the end itself does: a
        comma alone would cut digit strings short."""
        for reading in reader.sentences(hypothesis.readings):
            pieces = [END] if reading.after_mark else list(self._ends)
            end = float(np.logaddexp.reduce(row[pieces]))
            ends = np.logaddexp.reduce(plain[:, pieces], axis=1)
            yield Sentence(reading.words, hypothesis.score + end, hypothesis.plain + ends)

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
            if grown and score < grown[0].score - BEHIND:
                break
            readings = following[parent][piece]
            key = tuple((each.words, id(each.node), each.mode) for each in readings)
            each = beam[parent].plain + plain[parent, :, piece]
            twin = seen.get(key)
            if twin is not None:
                # The same words with other commas: one row of the batch is enough for both.
                twin.score = float(np.logaddexp(twin.score, score))
                twin.plain = np.logaddexp(twin.plain, each)
                continue
            seen[key] = Hypothesis(score, each, parent, piece, readings)
            grown.append(seen[key])
            if len(grown) == self._width:
                break
        return grown

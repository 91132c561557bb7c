"""The Vosk ear: any model folder, held to the grammar of the step as far as the model allows."""

from __future__ import annotations

import math
import threading
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from assistant.devices.vosk.engine import Engine, Reading, Utterance
from assistant.devices.vosk.folder import Hold, ModelFolder, read_model_folder
from assistant.devices.vosk.graph import grammar_folder, missing_words
from assistant.devices.vosk.phrases import UNKNOWN_WORDS, phrase_list
from assistant.ports import Samples
from assistant.scratch import Scratch
from assistant.spoken import Heard, WordAutomaton
from assistant.spoken.gist import load_gist
from assistant.spoken.kept import Kept

NAME = "vosk"
MODEL_MEGABYTES = 150
"""Strictly held models are loaded once a grammar: so much of them is kept loaded, in file size."""
KEPT_GRAMMARS = 64
ALTERNATIVES = {Hold.STRICT: 10, Hold.PHRASES: 30, Hold.AFTERWARDS: 60}
"""Readings that are searched for a phrase of the grammar, where the best one is none."""
# The engine is too sure of itself. With the third power of its least sure word as confidence, or of
# the share of all readings that say the same, a floor of 0.5 let through 1,501 of 1,567 sentences
# of the right meaning and 18 of 33 others (the shipped model, five synthetic voices, quiet and in
# noise down to 5 dB; scripts/vosk_model).
CERTAIN = 0.99
"""From here on no other reading is asked for."""
DOUBT = 0.7
"""Most that a reading is trusted which was not the engine's first choice."""
LEAST = 0.05
"""A reading that is less likely than this among the others is none."""
OTHERS = 3


class VoskEar:
    """A `Recogniser`. One object belongs to one thread: the engine is not safe to share."""

    name = NAME

    def __init__(self, folder: Path | ModelFolder, cache: Path | None = None) -> None:
        """`cache` takes the step grammars of strictly held models; a temporary folder if None.

        Raises `BadFile` where the folder is no model, `DeviceMissing` where it can't be loaded.
        """
        self.model = folder if isinstance(folder, ModelFolder) else read_model_folder(folder)
        self.notices = (self.model.notice,) if self.model.notice else ()
        """What the operator must be told of this ear."""
        self._temporary = Scratch("vosk")
        self._cache = cache or self._temporary.path
        self._engine = Engine(self.model.path)
        self._unknown = next(filter(self._engine.knows, UNKNOWN_WORDS), None)
        self._strict: Kept[str, Engine] = Kept(
            max(1, round(MODEL_MEGABYTES / self.model.megabytes))
        )
        self._phrases: Kept[str, list[str]] = Kept(KEPT_GRAMMARS)
        self._thread: int | None = None
        self._grammar: WordAutomaton | None = None
        self._utterance: Utterance | None = None
        self._sound: list[Samples] = []
        self._partial = ""
        self._peeked: Heard | None = None
        """What was heard of the sound so far, until more comes."""

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Make the grammars' files or lists; the words of theirs that the model lacks, sorted."""
        self._own_thread()
        deaf: set[str] = set()
        for grammar in grammars:
            if self.model.hold is Hold.STRICT:
                deaf.update(missing_words(self.model.path, grammar))
                grammar_folder(self.model.path, grammar, self._cache)
            else:
                deaf.update(w for w in grammar.vocabulary if not self._engine.knows(w))
                self._list(grammar)
        return tuple(sorted(deaf))

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._own_thread()
        self._grammar, self._sound, self._partial, self._peeked = grammar, [], "", None
        self._utterance = self._listen(grammar, 0)

    def feed(self, samples: Samples) -> str:
        """More of the utterance; the words so far, as far as a phrase can begin with them."""
        self._own_thread()
        if self._grammar is None:
            raise RuntimeError("feed before begin")
        self._peeked = None
        if self._utterance is None:  # a look at it has ended it, so all of it is read again
            self._utterance = self._listen(self._grammar, 0)
            self._utterance.feed(self._whole())
        self._utterance.feed(samples)
        self._sound.append(samples)
        words = self._utterance.so_far().split()
        while words and self._grammar.walk(words) is None:
            words.pop()
        self._partial = " ".join(words) or self._partial
        return self._partial

    def peek(self) -> Heard:
        """What `finish` would report if nothing more came: the network waits 0.4 s for more before
        it tells the last word, and doesn't have to once it knows that none is coming."""
        self._own_thread()
        if self._grammar is None or (self._utterance is None and self._peeked is None):
            raise RuntimeError("peek or finish before begin")
        if self._peeked is None:
            assert self._utterance is not None
            (first,) = self._utterance.end()
            self._utterance = None
            self._peeked = self._judged(self._grammar, first)
        return self._peeked

    def finish(self) -> Heard:
        """The words of the utterance, or `Heard('')` for sound that is no command."""
        heard = self.peek()
        self._grammar, self._sound, self._peeked = None, [], None
        return heard

    def close(self) -> None:
        """Give back the models' memory."""
        self._utterance = None
        self._strict.clear()
        self._phrases.clear()
        self._temporary.close()

    def _judged(self, grammar: WordAutomaton, first: Reading) -> Heard:
        if not any(word != self._unknown for word in first.words):
            return Heard("", 0.0, grammar=grammar.id, engine=NAME)
        if grammar.accepts(first.words):
            words = " ".join(first.words)
            sure = min(first.confidences, default=0.0)
            if sure < CERTAIN:
                sure = max(sure, self._in_other_words(grammar, words))
            return Heard(words, sure**3, grammar=grammar.id, engine=NAME)
        return self._second_look(grammar, first)

    def _in_other_words(self, grammar: WordAutomaton, words: str) -> float:
        """Share of all readings that differ in no word of weight: between "i'm set" and "i am set"
        the engine is of two minds, and there is nothing to be in doubt about. Between "four two"
        and "forty two" there is: one figure may be lost in both."""
        gist = load_gist()
        meant = gist.as_said(words)
        shares = self._shares(grammar)
        return sum(share for text, share in shares.items() if gist.as_said(text) == meant)

    def _second_look(self, grammar: WordAutomaton, first: Reading) -> Heard:
        """The likeliest phrase of the grammar among the runners-up, trusted by its share."""
        ranked = sorted(self._shares(grammar).items(), key=lambda pair: -pair[1])
        free = " ".join(first.words)
        if not ranked or ranked[0][1] < LEAST:
            return Heard("", 0.0, grammar=grammar.id, engine=NAME, free=free)
        return Heard(
            ranked[0][0],
            DOUBT * ranked[0][1],
            grammar=grammar.id,
            engine=NAME,
            free=free,
            others=tuple((text, DOUBT * share) for text, share in ranked[1 : 1 + OTHERS]),
        )

    def _shares(self, grammar: WordAutomaton) -> dict[str, float]:
        """The phrases of the grammar among the likeliest readings, with their share of all."""
        again = self._listen(grammar, ALTERNATIVES[self.model.hold])
        again.feed(self._whole())
        readings = again.end()
        top = max(reading.score for reading in readings)
        total = sum(math.exp(reading.score - top) for reading in readings)
        shares: dict[str, float] = {}
        for reading in readings:
            if grammar.accepts(reading.words):
                text = " ".join(reading.words)
                shares[text] = shares.get(text, 0.0) + math.exp(reading.score - top) / total
        return shares

    def _whole(self) -> Samples:
        return np.concatenate([np.zeros(0, np.float32), *self._sound])

    def _listen(self, grammar: WordAutomaton, alternatives: int) -> Utterance:
        if self.model.hold is Hold.STRICT:
            return self._held(grammar).listen(None, alternatives)
        return self._engine.listen(self._list(grammar), alternatives)

    def _held(self, grammar: WordAutomaton) -> Engine:
        return self._strict.of(
            grammar.id, lambda: Engine(grammar_folder(self.model.path, grammar, self._cache))
        )

    def _list(self, grammar: WordAutomaton) -> list[str] | None:
        if self.model.hold is Hold.AFTERWARDS:
            return None
        return self._phrases.of(
            grammar.id, lambda: phrase_list(grammar, self._engine.knows, self._unknown)
        )

    def _own_thread(self) -> None:
        here = threading.get_ident()
        self._thread = self._thread or here
        if self._thread != here:
            raise RuntimeError("a Vosk ear was used from two threads")

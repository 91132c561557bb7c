"""Decides which sentences each kind of voice says, and writes that down with the lexicon."""

from __future__ import annotations

import gzip
import json
import math
import random
from collections import Counter
from importlib.resources import files
from pathlib import Path

from assistant.phrases.book import PhraseBook
from vosk_model import sentences
from vosk_model.corpus import COUNTS, read_recordings
from vosk_model.lexicon import cmudict, lexicon

EVERYDAY = ("other", "everyday")
"""Kinds of voice that say words of no phrase."""
PHRASES = sum(count for kind, count in COUNTS.items() if kind not in EVERYDAY)
WORD_CLIPS, COMMAND_CLIPS = 550, 220
"""Clips in which each word, and each fixed command, is said by all voices together. The aims are
500 and 200; the rest is for the slowest voices, which there may be no time to finish."""


def plan(book: PhraseBook, recordings: Path, work: Path, seed: int, share: float = 1.0) -> None:
    """Write `plan.json`; `share` makes all counts smaller."""
    kinds: dict[str, list[sentences.Sentence]] = {}
    dictionary = cmudict()
    gold = files("hibari") / "assets" / "lexicon_us_gold.json.gz"
    usual = json.loads(gzip.decompress(gold.read_bytes()))
    everyday = [
        word for word in sorted(usual) if word in dictionary and word.isalpha() and len(word) > 2
    ]
    for kind, full in COUNTS.items():
        count = round(full * share)
        rng = random.Random(f"{kind} {seed}")
        if kind in EVERYDAY:
            source = sentences.other_words(everyday, rng)
            kinds[kind] = [next(source) for _ in range(count)]
        else:
            kinds[kind] = said_by(book, count, rng)
    words = {word for said in kinds.values() for sentence in said for word in sentence}
    for clip in read_recordings(recordings, "train", "AN4"):
        words.update(clip.words)
    work.mkdir(parents=True, exist_ok=True)
    (work / "plan.json").write_text(json.dumps({"sentences": kinds, "lexicon": lexicon(words)}))


def said_by(book: PhraseBook, count: int, rng: random.Random) -> list[sentences.Sentence]:
    """At least `count` training sentences for one kind of voice.

    Its share of `WORD_CLIPS` and `COMMAND_CLIPS` first; then two fifths fixed commands in all their
    wordings, an eighth what tells teens from tens, and other sizes.
    """
    share = count / PHRASES
    said = [
        rng.choice(wordings)
        for wordings in sentences.fixed(book).values()
        for _ in range(math.ceil(COMMAND_CLIPS * share))
    ]
    heard = Counter(word for sentence in said for word in set(sentence))
    said += sentences.of_each_word(book, rng, math.ceil(WORD_CLIPS * share), heard)
    left = max(0, count - len(said))
    wordings = sentences.wordings(book)
    part = left * 2 // 5
    said += rng.sample(wordings * (part // len(wordings) + 1), part)
    close = sentences.balanced(sentences.contrasts(rng), left // 8, 0)
    more = left - part - len(close)
    said += close + sentences.balanced(sentences.drawn(book, rng), more, max(1, left // 50))
    rng.shuffle(said)
    return said

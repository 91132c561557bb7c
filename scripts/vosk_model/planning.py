"""Decides which sentences each kind of voice says, and writes that down with the lexicon."""

from __future__ import annotations

import gzip
import json
import random
from importlib.resources import files
from pathlib import Path

from assistant.phrases.book import PhraseBook
from vosk_model import sentences
from vosk_model.corpus import COUNTS, read_recordings
from vosk_model.lexicon import cmudict, lexicon


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
        if kind in ("other", "everyday"):
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
    """`count` training sentences for one kind of voice.

    Two fifths are fixed commands, an eighth tells teens from tens, the rest are other sizes.
    """
    fixed = sentences.fixed(book)
    part = count * 2 // 5
    commands = rng.sample(fixed * (part // len(fixed) + 1), part)
    close = sentences.balanced(sentences.contrasts(rng), count // 8, 0)
    left = count - part - len(close)
    sizes = sentences.balanced(sentences.drawn(book, rng), left, max(1, count // 50))
    said = commands + close + sizes
    rng.shuffle(said)
    return said

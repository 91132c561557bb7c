"""Getting to know a voice: which spellings it needs, and how sure the ear may be of it.

The phrases are known, so what the model writes for them unheld shows how this voice sounds to it.
A spelling is kept only where it makes a phrase of this voice right, or clearly surer, and none
worse; and never one that could be another word of the phrase book, or a number.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from difflib import SequenceMatcher

from assistant.app.own_voice import OwnVoice
from assistant.app.prompts import Take, Verdict, grammar_of, judge
from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar, Tuning
from assistant.devices.moonshine.nearness import nearness
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.ports import Recogniser
from assistant.spoken import Heard, WordAutomaton
from assistant.spoken.odds import log_odds

SURER = 0.1
"""Gain in confidence that is worth a spelling."""
WORSE = 0.05
LONGEST = 3
"""Words on either side of a spelling."""
LEAST_LETTERS = 3
LIKE = 0.35
"""Nearness in sound, 0 to 1, that a spelling must have: "worse" is no way to write "yes"."""
SURE_ENOUGH = 0.65
"""Nine in ten of this voice's right phrases should come to that ..."""
IMPOSTOR = 0.4
"""... and nothing that was not said."""
LEAN = (-0.3, 0.7)
"""Twenty quiet phrases say little about a noisy shop: the floor moves within these bounds."""
MOST_CANDIDATES = 12
BOUND = 0.01
"""No phrase counts as surer than so much less than certain, nor as less sure."""

Sounds = Mapping[str, tuple[str, ...]]
Make = Callable[[Tuning], Recogniser]


@dataclass(frozen=True)
class Learned:
    """What came of it, phrase by phrase."""

    voice: OwnVoice
    before: tuple[Verdict, ...]
    after: tuple[Verdict, ...]


def learn(
    book: PhraseBook,
    takes: Sequence[Take],
    now: datetime,
    make: Make = lambda tuning: MoonshineEar(tuning=tuning),
) -> Learned:
    """What the ear learns of the voice in `takes`. Takes about half a minute."""
    grammar = grammar_of(book)
    first = _hear_all(make(Tuning()), takes, grammar)
    sounds = _spellings(make, takes, first, grammar)
    tuned = make(Tuning(sounds))
    heard = _hear_all(tuned, takes, grammar) if sounds else first
    right = [
        one.confidence
        for take, one in zip(takes, heard, strict=True)
        if judge(book, take.phrase, _surely(one)) is Verdict.RIGHT
    ]
    lean = _lean(right, _impostors(tuned, book, takes))
    tuned.close()
    tuning = Tuning(sounds, lean)
    before = tuple(judge(book, t.phrase, one) for t, one in zip(takes, first, strict=True))
    after = tuple(
        judge(book, take.phrase, _weighed(tuning, one))
        for take, one in zip(takes, heard, strict=True)
    )
    voice = OwnVoice(
        now, len(takes), before.count(Verdict.RIGHT), after.count(Verdict.RIGHT), lean, sounds
    )
    return Learned(voice, before, after)


# -- spellings ------------------------------------------------------------------------------------


def candidates(phrase: str, free: str, known: frozenset[str]) -> Iterator[tuple[str, str]]:
    """Words of `phrase`, and what stands for them in `free`, the text that was written unheld.

    None that is a word of the phrase book or a number, for it could be another command.
    """
    said = phrase.split()
    wrote = re.findall(r"[a-z0-9']+", free.lower())
    for kind, a, b, c, d in SequenceMatcher(None, said, wrote, autojunk=False).get_opcodes():
        if kind != "replace" or max(b - a, d - c) > LONGEST:
            continue
        text = " ".join(wrote[c:d])
        short = len(text.replace(" ", "")) < LEAST_LETTERS
        words = " ".join(said[a:b])
        if short or re.search("[0-9]", text) or known.intersection(wrote[c:d]):
            continue
        if nearness(words, text) >= LIKE:
            yield words, text


def _spellings(
    make: Make, takes: Sequence[Take], heard: Sequence[Heard], grammar: WordAutomaton
) -> Sounds:
    """Those that help, one after the other."""
    known = grammar.vocabulary
    found = dict.fromkeys(
        pair
        for take, one in zip(takes, heard, strict=True)
        for pair in candidates(take.phrase, one.free, known)
    )
    sounds: dict[str, tuple[str, ...]] = {}
    now = list(heard)
    for words, text in list(found)[:MOST_CANDIDATES]:
        more = {**sounds, words: (*sounds.get(words, ()), text)}
        concerned = [n for n, take in enumerate(takes) if f" {words} " in f" {take.phrase} "]
        ear = make(Tuning(more))
        again = dict(
            zip(concerned, _hear_all(ear, [takes[n] for n in concerned], grammar), strict=True)
        )
        ear.close()
        gains = [_sure(takes[n], again[n]) - _sure(takes[n], now[n]) for n in concerned]
        if max(gains) >= SURER and min(gains) >= -WORSE:
            sounds = more
            for n in concerned:
                now[n] = again[n]
    return sounds


def _sure(take: Take, heard: Heard) -> float:
    """How sure the ear was of what was said; below zero of something else."""
    return heard.confidence if heard.words == take.phrase else -heard.confidence


# -- how sure -------------------------------------------------------------------------------------


def _lean(right: Sequence[float], impostors: Sequence[float]) -> float:
    """What to add to the log odds, so that nearly all right phrases pass and nothing else does."""
    if not right:
        return 0.0
    tenth = sorted(right)[len(right) // 10]
    wanted = log_odds(SURE_ENOUGH) - log_odds(tenth, BOUND)
    allowed = log_odds(IMPOSTOR) - log_odds(max(impostors, default=0.0), BOUND)
    low, high = LEAN
    # A voice that is heard surely is no reason to ask it back sooner; one that is heard where it
    # said something else is.
    return max(low, min(high, max(0.0, wanted), allowed))


def _impostors(ear: Recogniser, book: PhraseBook, takes: Sequence[Take]) -> list[float]:
    """How sure the ear is of phrases of this voice that its grammar doesn't hold."""
    numbers = compile_grammar(book, [e for e in book.expected() if e.slots])
    plain = compile_grammar(book, [e for e in book.expected() if not e.slots])
    sure = []
    for take in takes:
        words = take.phrase.split()
        for grammar in (numbers, plain):
            if not grammar.accepts(words):
                sure.append(hear(ear, take.sound, grammar).confidence)
    return sure


# -- hearing --------------------------------------------------------------------------------------


def _hear_all(ear: Recogniser, takes: Sequence[Take], grammar: WordAutomaton) -> list[Heard]:
    ear.prepare([grammar])
    return [hear(ear, take.sound, grammar) for take in takes]


def _surely(heard: Heard) -> Heard:
    return Heard(heard.words, 1.0)


def _weighed(tuning: Tuning, heard: Heard) -> Heard:
    return Heard(heard.words, tuning.weigh(heard.words, heard.confidence))

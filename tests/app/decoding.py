"""Hears what the assistant said: an ear that gets only the sound of its voice."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import numpy as np

from assistant.ports import RATE, Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton

QUIET = 0.004
"""Louder than this is speech: a null card's silence is exact zero."""


def words_of(sentence: str) -> tuple[str, ...]:
    """A sentence as an ear writes it."""
    return tuple(re.sub(r"[^a-z' ]", " ", sentence.lower().replace("-", " ")).split())


def any_of(sentences: Iterable[str]) -> WordAutomaton:
    """A grammar of these sentences."""
    arcs: list[dict[str, int]] = [{}]
    finals: set[int] = set()
    said = sorted({words_of(sentence) for sentence in sentences})
    for words in said:
        state = 0
        for word in words:
            if word not in arcs[state]:
                arcs.append({})
                arcs[state][word] = len(arcs) - 1
            state = arcs[state][word]
        finals.add(state)
    return WordAutomaton(f"spoken-{hash(tuple(said))}", tuple(arcs), frozenset(finals))


def spoken_parts(sound: Samples, pause: float = 0.15) -> Iterator[Samples]:
    """The stretches of speech in a recording, cut at pauses; and each with the one after it,
    since a voice pauses at a comma as long as between two sentences."""
    ends: list[tuple[int, int]] = list(_stretches(sound, pause))
    for place, (start, end) in enumerate(ends):
        yield sound[start:end]
        if place + 1 < len(ends):
            yield sound[start : ends[place + 1][1]]


def _stretches(sound: Samples, pause: float) -> Iterator[tuple[int, int]]:
    frame = RATE // 100
    loud = [float(np.abs(sound[i : i + frame]).max()) > QUIET
            for i in range(0, len(sound) - frame, frame)]  # fmt: skip
    start, silent = None, 0
    for place, is_loud in enumerate([*loud, *[False] * 100]):
        if is_loud:
            start = place if start is None else start
            silent = 0
        elif start is not None:
            silent += 1
            if silent > pause * 100:
                yield max(0, (start - 10) * frame), (place - silent + 10) * frame
                start, silent = None, 0


def decode(ear: Recogniser, sound: Samples, grammar: WordAutomaton) -> Heard:
    """What the ear hears in one stretch."""
    ear.begin(grammar)
    ear.feed(sound)
    return ear.finish()

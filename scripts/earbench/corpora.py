"""What is said, by whom, and the grammar that it is held to.

Real people: the folder named by WHEELCALL_SPEECH, with its manifest.csv (AN4 of Carnegie Mellon
University, 1991; Free Spoken Digit Dataset, CC BY-SA 4.0). The column `split` keeps speakers
apart; nothing is tuned on `test`.

Synthetic voices: folders of data/. clips, sizes_a, sizes_b and talk are made by
scripts/record_demo from the lists here and scripts/recording/corpus.toml, the others by
material.py. TUNING_VOICES are those that tuning may use; sizes_b, numbers and talk_hour are for
the final figures.
"""

from __future__ import annotations

import csv
import os
import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import soundfile
import soxr

from assistant.phrases.book import PhraseBook, load_book
from assistant.phrases.compiler import compile_grammar
from assistant.ports import RATE, Samples
from assistant.spoken import WordAutomaton

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "data"

TUNING_VOICES = frozenset({"joe", "slt", "kal16", "awb", "jm_kumo", "jf_alpha", "jf_nezumi"})
"""Kept for the final figures: heart, rms, jf_gongitsune, jf_tebukuro, and in English styles
af_bella, am_michael, bf_emma, bm_george."""

DIGITS = "oh zero one two three four five six seven eight nine"
NUMBERS = (
    f"{DIGITS} ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen "
    "twenty thirty forty fifty sixty seventy eighty ninety hundred thousand"
)
AN4_COMMANDS = "yes no go stop start help repeat"
EDGE_SECONDS = 0.5
"""Quiet put around every recording, since a microphone listens before and after."""


@dataclass(frozen=True)
class Utterance:
    """One recording of one sentence."""

    path: Path
    text: str
    speaker: str
    kind: str
    """`number`, `command` or `talk`."""

    def sound(self) -> Samples:
        samples, rate = soundfile.read(self.path, dtype="float32")
        if rate != RATE:
            samples = soxr.resample(samples, rate, RATE)
        return np.pad(np.asarray(samples, np.float32), round(EDGE_SECONDS * RATE))


def numbers_in_a_row(words: str, most: int, alone: str = "") -> WordAutomaton:
    """One to `most` of `words` in any order, or one of `alone`."""
    arcs = [dict.fromkeys(words.split(), state + 1) for state in range(most)]
    arcs[0] |= dict.fromkeys(alone.split(), most)
    return WordAutomaton(f"{most} of {len(arcs[0])}", (*arcs, {}), frozenset(range(1, most + 1)))


@cache
def book() -> PhraseBook:
    return load_book()


@cache
def whole_book() -> WordAutomaton:
    """Everything that the phrase book holds, at once: harder than any step."""
    return compile_grammar(book(), book().expected())


@cache
def without_numbers() -> WordAutomaton:
    """The book's commands that carry no value: numbers are outside it."""
    plain = [expected for expected in book().expected() if not expected.slots]
    return compile_grammar(book(), plain)


@cache
def an4_grammar() -> WordAutomaton:
    """Up to eleven number words in any order, or a command of AN4's."""
    return numbers_in_a_row(NUMBERS, 11, AN4_COMMANDS)


@cache
def digit_grammar() -> WordAutomaton:
    return numbers_in_a_row(DIGITS, 1)


def real(split: str, source: str) -> list[Utterance]:
    """Recordings of real people; none where WHEELCALL_SPEECH isn't set."""
    folder = os.environ.get("WHEELCALL_SPEECH")
    if not folder:
        return []
    rows = _rows(Path(folder) / "manifest.csv")
    return [
        Utterance(
            Path(folder) / row["file"],
            row["text"],
            row["speaker"],
            "command" if row["text"] in AN4_COMMANDS.split() else "number",
        )
        for row in rows
        if row["split"] == split and source in row["source"]
    ]


def everything(folder: str) -> Iterator[Utterance]:
    """All recordings in data/`folder`."""
    path = DATA / folder
    kind = "talk" if folder.startswith("talk") else "command"
    for row in _rows(path / "manifest.csv"):
        yield Utterance(path / row["file"], row["text"], row["speaker"], kind)


def synthetic(folder: str, tuning: bool) -> list[Utterance]:
    """Recordings in data/`folder` by the voices that are, or are not, for tuning; of commands,
    those that the whole book holds."""
    found = [each for each in everything(folder) if (each.speaker in TUNING_VOICES) == tuning]
    if folder.startswith("talk"):
        return found
    grammar = whole_book()
    return [each for each in found if grammar.accepts(each.text.split())]


def by_rule(utterances: Iterable[Utterance]) -> list[Utterance]:
    """Those of voices that are put together by rule, see material.py."""
    return [each for each in utterances if each.speaker.startswith("rule_")]


def by_voice(utterances: Iterable[Utterance]) -> list[Utterance]:
    """Those of voices made from recordings of somebody."""
    return [each for each in utterances if not each.speaker.startswith("rule_")]


def drawn(utterances: list[Utterance], most: int, seed: int = 1) -> list[Utterance]:
    """At most `most` of them, drawn at random, in random order."""
    shuffled = random.Random(seed).sample(utterances, len(utterances))
    return shuffled[:most] if most else shuffled


def _rows(path: Path) -> Iterator[dict[str, str]]:
    if not path.is_file():
        return
    with path.open(newline="", encoding="utf-8") as file:
        yield from csv.DictReader(file)

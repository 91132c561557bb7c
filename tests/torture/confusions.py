"""Which words the built-in ear takes for others, measured: the table that `mishearing` draws from.

    python -m tests.torture.confusions [--clips N] [--people N] [--out FILE]

Hears recordings whose words are known, clean and under shop noise, held to the whole phrase book
(sentences) or to any row of figures (people's figures), aligns what was heard with what was said,
and counts. Every first reading counts, however unsure the ear was of it: in use most of these are
asked back.

Recordings: synthetic speech of the project (`data/clips`, by scripts/make_speech) under its own
noise (`data/noise`, by scripts/make_noise); people from the folder WHEELCALL_SPEECH, where it is:
AN4 (Carnegie Mellon University, 1991) and the Free Spoken Digit Dataset (CC BY-SA 4.0). Only
counts are kept.
"""

from __future__ import annotations

import argparse
import csv
import os
import random
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path

import numpy as np

from assistant.devices.wav import SoundFile
from assistant.phrases.book import load_book
from assistant.phrases.compiler import compile_grammar
from assistant.ports import Recogniser, Samples
from assistant.spoken import WordAutomaton
from tests.automata import words_in_a_row

ROOT = Path(__file__).resolve().parents[2]
TABLE = Path(__file__).with_name("confusions.csv")
_SPOKEN = (
    "oh zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty "
    "ninety hundred thousand half quarter eighth sixteenth point and a tenth tenths thou inch "
    "inches millimetres millimeters over under"
)
NUMBER_WORDS = frozenset(_SPOKEN.split())
DIGITS = "oh zero one two three four five six seven eight nine"
SIGNAL_TO_NOISE = (None, 10.0, 3.0)
"""Decibels; None is clean."""


@dataclass(frozen=True)
class Confusion:
    """One word taken for another, `count` times of the `said_times` that it was said."""

    said: str
    heard: str
    """'' where the word was lost."""
    count: int
    said_times: int

    @property
    def rate(self) -> float:
        """How often, 0 to 1."""
        return self.count / self.said_times


def load_confusions(path: Path = TABLE) -> Mapping[str, Sequence[Confusion]]:
    """The measured table, by the word that was said."""
    lines = (line for line in path.read_text(encoding="utf-8").splitlines() if line[:1] != "#")
    found: dict[str, list[Confusion]] = {}
    for row in csv.DictReader(lines):
        one = Confusion(row["said"], row["heard"], int(row["count"]), int(row["said_times"]))
        found.setdefault(one.said, []).append(one)
    return found


@dataclass(frozen=True)
class Recording:
    """A recording and the words in it."""

    path: Path
    words: str
    grammar: WordAutomaton


def sentences(count: int, rng: random.Random) -> Iterator[Recording]:
    """Synthetic sentences with numbers in them, held to the whole phrase book."""
    book = load_book()
    grammar = compile_grammar(book, book.expected())
    folder = ROOT / "data" / "clips"
    with (folder / "manifest.csv").open(encoding="utf-8") as file:
        rows = [
            row
            for row in csv.DictReader(file)
            if NUMBER_WORDS & set(row["text"].split()) and grammar.accepts(row["text"].split())
        ]
    for row in rng.sample(rows, min(count, len(rows))):
        yield Recording(folder / row["file"], row["text"], grammar)


def people(count: int, rng: random.Random) -> Iterator[Recording]:
    """People saying figures, held to any row of figures."""
    root = os.environ.get("WHEELCALL_SPEECH")
    if not root:
        return
    grammar = words_in_a_row(DIGITS, 7)
    with (Path(root) / "manifest.csv").open(encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if grammar.accepts(row["text"].lower().split())]
    for row in rng.sample(rows, min(count, len(rows))):
        yield Recording(Path(root) / row["file"], row["text"].lower(), grammar)


def read(path: Path) -> Samples:
    """A sound file, 16 kHz mono."""
    return np.concatenate(list(SoundFile(path).chunks()))


def under_noise(sound: Samples, noise: Samples, decibels: float, rng: random.Random) -> Samples:
    """`sound` with a stretch of `noise` that is `decibels` quieter."""
    start = rng.randrange(max(1, len(noise) - len(sound)))
    part = np.resize(noise[start:], len(sound))
    loud = np.sqrt(np.mean(sound**2))
    quiet = np.sqrt(np.mean(part**2)) or 1.0
    mixed = sound + part * np.float32(loud / quiet * 10 ** (-decibels / 20))
    return np.asarray(np.clip(mixed, -1, 1), np.float32)


def aligned(said: Sequence[str], heard: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Pairs of a word that was said and what was heard in its place, '' where nothing was."""
    for kind, a, b, c, d in SequenceMatcher(None, said, heard, autojunk=False).get_opcodes():
        if kind in ("equal", "replace", "delete"):
            for place in range(a, b):
                last = place == b - 1
                other = c + place - a
                yield said[place], " ".join(heard[other : d if last else other + 1])


def measure(ear: Recogniser, clips: int, humans: int, seed: int = 1) -> tuple[Counter, Counter]:
    """How often each word was said, and how often each was taken for which other."""
    rng = random.Random(seed)
    noises = [read(path) for path in sorted((ROOT / "data/noise").glob("*.flac"))]
    said_times: Counter[str] = Counter()
    taken: Counter[tuple[str, str]] = Counter()
    recordings = [*sentences(clips, rng), *people(humans, rng)]
    rng.shuffle(recordings)
    for number, recording in enumerate(recordings):
        sound = read(recording.path)
        decibels = rng.choice(SIGNAL_TO_NOISE)
        if decibels is not None and noises:
            sound = under_noise(sound, rng.choice(noises), decibels, rng)
        ear.begin(recording.grammar)
        ear.feed(sound)
        heard = ear.finish().words.split()
        if number % 50 == 0:
            print(f"{number} of {len(recordings)}", flush=True)
        if not heard:
            continue
        for one, other in aligned(recording.words.split(), heard):
            if one in NUMBER_WORDS:
                said_times[one] += 1
                if one != other:
                    taken[one, other] += 1
    return said_times, taken


def main() -> None:
    """Measure, and write the table."""
    from assistant.devices.moonshine import MoonshineEar

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--clips", type=int, default=450)
    parser.add_argument("--people", type=int, default=250)
    parser.add_argument("--out", type=Path, default=TABLE)
    wanted = parser.parse_args()
    ear = MoonshineEar(threads=1)
    said_times, taken = measure(ear, wanted.clips, wanted.people)
    with wanted.out.open("w", encoding="utf-8", newline="") as file:
        file.write(
            "# Measured by tests/torture/confusions.py: Moonshine tiny, held to the whole phrase\n"
            f"# book; up to {wanted.clips} synthetic sentences of data/clips and {wanted.people}\n"
            "# recordings of people (AN4; Free Spoken Digit Dataset): clean, 10 dB or 3 dB above\n"
            "# shop noise, a third each. Every first reading, however unsure.\n"
        )
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["said", "heard", "count", "said_times"])
        for (one, other), count in sorted(taken.items(), key=lambda item: (-item[1], item[0])):
            table.writerow([one, other, count, said_times[one]])


if __name__ == "__main__":
    main()

"""What the network is trained on: which sentences by which voices, and how often each is drawn.

A work folder keeps the stages apart, so that each can be run on another machine:

    plan.json       sentences of each kind of voice, and how every word is said
    clips/          shards of clips: synthetic ones, and `real`, the recordings of people
"""

from __future__ import annotations

import csv
import json
import random
import subprocess
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np
import soundfile

from vosk_model.lexicon import Pronunciations
from vosk_model.synthesis import Clip, write_shard

SHARES = {
    "kokoro": 0.42, "everyday": 0.03, "joe": 0.05, "flite": 0.13, "espeak": 0.13, "other": 0.04,
    "silence": 0.03, "taught": 0.15,
}  # fmt: skip
"""How much of what the network sees is of each kind, beside people; a kind that is missing leaves
its share."""

COUNTS = {
    "espeak": 36000, "flite": 30000, "other": 4000, "joe": 2000, "kokoro": 8000, "everyday": 500,
}  # fmt: skip
"""Clips of each kind, at least. Of the neural speakers the shipped model heard fewer, see its
card."""

TEMPOS = (1.0, 1.15, 1.3)
"""People say figures faster, and run into each other, than most voices do."""

SILENCES = 400


def read_plan(work: Path) -> tuple[dict[str, list[tuple[str, ...]]], Pronunciations]:
    """The sentences of each kind of voice and the lexicon."""
    read = json.loads((work / "plan.json").read_text())
    kinds = {kind: [tuple(said) for said in texts] for kind, texts in read["sentences"].items()}
    spoken = {word: [tuple(way) for way in ways] for word, ways in read["lexicon"].items()}
    return kinds, spoken


def read_recordings(folder: Path, split: str, source: str) -> list[Clip]:
    """People's recordings of one split, from `folder`/manifest.csv.

    Its columns are file, speaker, text, split, source; `source` is what the last begins with.
    """
    found = []
    with (folder / "manifest.csv").open(newline="") as manifest:
        for row in csv.DictReader(manifest):
            if row["split"] == split and row["source"].startswith(source):
                samples, rate = soundfile.read(folder / row["file"], dtype="int16")
                if rate != 16_000:
                    import soxr

                    samples = soxr.resample(samples, rate, 16_000)
                found.append(Clip(tuple(row["text"].split()), row["speaker"], samples))
    return found


def add_recordings(recordings: Path, work: Path) -> None:
    """Write the training recordings of people as shards of kind `real`, one for each tempo."""
    clips = read_recordings(recordings, "train", "AN4")
    for number, tempo in enumerate(TEMPOS):
        told = [replace(clip, samples=_level(_hurried(clip.samples, tempo))) for clip in clips]
        write_shard(work / "clips" / f"real-{number:04d}", told)


def _hurried(samples: np.ndarray, tempo: float) -> np.ndarray:  # type: ignore[type-arg]
    """Samples at another tempo, in the same pitch. Needs Debian's sox where it isn't 1."""
    if tempo == 1:
        return samples
    raw = ["-t", "raw", "-r", "16000", "-e", "signed", "-b", "16", "-c", "1", "-"]
    done = subprocess.run(
        ["sox", "-G", *raw, *raw, "tempo", "-s", str(tempo)],
        input=samples.astype("<i2").tobytes(), check=True, capture_output=True,
    )  # fmt: skip
    return np.frombuffer(done.stdout, "<i2")


def _level(samples: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]
    peak = max(1, int(np.abs(samples.astype(np.int32)).max()))
    return (samples.astype(np.float32) * (16_000 / peak)).astype(np.int16)


def silences() -> list[Clip]:
    """Clips in which nothing is said: the network must hear nothing in noise."""
    rng = random.Random(0)
    return [
        Clip((), "silence", np.zeros(rng.randint(16_000, 48_000), np.int16))
        for _ in range(SILENCES)
    ]


def weights(kinds: Sequence[str], real: float) -> list[float]:
    """How often each clip is drawn, from the kind of each; `real` is the share of people."""
    counts = Counter(kinds)
    shares = {**SHARES, "real": real}
    return [shares[kind] / counts[kind] for kind in kinds]

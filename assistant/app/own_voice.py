"""The operator's own voice, as the ear knows it: one small file in the data folder."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from assistant.app.paths import data_folder
from assistant.errors import BadFile

VERSION = 1
NAME = "voice.json"
WANT = "wanted what `wheelcall learn` writes; `wheelcall learn --delete` removes it"
LATER = "a later version of the program wrote it, and this one leaves it as it is; " + WANT
MOST_LEAN = 1.0
MOST_SPELLINGS = 40


@dataclass(frozen=True)
class OwnVoice:
    """What twenty phrases taught. No sound is in it."""

    made: datetime
    phrases: int
    """How many were said."""
    right_before: int
    """Heard right and surely enough without what was learned ..."""
    right_after: int
    """... and with it."""
    lean: float
    """Added to the log odds of a confidence, -1 to 1: see `Tuning.lean`."""
    sounds: Mapping[str, tuple[str, ...]]
    """Words of the phrase book, to what the model writes for them from this voice."""


def voice_path() -> Path:
    """The file, whether it is there or not."""
    return data_folder() / NAME


def load_voice(path: Path | None = None) -> OwnVoice | None:
    """What was learned; None where nothing was. Raises `BadFile` for a damaged file."""
    path = path or voice_path()
    if not path.is_file():
        return None
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise BadFile(path, "file", "not JSON", f"{error}; {WANT}") from None
    if isinstance(data, dict) and type(data.get("version")) is int and data["version"] > VERSION:
        raise BadFile(path, "version", data["version"], LATER)
    if not isinstance(data, dict) or data.get("version") != VERSION:
        raise BadFile(path, "version", _get(data, "version"), WANT)
    sounds = data.get("sounds")
    if (
        not isinstance(sounds, dict)
        or len(sounds) > MOST_SPELLINGS
        or not all(_is_spelling(words, texts) for words, texts in sounds.items())
    ):
        raise BadFile(path, "sounds", str(sounds)[:80], WANT)
    lean = data.get("lean")
    if isinstance(lean, bool) or not isinstance(lean, int | float) or abs(lean) > MOST_LEAN:
        raise BadFile(path, "lean", lean, f"wanted {-MOST_LEAN} to {MOST_LEAN}; {WANT}")
    try:
        made = datetime.fromisoformat(data["made"])
        counts = [int(data[key]) for key in ("phrases", "right_before", "right_after")]
    except (KeyError, TypeError, ValueError) as error:
        raise BadFile(path, "made, phrases or right", str(error), WANT) from None
    kept = {words: tuple(texts) for words, texts in sounds.items()}
    return OwnVoice(made, counts[0], counts[1], counts[2], float(lean), kept)


def save_voice(voice: OwnVoice, path: Path | None = None) -> Path:
    """Write it; the file's path."""
    path = path or voice_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    data = {
        "version": VERSION,
        "made": voice.made.isoformat(timespec="seconds"),
        "phrases": voice.phrases,
        "right_before": voice.right_before,
        "right_after": voice.right_after,
        "lean": round(voice.lean, 3),
        "sounds": {words: list(texts) for words, texts in voice.sounds.items()},
    }
    new = path.with_name(f"{path.name}.new")
    new.write_text(json.dumps(data, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    os.replace(new, path)
    return path


def delete_voice(path: Path | None = None) -> bool:
    """Remove the file; whether there was one."""
    path = path or voice_path()
    try:
        path.unlink()
    except FileNotFoundError:
        return False
    return True


def _is_spelling(words: object, texts: object) -> bool:
    return (
        isinstance(words, str)
        and bool(words.strip())
        and isinstance(texts, list)
        and bool(texts)
        and all(isinstance(text, str) and 0 < len(text.strip()) <= 40 for text in texts)
    )


def _get(data: Any, key: str) -> object:
    return data.get(key) if isinstance(data, dict) else type(data).__name__

"""Phrase lists: which voice says what, as TOML.

    voice = "rms"         # a name of `scripts/record_demo --voices`
    pace = 1.0            # 0.5 to 2, optional
    seed = 1              # optional
    phrases = ["touched", "three thou"]

The script of a demo operator is such a list as well: what its lines `say` is recorded with the
phrases. What else its lines hold is the operator's business, not the recorder's.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from assistant.demo import clip_name
from assistant.errors import BadFile
from recording.voices import VOICES

Phrase = Annotated[str, Field(pattern=r"^[a-z']+( [a-z']+)*$", max_length=120)]


class _Line(BaseModel):
    model_config = ConfigDict(strict=True, frozen=True)

    say: Phrase


class _File(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)

    job: str = ""
    """For the demo operator alone, as the rest of a line is."""
    voice: str = "rms"
    pace: float = Field(default=1.0, ge=0.5, le=2.0)
    seed: int = Field(default=1, ge=0, lt=2**31)
    phrases: list[Phrase] = []
    line: list[_Line] = []


@dataclass(frozen=True, slots=True)
class PhraseList:
    """One validated list."""

    name: str
    voice: str
    pace: float
    seed: int
    phrases: tuple[str, ...]

    @classmethod
    def read(cls, path: Path) -> PhraseList:
        """Read and check `path`; its name without the ending is the name of the demo.

        Raises `BadFile`, which names the file, the key and what would be right.
        """
        try:
            table = tomllib.loads(path.read_text(encoding="utf-8"))
        except OSError as error:
            want = f"must be readable ({error.strerror})"
            raise BadFile(path, "file", "not to be had", want) from None
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            raise BadFile(path, "file", error, "must be TOML") from None
        try:
            read = _File.model_validate(table)
        except ValidationError as error:
            first = error.errors()[0]
            key = ".".join(str(part) for part in first["loc"])
            raise BadFile(path, key, repr(first["input"]), _want(first["msg"])) from None
        if read.voice not in VOICES:
            raise BadFile(path, "voice", read.voice, "must be one of " + ", ".join(VOICES))
        said = (*read.phrases, *(line.say for line in read.line))
        phrases = tuple(dict.fromkeys(said))
        if not phrases:
            raise BadFile(path, "phrases", "empty", "must hold what is to be said")
        _refuse_shared_names(path, phrases)
        return cls(path.stem, read.voice, read.pace, read.seed, phrases)


def _refuse_shared_names(path: Path, phrases: tuple[str, ...]) -> None:
    """`its even` and `it's even` would be one file."""
    seen: dict[str, str] = {}
    for phrase in phrases:
        other = seen.setdefault(clip_name(phrase), phrase)
        if other != phrase:
            raise BadFile(path, "phrases", repr(phrase), f"would overwrite the clip of {other!r}")


def _want(message: str) -> str:
    """pydantic's sentence in our form; the pattern is put in words."""
    if "pattern" in message:
        return "must be lower case words with single spaces, numbers in words"
    return message[0].lower() + message[1:]

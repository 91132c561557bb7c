"""Spoilt files and command lines: no traceback, and every error names what and where."""

from __future__ import annotations

import contextlib
import io
import random
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from assistant.app.cli.sheet import planned
from assistant.app.paths import configs_folder
from assistant.devices.wav import SoundFile
from assistant.errors import WheelcallError
from assistant.machine import load_machine
from assistant.phrases.book import load_book

ODD = (
    "nan", "inf", "-inf", "0", "-1", "1e400", '""', '"1/0 in"', '"9" * 9', "true", "[]", "{}",
    '"\\u0000"', '"1-1/2 parsec"', "1979-05-27", '"3 in"', '"0.0000001 in"', '"999999 mm"',
)  # fmt: skip
SHORTEST_ERROR = 12
"""Characters: less can't say what is wrong and where."""


@dataclass
class Spoilt:
    """What spoilt inputs led to."""

    tried: int = 0
    refused: int = 0
    """Refused with an error raised on purpose."""
    taken: int = 0
    """Still good after the spoiling."""
    escaped: list[str] = field(default_factory=list)
    """Errors that no one meant to raise: must be none."""


def spoil(
    count: int, folder: Path, seed: int = 1, until: Callable[[], bool] = lambda: False
) -> Spoilt:
    """Spoil job, machine and phrase files and sound files `count` times."""
    rng = random.Random(seed)
    result = Spoilt()
    kinds: list[tuple[list[Path], Callable[[Path], object]]] = [
        (sorted((configs_folder() / "jobs").glob("*.toml")), _plan),
        (sorted((configs_folder() / "machines").glob("*.toml")), load_machine),
        ([configs_folder() / name for name in ("phrases.toml", "questions.toml")], load_book),
        (sorted((configs_folder().parent / "assistant" / "demo").rglob("*.flac"))[:3], _listen),
    ]
    for _ in range(count):
        if until():
            break
        files, read = rng.choice(kinds)
        source = rng.choice(files)
        spoilt = folder / source.name
        spoilt.write_bytes(_spoil(source.read_bytes(), source.suffix, rng))
        result.tried += 1
        try:
            with contextlib.redirect_stdout(io.StringIO()):
                read(spoilt)
        except WheelcallError as error:
            result.refused += 1
            if len(str(error)) < SHORTEST_ERROR:
                result.escaped.append(f"{source.name}: says nothing: {error!r}")
        except Exception as error:
            result.escaped.append(f"{source.name}: {type(error).__name__}: {error}")
        else:
            result.taken += 1
        spoilt.unlink()
    return result


def _plan(path: Path) -> object:
    return planned(str(path))


def _listen(path: Path) -> object:
    return sum(len(chunk) for chunk in SoundFile(path).chunks())


def _spoil(content: bytes, suffix: str, rng: random.Random) -> bytes:
    if suffix != ".toml" or rng.random() < 0.25:
        made = bytearray(content)
        for _ in range(rng.randint(1, 8)):
            place = rng.randrange(len(made))
            match rng.randrange(3):
                case 0:
                    made[place] = rng.randrange(256)
                case 1:
                    del made[place : place + rng.randint(1, 40)]
                case 2:
                    made[place:place] = bytes(rng.randrange(256) for _ in range(rng.randint(1, 9)))
            if not made:
                return b""
        return bytes(made)
    lines = content.decode().splitlines()
    place = rng.randrange(len(lines))
    match rng.randrange(4):
        case 0:
            del lines[place]
        case 1:
            lines.insert(place, lines[rng.randrange(len(lines))])
        case 2:
            key = lines[place].split("=")[0]
            lines[place] = f"{key}= {rng.choice(ODD)}"
        case 3:
            lines[place] = lines[place][: rng.randrange(len(lines[place]) + 1)]
    return "\n".join(lines).encode()

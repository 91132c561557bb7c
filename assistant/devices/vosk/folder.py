"""Vosk model folders: what must be in one, and how far it can be held to a step's grammar."""

from __future__ import annotations

import struct
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from assistant.devices.vosk.fst_file import FST_MAGIC
from assistant.devices.vosk.graph import GRAMMAR, takes_grammars
from assistant.errors import BadFile
from assistant.intact import LIST, differing, in_words, read_list

WANT = "wanted an unpacked Vosk model folder: am/final.mdl, conf and graph in it"

ACOUSTIC = Path("am") / "final.mdl"
OLD_ACOUSTIC = Path("final.mdl")
SETTINGS = Path("conf") / "model.conf"
FEATURES = (Path("conf") / "mfcc.conf", Path("conf") / "fbank.conf")
STATIC = Path("graph") / "HCLG.fst"
DYNAMIC = Path("graph") / "HCLr.fst"
DISAMBIGUATION = Path("graph") / "disambig_tid.int"
WORDS = Path("graph") / "words.txt"

_OUTPUT_SYMBOLS = 0x2


class Hold(StrEnum):
    """How a model is held to the phrases of a step."""

    STRICT = "strict"
    """Its grammar file is replaced by the step's: no other sentence can be heard."""
    PHRASES = "phrases"
    """It is told the phrases, of which it makes pairs of words: others can be heard, too, and are
    refused afterwards."""
    AFTERWARDS = "afterwards"
    """Its graph can't be changed: it hears all it knows, and only phrases of the step are taken."""


@dataclass(frozen=True, slots=True)
class ModelFolder:
    """One model that may be used."""

    path: Path
    name: str
    hold: Hold
    megabytes: float
    """Of all its files; in memory it is up to six times as much."""

    @property
    def notice(self) -> str:
        """What the operator should know of it; '' for a model that is held strictly."""
        if self.hold is Hold.STRICT:
            return ""
        if self.hold is Hold.PHRASES:
            return (
                f"{self.name} is only told which words may follow which:"
                " it mishears more than a model that is held to whole phrases."
            )
        return (
            f"{self.name} has a static graph and takes no phrases: it hears all words it knows,"
            " and what is no phrase of the step is refused."
        )


def read_model_folder(path: Path) -> ModelFolder:
    """Check the folder; where a list of checksums lies in it, each of its files as well.

    Raises `BadFile` that names what is missing and what would be right.
    """
    if not path.is_dir():
        raise BadFile(path, "folder", "not there", WANT)
    if (path / OLD_ACOUSTIC).is_file():
        return _old(path)
    inside = [part for part in path.iterdir() if part.is_dir()]
    if not (path / "am").exists() and len(inside) == 1 and (inside[0] / "am").exists():
        raise BadFile(path, "folder", "one too high", f"wanted the one in it: {inside[0]}")
    for part in (ACOUSTIC, SETTINGS):
        _must(path, part)
    if not any((path / part).is_file() for part in FEATURES):
        _must(path, FEATURES[0])
    dynamic = not (path / STATIC).is_file()
    if dynamic:
        for part in (DYNAMIC, GRAMMAR, DISAMBIGUATION):
            _must(path, part)
    if (path / LIST).is_file() and (wrong := differing(path, read_list(path / LIST))):
        raise BadFile(path, LIST, "not right", in_words(wrong))
    return _found(path, _hold(path) if dynamic else Hold.AFTERWARDS)


def find_models(*folders: Path) -> list[ModelFolder]:
    """The models in `folders` that can be used: the best held first, of those the largest. Of two
    of one name that of the earlier folder."""
    order = list(Hold)
    return sorted(
        (found for found in _look_into(folders) if isinstance(found, ModelFolder)),
        key=lambda model: (order.index(model.hold), -model.megabytes),
    )


def unusable_models(*folders: Path) -> list[str]:
    """A line for each folder in `folders` that is no whole model: which, and what is missing."""
    return [str(found) for found in _look_into(folders) if isinstance(found, BadFile)]


def _look_into(folders: Sequence[Path]) -> Iterator[ModelFolder | BadFile]:
    named: dict[str, Path] = {}
    for folder in folders:
        for path in sorted(folder.iterdir()) if folder.is_dir() else ():
            if path.is_dir() and not path.name.startswith("."):
                named.setdefault(path.name, path)
    for path in named.values():
        try:
            yield read_model_folder(path)
        except BadFile as bad:
            yield bad


def _found(path: Path, hold: Hold) -> ModelFolder:
    megabytes = sum(file.stat().st_size for file in path.rglob("*") if file.is_file()) / 1e6
    return ModelFolder(path, path.name, hold, megabytes)


def _old(path: Path) -> ModelFolder:
    """A model in the older layout, with all files in one folder."""
    _must(path, Path("mfcc.conf"))
    if (path / STATIC.name).is_file():
        return _found(path, Hold.AFTERWARDS)
    for part in (DYNAMIC, GRAMMAR, DISAMBIGUATION):
        _must(path, Path(part.name))
    return _found(path, Hold.PHRASES)


def _must(path: Path, part: Path) -> None:
    if not (path / part).is_file():
        raise BadFile(path, str(part), "missing", WANT)


def _hold(path: Path) -> Hold:
    # Words numbered inside the grammar file count for more than words.txt, and are gone when the
    # file is replaced: such a model can't be held strictly.
    numbered = (path / WORDS).is_file() and not _has_symbols(path / GRAMMAR)
    return Hold.STRICT if numbered and takes_grammars(path) else Hold.PHRASES


def _has_symbols(grammar: Path) -> bool:
    """Whether an OpenFst file carries its own table of words: a flag in its header."""
    with grammar.open("rb") as file:
        head = file.read(256)
    try:
        (magic,) = struct.unpack_from("<i", head)
        at = 4
        for _ in ("type of automaton", "type of arc"):
            (length,) = struct.unpack_from("<i", head, at)
            at += 4 + length
        _, flags = struct.unpack_from("<ii", head, at)
    except struct.error:
        return True
    return bool(magic != FST_MAGIC or flags & _OUTPUT_SYMBOLS)

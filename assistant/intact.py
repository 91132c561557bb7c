"""Whether the files of a model are what they were when the program was tested with them.

A list gives the SHA-256 of each, in the form that `sha256sum -c` reads. It finds a file that was
damaged, cut short or exchanged for that of another release; it is no guard against somebody who
can write both the file and the list.

Adding up all files of the ears and the voice takes longer than a start may, so each is added up
once, and what came of it is kept with the file's size and time; a file of another size or time is
added up anew. What keeps both and is another all the same (a worn memory card) `read_again` finds.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

import platformdirs

NAME = "wheelcall"
LIST = "SHA256SUMS"
"""The name of a list that lies beside its files."""
DIGITS = 64
_KEPT = "checked-files.json"

Seen = dict[str, tuple[int, int, str]]
"""By its path a file's size in bytes, its time in nanoseconds, and its SHA-256."""


def kept_path() -> Path:
    """Where it is kept what was added up; it may be deleted at any time."""
    return platformdirs.user_cache_path(NAME, appauthor=False) / _KEPT


def read_list(path: Path) -> dict[str, str]:
    """Name and SHA-256 of each file of a list; a line that is none is passed over."""
    found = {}
    for line in path.read_text(encoding="utf-8", errors="replace").splitlines():
        digits, _, name = line.partition("  ")
        if len(digits) == DIGITS and name:
            found[name] = digits
    return found


def differing(folder: Path, wanted: Mapping[str, str]) -> tuple[str, ...]:
    """In plain words what is wrong with the files of `wanted` in `folder`; nothing where they are
    what they were."""
    seen = _read_kept()
    before = dict(seen)
    wrong = [why for name, digits in wanted.items() if (why := _wrong(folder, name, digits, seen))]
    if seen != before:
        _keep(seen)
    return tuple(wrong)


def read_again() -> None:
    """Have every file added up anew when it is asked about next."""
    with suppress(OSError):
        kept_path().unlink()


def in_words(wrong: Sequence[str]) -> str:
    """The first of what is wrong, and how many more there are."""
    more = f", and {len(wrong) - 1} more" if len(wrong) > 1 else ""
    return wrong[0] + more


def _wrong(folder: Path, name: str, digits: str, seen: Seen) -> str:
    path = folder / name
    try:
        stat = path.stat()
        key = str(path.resolve())
        known = seen.get(key)
        if known is None or known[:2] != (stat.st_size, stat.st_mtime_ns):
            with path.open("rb") as file:
                found = hashlib.file_digest(file, "sha256").hexdigest()
            known = seen[key] = (stat.st_size, stat.st_mtime_ns, found)
    except FileNotFoundError:
        return f"{name} is missing in {folder}"
    except OSError as error:
        return f"{path} can't be read ({error.strerror or error})"
    return "" if known[2] == digits else f"{path} is not the file that was tested (SHA-256 differs)"


def _read_kept() -> Seen:
    try:
        kept = json.loads(kept_path().read_text(encoding="utf-8"))
        return {str(k): (int(size), int(time), str(sha)) for k, (size, time, sha) in kept.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}  # all are added up again: slower, and nothing else


def _keep(seen: Seen) -> None:
    path = kept_path()
    new = path.with_name(f"{path.name}.{os.getpid()}")  # several processes may check at once
    with suppress(OSError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        new.write_text(json.dumps({k: v for k, v in seen.items() if Path(k).exists()}), "utf-8")
        os.replace(new, path)

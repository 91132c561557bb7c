"""Building the source archive and the wheel, so that the same files give the same bytes."""

from __future__ import annotations

import gzip
import io
import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

EPOCH = "SOURCE_DATE_EPOCH"

_HOOK = """\
import os, sys
from setuptools import build_meta
os.umask(0o022)
getattr(build_meta, "build_" + sys.argv[1])(sys.argv[2])
"""
"""In a process of its own, since setuptools keeps what it read of a project. The wheel keeps the
modes of what is built, so that who builds must not matter."""


def tracked(root: Path) -> list[str]:
    """Files under version control, by their path from `root`, that are there."""
    command = ["git", "ls-files", "-z"]
    listed = subprocess.run(command, cwd=root, check=True, capture_output=True, text=True).stdout
    return sorted(name for name in listed.split("\0") if name and (root / name).is_file())


def copy_tracked(root: Path, into: Path) -> None:
    """A copy of what is under version control alone: neither fetched models nor old builds."""
    for name in tracked(root):
        target = into / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes((root / name).read_bytes())


def build_both(source: Path, into: Path, epoch: int) -> tuple[Path, Path]:
    """Source archive and wheel of the project in `source`; the wheel is built from the archive, as
    whoever has nothing else would."""
    into.mkdir(parents=True)
    archive = _built("sdist", source, into, epoch)
    same_for_all(archive, epoch)
    unpacked = into / "unpacked"
    with tarfile.open(archive) as packed:
        packed.extractall(unpacked, filter="data")
    (inside,) = unpacked.iterdir()
    return archive, _built("wheel", inside, into, epoch)


def _built(kind: str, source: Path, into: Path, epoch: int) -> Path:
    before = set(into.iterdir())
    done = subprocess.run(
        [sys.executable, "-c", _HOOK, kind, str(into.resolve())],
        cwd=source, env={**os.environ, EPOCH: str(epoch)}, capture_output=True, text=True,
    )  # fmt: skip
    if done.returncode:
        raise RuntimeError(f"the {kind} could not be built:\n{done.stdout[-2000:]}{done.stderr}")
    (made,) = (path for path in set(into.iterdir()) - before if path.is_file())
    return made


def same_for_all(archive: Path, epoch: int) -> None:
    """Pack a source archive anew, without what only the one who packed it has: order, owner, modes,
    times. setuptools heeds the epoch in a wheel alone."""
    with tarfile.open(archive) as packed:
        held = [(one, packed.extractfile(one)) for one in packed.getmembers()]
        files = sorted((one.name, file.read()) for one, file in held if file is not None)
    with (
        archive.open("wb") as raw,
        gzip.GzipFile(filename="", mode="wb", fileobj=raw, mtime=epoch) as zipped,
        tarfile.open(fileobj=zipped, mode="w", format=tarfile.PAX_FORMAT) as packed,
    ):
        for name, content in files:
            entry = tarfile.TarInfo(name)
            entry.size, entry.mtime, entry.mode = len(content), epoch, 0o644
            packed.addfile(entry, io.BytesIO(content))


def read_wheel(wheel: Path) -> dict[str, bytes]:
    """Content of each file of a wheel, by its name in it."""
    with zipfile.ZipFile(wheel) as packed:
        return {name: packed.read(name) for name in packed.namelist() if not name.endswith("/")}


def read_source(archive: Path) -> dict[str, bytes]:
    """Content of each file of a source archive, by its name under the archive's one folder."""
    with tarfile.open(archive) as packed:
        held = [(one, packed.extractfile(one)) for one in packed.getmembers()]
        return {one.name.partition("/")[2]: file.read() for one, file in held if file is not None}

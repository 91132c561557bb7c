"""Reads rows out of a damaged SQLite file, page by page, without SQLite.

SQLite itself stops at the first page that makes no sense; here every leaf page of a table is read
for itself, from the main file and from the write-ahead file, so that one bad page costs the rows
on it and no more. Whether a row is what was written is told by its mark (`rows.py`).

Source of the layout: "Database File Format", published with SQLite: B-tree Pages, Cell Payload
Overflow Pages, Record Format, The Write-Ahead Log.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from assistant.devices.journal.rows import Row

LEAF_TABLE = 0x0D
WAL_HEADER, FRAME_HEADER = 32, 24
WAL_MAGIC = (0x377F0682, 0x377F0683)
"""Checksums over little-endian and over big-endian words."""
LARGEST_ROW = 64 * 1024 * 1024


@dataclass
class Wal:
    """The frames of a write-ahead file that belong to its present run."""

    frames: list[tuple[int, bytes]] = field(default_factory=list)
    """Page number and content, up to the last commit."""
    torn: bool = False
    """Whether a commit lies behind a place that SQLite can't read past."""


def wal_path(path: Path) -> Path:
    """The write-ahead file that belongs to a database file."""
    return path.with_name(path.name + "-wal")


def read_wal(path: Path) -> Wal:
    """Read the write-ahead file of the database at `path`; empty where there is none."""
    data = wal_path(path).read_bytes() if wal_path(path).exists() else b""
    if len(data) <= WAL_HEADER:
        return Wal()
    magic, _, size, _, salt1, salt2, sum1, sum2 = struct.unpack(">8I", data[:WAL_HEADER])
    order = ">" if magic == WAL_MAGIC[1] else "<"
    sums = _checksum(data[: WAL_HEADER - 8], (0, 0), order)
    sound = magic in WAL_MAGIC and sums == (sum1, sum2)
    if not sound:
        size = _page_size(path.read_bytes()[:100] if path.exists() else b"")
        salt1, salt2 = struct.unpack(">2I", data[WAL_HEADER + 8 : WAL_HEADER + 16])
    wal, pending = Wal(), []
    for at in range(WAL_HEADER, len(data) - FRAME_HEADER - size + 1, FRAME_HEADER + size):
        head = data[at : at + FRAME_HEADER]
        number, commit, s1, s2, *want = struct.unpack(">6I", head)
        if (s1, s2) != (salt1, salt2):
            # Left over from an earlier run, or a damaged header; a later one may be sound.
            sound = False
            continue
        page = data[at + FRAME_HEADER : at + FRAME_HEADER + size]
        if sound:
            sums = _checksum(page, _checksum(head[:8], sums, order), order)
            sound = sums == tuple(want)
        pending.append((number, page))
        if commit:
            wal.frames += pending
            pending = []
            wal.torn = wal.torn or not sound
    return wal


def page_size(path: Path) -> int:
    """Of the database at `path`, in bytes, by its header; 4096 where that makes no sense."""
    with path.open("rb") as file:
        return _page_size(file.read(100))


def carve(path: Path) -> Iterator[tuple[int, Row]]:
    """Every row that can be found, with its place; some more than once, some perhaps wrong."""
    main = path.read_bytes() if path.exists() else b""
    size = _page_size(main[:100])
    usable = size - (main[20] if len(main) > 20 and main[20] < 32 else 0)
    pages = {
        number: main[(number - 1) * size : number * size]
        for number in range(1, len(main) // size + 1)
    }
    frames = read_wal(path).frames
    newest = {**pages, **dict(frames)}
    for number, page in (*pages.items(), *frames):
        for start in _cells(page, 100 if number == 1 else 0):
            # A page that spilled over may stand in the file, in the write-ahead file, or in both.
            for whole in (newest, pages) if frames else (newest,):
                found = _row(page, start, usable, whole)
                if found is not None:
                    yield found


def _page_size(header: bytes) -> int:
    size = int.from_bytes(header[16:18], "big") if len(header) >= 18 else 0
    size = 65536 if size == 1 else size
    return size if size >= 512 and size & (size - 1) == 0 else 4096


def _checksum(data: bytes, start: tuple[int, int], order: str) -> tuple[int, int]:
    a, b = start
    words = struct.unpack(f"{order}{len(data) // 4}I", data)
    for even, odd in zip(words[::2], words[1::2], strict=True):
        a = (a + even + b) & 0xFFFFFFFF
        b = (b + odd + a) & 0xFFFFFFFF
    return a, b


def _cells(page: bytes, header: int) -> Iterator[int]:
    if len(page) < header + 8 or page[header] != LEAF_TABLE:
        return
    count = int.from_bytes(page[header + 3 : header + 5], "big")
    for index in range(count):
        at = header + 8 + 2 * index
        start = int.from_bytes(page[at : at + 2], "big")
        if at + 2 <= len(page) and header + 8 <= start < len(page):
            yield start


def _row(page: bytes, start: int, usable: int, pages: dict[int, bytes]) -> tuple[int, Row] | None:
    try:
        length, at = _varint(page, start)
        place, at = _varint(page, at)
        values = _record(_payload(page, at, length, usable, pages))
    except (IndexError, UnicodeDecodeError, ValueError):
        return None
    match values:
        case [None, str(job), int(seq), int(command), int(through), str(at_), str(body),
              bytes(mark), str(_)]:  # fmt: skip
            return place, Row(job, seq, command, through, at_, body, mark)
    return None


def _payload(page: bytes, at: int, length: int, usable: int, pages: dict[int, bytes]) -> bytes:
    if not 0 < length <= LARGEST_ROW:
        raise ValueError("no row is so long")
    most = usable - 35
    least = (usable - 12) * 32 // 255 - 23
    local = length
    if length > most:
        local = least + (length - least) % (usable - 4)
        local = local if local <= most else least
    parts = [page[at : at + local]]
    left = length - local
    number = int.from_bytes(page[at + local : at + local + 4], "big") if left else 0
    while left > 0:
        spill = pages.get(number)
        if spill is None:
            raise ValueError("the rest of the row is missing")
        parts.append(spill[4 : 4 + min(left, usable - 4)])
        left -= usable - 4
        number = int.from_bytes(spill[:4], "big")
    whole = b"".join(parts)
    if len(whole) != length:
        raise ValueError("the row is cut short")
    return whole


def _record(payload: bytes) -> list[Any]:
    header, at = _varint(payload, 0)
    kinds = []
    while at < header:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    values: list[Any] = []
    at = header
    for kind in kinds:
        size = (kind - 12) // 2 if kind >= 12 else (0, 1, 2, 3, 4, 6, 8, 8, 0, 0, 0, 0)[kind]
        data = payload[at : at + size]
        if len(data) != size:
            raise ValueError("the record is cut short")
        if kind >= 12:
            values.append(data if kind % 2 == 0 else data.decode("utf-8"))
        elif kind in (8, 9):
            values.append(kind - 8)
        else:
            values.append(None if kind == 0 else int.from_bytes(data, "big", signed=True))
        at += size
    return values


def _varint(data: bytes, at: int) -> tuple[int, int]:
    value = 0
    for index in range(8):
        byte = data[at + index]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + index + 1
    return value << 8 | data[at + 8], at + 9

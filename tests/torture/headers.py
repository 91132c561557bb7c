"""Sound files of every kind and of none: headers as the world writes them, and absurd ones."""

from __future__ import annotations

import io
import struct
from collections.abc import Iterator

import numpy as np
import soundfile

FORMATS = ("PCM_U8", "PCM_16", "PCM_24", "PCM_32", "FLOAT", "DOUBLE", "ULAW", "ALAW", "IMA_ADPCM")


def tone(rate: int, channels: int, seconds: float = 0.1) -> np.ndarray:
    """A quiet tone."""
    time = np.arange(round(rate * seconds)) / rate
    return np.repeat(0.3 * np.sin(2 * np.pi * 440 * time)[:, None], channels, axis=1)


def written(rate: int, channels: int, subtype: str, form: str = "WAV") -> bytes:
    """A file as soundfile writes it."""
    file = io.BytesIO()
    soundfile.write(file, tone(rate, channels), rate, subtype=subtype, format=form)
    return file.getvalue()


def good_headers() -> Iterator[bytes]:
    """Files that must be read."""
    for subtype in FORMATS:
        yield written(16_000, 1, subtype)
    for rate in (4_000, 8_000, 11_025, 22_050, 44_100, 48_000, 96_000, 384_000):
        yield written(rate, 2, "PCM_16")
    yield written(48_000, 8, "PCM_24")
    yield written(16_000, 1, "PCM_16", "FLAC")
    yield written(16_000, 1, "PCM_16", "AIFF")


def header(
    *, tag: int = 1, channels: int = 1, rate: int = 16_000, bits: int = 16, size: int = 3_200,
    data: bytes = bytes(3_200),
) -> bytes:  # fmt: skip
    """A WAV file whose header says whatever it is told, true or not. Source: Multimedia
    Programming Interface and Data Specifications 1.0, the `fmt ` and `data` chunks."""
    block = max(0, channels * bits // 8)
    fmt = struct.pack(
        "<HHIIHH", tag, channels, rate, rate * block & 0xFFFFFFFF, block & 0xFFFF, bits
    )
    body = b"WAVEfmt " + struct.pack("<I", len(fmt)) + fmt + b"data" + struct.pack("<I", size)
    return b"RIFF" + struct.pack("<I", len(body) + len(data)) + body + data


def odd_headers() -> Iterator[tuple[str, bytes]]:
    """Files that lie, and what about."""
    yield "nothing", b""
    yield "a cut header", header()[:20]
    yield "no sound", header(size=0, data=b"")
    yield "cut in mid-sound", header()[:-1_601]
    yield "more sound than there is", header(size=0x7FFFFFFF)
    yield "all sound there can be", header(size=0xFFFFFFFF)
    yield "a negative size", header(size=0x80000000)
    for rate in (0, 1, 3_999, 384_001, 0x7FFFFFFF, 0xFFFFFFFF):
        yield f"rate {rate}", header(rate=rate)
    for channels in (0, 65, 1_024, 1_025, 0xFFFF):
        yield f"{channels} channels", header(channels=channels)
    for bits in (0, 1, 7, 12, 64, 0xFFFF):
        yield f"{bits} bits", header(bits=bits)
    for tag in (0, 2, 3, 0x11, 0x31, 0x55, 0xFFFE, 0xFFFF):
        yield f"format {tag:#x}", header(tag=tag)
    yield "a text", b"title = 'not a sound'\n"
    yield "an archive", b"PK\x03\x04" + bytes(60)
    yield "not a number", header(tag=3, bits=32, data=b"\xff" * 3_200)

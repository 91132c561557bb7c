"""Text to the model's pieces and back: byte-pair encoding over the file `tokenizer.bin`."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from pathlib import Path

SPACE = "▁"
"""What a piece carries in place of a leading space."""

UNKNOWN, BEGIN, END = 0, 1, 2
FIRST_BYTE = 3
FIRST_PIECE = FIRST_BYTE + 256
"""The pieces proper. Before them stand three specials and one entry for each single byte, and an
entry for the byte `t` reads just like the piece `t`, though the model never writes it: a letter
must be looked up from here on, or every word with a one-letter piece is lost."""
FIRST_TAG = 32_000
"""From here on stand tags (`<<ST_0>>` ...) that are never text."""


def read_pieces(data: bytes) -> list[bytes]:
    """The entries of `tokenizer.bin`: each a length (two bytes from 128 up) and its bytes."""
    pieces = []
    at = 0
    while at < len(data):
        length = data[at]
        at += 1
        if length >= 128:
            length = length - 128 + data[at] * 128
            at += 1
        pieces.append(data[at : at + length])
        at += length
    return pieces


class Tokenizer:
    """The vocabulary of one model."""

    def __init__(self, path: Path) -> None:
        self._pieces = read_pieces(path.read_bytes())
        self._ids: dict[str, int] = {}
        for number, piece in enumerate(self._pieces[FIRST_PIECE:FIRST_TAG], FIRST_PIECE):
            self._ids.setdefault(piece.decode("utf-8", errors="replace"), number)
        self.encode = cache(self._encode)

    def __len__(self) -> int:
        return len(self._pieces)

    def id(self, piece: str) -> int:
        """The number of one whole piece; KeyError where the vocabulary lacks it."""
        return self._ids[piece]

    def can_write(self, text: str) -> bool:
        """Whether every character of `text` has a piece."""
        return all(character in self._ids for character in text.replace(" ", SPACE))

    def _encode(self, text: str) -> tuple[int, ...]:
        """Pieces of `text`, in which a space is written `▁`.

        Starts from single characters and joins, again and again, the neighbours whose joint
        piece has the lowest number. ValueError for a character that the vocabulary lacks.
        """
        parts = list(text)
        while True:
            pairs = [(self._ids.get(a + b), at) for at, (a, b) in enumerate(pairwise(parts))]
            known = [(number, at) for number, at in pairs if number is not None]
            if not known:
                break
            _, at = min(known)
            parts[at : at + 2] = [parts[at] + parts[at + 1]]
        try:
            return tuple(self._ids[part] for part in parts)
        except KeyError as missing:
            raise ValueError(f"{text!r}: no piece for {missing.args[0]!r}") from None

    def decode(self, ids: Sequence[int]) -> str:
        """The text of `ids`, without specials and tags, stripped."""
        data = bytearray()
        for number in ids:
            if FIRST_BYTE <= number < FIRST_PIECE:
                data.append(number - FIRST_BYTE)
            elif FIRST_PIECE <= number < FIRST_TAG:
                data += self._pieces[number]
        return data.decode("utf-8", errors="replace").replace(SPACE, " ").strip()

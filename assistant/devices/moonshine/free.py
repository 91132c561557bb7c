"""What the model writes when nothing holds it: the measure for whether a command was said."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from assistant.devices.moonshine.model import Encoded, Floats, Model
from assistant.devices.moonshine.tokenizer import BEGIN, END

PIECES_A_SECOND = 6.5
"""Speech has no more; beyond that the decoder is going round in circles."""


@dataclass
class FreeText:
    """The likeliest piece at every step, until the model ends or has written too much."""

    most: int
    """Pieces, at most."""
    score: float = 0.0
    """Log probability in nats, with that of the end."""
    pieces: list[int] = field(default_factory=list)
    is_open: bool = True

    @classmethod
    def of(cls, encoded: Encoded) -> FreeText:
        """A text yet to be written for `encoded`."""
        return cls(max(8, int(encoded.seconds * PIECES_A_SECOND) + 4))

    @property
    def last(self) -> int:
        """The piece to go on from."""
        return self.pieces[-1] if self.pieces else BEGIN

    def take(self, row: Floats) -> None:
        """The next piece, by the log probabilities of all."""
        best = int(np.argmax(row))
        self.score += float(row[best])
        if best == END:
            self.is_open = False
        else:
            self.pieces.append(best)
            self.is_open = len(self.pieces) < self.most


def decode_free(model: Model, encoded: Encoded) -> FreeText:
    """The whole free text, by itself."""
    free = FreeText.of(encoded)
    logs, cache = model.begin(encoded, [[BEGIN]])
    free.take(logs[0, -1])
    while free.is_open:
        free.take(model.step(cache, [0], [free.last])[0])
    return free

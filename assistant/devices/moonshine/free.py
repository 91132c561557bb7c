"""What the model writes when nothing holds it: the measure for whether a command was said."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.devices.moonshine.model import Encoded, Model
from assistant.devices.moonshine.tokenizer import BEGIN, END, Tokenizer

PIECES_A_SECOND = 6.5
"""Speech has no more; beyond that the decoder is going round in circles."""


@dataclass(frozen=True, slots=True)
class Free:
    """The free text of one utterance."""

    text: str
    score: float
    """Log probability of the whole text with its end, in nats."""
    ids: tuple[int, ...]


def decode_free(model: Model, tokenizer: Tokenizer, encoded: Encoded) -> Free:
    """The likeliest piece at every step, until the model ends or runs out of time."""
    limit = max(8, int(encoded.seconds * PIECES_A_SECOND) + 4)
    logs, cache = model.begin(encoded, [[BEGIN]])
    row = logs[0, -1]
    ids: list[int] = []
    score = 0.0
    while len(ids) < limit:
        best = int(np.argmax(row))
        score += float(row[best])
        if best == END:
            break
        ids.append(best)
        row = model.step(cache, [0], [best])[0]
    return Free(tokenizer.decode(ids), score, tuple(ids))

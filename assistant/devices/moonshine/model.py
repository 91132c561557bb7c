"""The network: an encoder over raw sound and a decoder that is stepped in batches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.devices.moonshine.assets import DECODER, ENCODER
from assistant.ports import RATE, Samples

Floats = NDArray[np.float32]

HEADS, HEAD_WIDTH = 8, 36
MAX_SECONDS = 9.2
"""Longer sound breaks the exported decoder (a mask can't be broadcast): cut it before."""
MIN_SECONDS = 0.2
"""Shorter sound leaves the encoder without a frame: pad it before."""


@dataclass(frozen=True, slots=True)
class Encoded:
    """What the encoder made of one stretch of sound, or of several versions of one."""

    hidden: Floats
    """(versions, frames, width)."""
    seconds: float

    @property
    def versions(self) -> int:
        """How often the stretch is in it."""
        return int(self.hidden.shape[0])

    @property
    def frames(self) -> int:
        """About 41.7 a second."""
        return int(self.hidden.shape[1])


class Cache:
    """Keys and values of the words so far, one row a hypothesis and version of the sound.

    Rows stand in groups, one of each version. The decoder's own grow with every step and follow
    their hypotheses; those over the sound are the same for every group, so they are kept once and
    repeated for the largest batch so far, of which smaller ones use the beginning.
    """

    def __init__(self, encoded: Encoded) -> None:
        self.encoded = encoded
        self.own: list[Floats] = []
        self.sound: list[Floats] = []
        self._repeated: list[Floats] = []

    def over_sound(self, rows: int) -> tuple[list[Floats], Floats]:
        """Keys and values over the sound, and the hidden states, for `rows` rows."""
        if not self._repeated or len(self._repeated[0]) < rows:
            groups = -(-rows // self.encoded.versions)
            self._repeated = []  # given back first: of long sound they are the most memory of all
            arrays = (*self.sound, self.encoded.hidden)
            self._repeated = [np.tile(each, (groups, *[1] * (each.ndim - 1))) for each in arrays]
        *sound, hidden = (each[:rows] for each in self._repeated)
        return sound, hidden


class Model:
    """The two ONNX graphs on a fixed number of threads. Used from one thread.

    As shipped their weights are 8-bit, and what passes through is rounded to 8 bits by the largest
    value of the batch: the score of a hypothesis may differ by some tenths of a nat with the
    company that it keeps.
    """

    def __init__(self, folder: Path, threads: int = 1) -> None:
        # Here, so that what only names an ear loads no native library: one that dies takes its
        # process along, and that is to be the ear's.
        import onnxruntime as ort

        # One thread took 0.16 s a phrase, two took 0.20: the steps are too small to share out.
        options = ort.SessionOptions()
        options.intra_op_num_threads = threads
        options.inter_op_num_threads = 1
        # The arena keeps what the longest utterance took: 370 MB in all, instead of 220.
        options.enable_cpu_mem_arena = False
        # Spinning workers keep a core busy between two steps; the window and the speaker need it.
        options.add_session_config_entry("session.intra_op.allow_spinning", "0")
        providers = ["CPUExecutionProvider"]
        self._encoder = ort.InferenceSession(str(folder / ENCODER), options, providers=providers)
        self._decoder = ort.InferenceSession(str(folder / DECODER), options, providers=providers)
        names = [value.name for value in self._decoder.get_inputs()]
        self._own = [name for name in names if ".decoder." in name]
        self._sound = [name for name in names if name.startswith("past") and ".encoder." in name]
        self._new_own = [name.replace("past_key_values", "present") for name in self._own]
        self._new_sound = [name.replace("past_key_values", "present") for name in self._sound]

    def encode(self, samples: Samples) -> Encoded:
        """Encode 0.2 to 9.2 s of sound."""
        sound = np.ascontiguousarray(samples, dtype=np.float32)[None]
        (hidden,) = self._encoder.run(
            None, {"input_values": sound, "attention_mask": np.ones(sound.shape, np.int64)}
        )
        return Encoded(hidden, samples.size / RATE)

    def begin(self, encoded: Encoded, first: Sequence[Sequence[int]]) -> tuple[Floats, Cache]:
        """Read whole rows of equal length at once, each against every version of the sound.

        Returns log probabilities (rows times versions, length, vocabulary) and the cache to go on
        with.
        """
        ids = np.repeat(np.asarray(first, np.int64), encoded.versions, axis=0)
        rows = ids.shape[0]
        empty = np.zeros((rows, HEADS, 0, HEAD_WIDTH), np.float32)
        feed = {
            "input_ids": ids,
            "encoder_hidden_states": np.tile(encoded.hidden, (len(first), 1, 1)),
            "encoder_attention_mask": np.ones((rows, encoded.frames), np.int64),
            "use_cache_branch": np.array([False]),
            **dict.fromkeys(self._own, empty),
            **dict.fromkeys(self._sound, empty),
        }
        logits, *states = self._decoder.run(["logits", *self._new_own, *self._new_sound], feed)
        cache = Cache(encoded)
        cache.own = states[: len(self._own)]
        cache.sound = [array[: encoded.versions] for array in states[len(self._own) :]]
        return log_softmax(logits), cache

    def step(self, cache: Cache, parents: Sequence[int], ids: Sequence[int]) -> Floats:
        """One more piece for each row: row `parents[i]` of the last step goes on with `ids[i]`, and
        hears version `i` modulo their number. Returns log probabilities (rows, vocabulary)."""
        rows = len(ids)
        keep = np.asarray(parents)
        sound, hidden = cache.over_sound(rows)
        feed = {
            "input_ids": np.asarray(ids, np.int64)[:, None],
            "encoder_hidden_states": hidden,
            "encoder_attention_mask": np.ones((rows, cache.encoded.frames), np.int64),
            "use_cache_branch": np.array([True]),
            **{name: array[keep] for name, array in zip(self._own, cache.own, strict=True)},
            **dict(zip(self._sound, sound, strict=True)),
        }
        logits, *cache.own = self._decoder.run(["logits", *self._new_own], feed)
        return log_softmax(logits[:, -1])


def together(*encoded: Encoded) -> Encoded:
    """Versions of one stretch of sound as one, to be heard at once. They must have equal frames."""
    return Encoded(np.concatenate([each.hidden for each in encoded]), encoded[0].seconds)


def log_softmax(logits: Floats) -> Floats:
    """Log probabilities along the last axis."""
    top = logits.max(axis=-1, keepdims=True)
    shifted = logits - top
    total = np.log(np.exp(shifted).sum(axis=-1, keepdims=True))
    return np.asarray(shifted - total, dtype=np.float32)

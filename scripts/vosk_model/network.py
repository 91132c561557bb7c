"""The acoustic network: a time-delay net with residual layers, and its export to Kaldi.

It looks at 40 log mel bands in steps of 10 ms and tells every 30 ms which sound begins. Each
layer sees what was before, what is now and what comes after, .82 s back and .43 s ahead in all.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import numpy as np
import torch
from torch import Tensor, nn
from torch.nn import functional

from vosk_model.features import BANDS
from vosk_model.kaldi_files import Component, write_model
from vosk_model.phones import OUTPUTS, PhoneTable

FIRST = 4
"""The first layer sees this many frames before and after."""
STRIDE = 3
SIDES = (
    (1, 1), (1, 1), (1, 1), (2, 1), (2, 1), (2, 1), (3, 1), (3, 1), (3, 1), (4, 2), (4, 2),
)  # fmt: skip
"""How far each further layer looks before and after, in answers of 30 ms. What comes is looked at
less than what was: every answer waits for it."""
BEFORE = STRIDE * sum(before for before, _ in SIDES)
AFTER = STRIDE * sum(after for _, after in SIDES)


class Layer(nn.Module):
    """A residual layer in two factors: into few channels from before and now, out of few channels
    of now and after (Povey et al. 2018, TDNN-F, without the orthogonality)."""

    def __init__(self, width: int, narrow: int, before: int, after: int) -> None:
        super().__init__()
        self.before, self.after = before, after
        self.into = nn.Conv1d(width, narrow, 2, dilation=before, bias=False)
        self.out_of = nn.Conv1d(narrow, width, 2, dilation=after)
        self.norm = nn.BatchNorm1d(width)

    def forward(self, x: Tensor, drop: nn.Module) -> Tensor:
        y = functional.relu(self.norm(self.out_of(self.into(x))))
        inner: Tensor = x[:, :, self.before : x.shape[2] - self.after]
        return drop(y) + inner


class Network(nn.Module):
    """Log mel bands (batch, frames, 40) to log probabilities (batch, ceil(frames / 3), 40)."""

    def __init__(self, width: int = 448, narrow: int = 112, drop: float = 0.1) -> None:
        super().__init__()
        self.width, self.narrow = width, narrow
        self.first = nn.Conv1d(BANDS, width, 2 * FIRST + 1, stride=STRIDE)
        self.norm = nn.BatchNorm1d(width)
        self.layers = nn.ModuleList(Layer(width, narrow, *sides) for sides in SIDES)
        self.last = nn.Conv1d(width, OUTPUTS, 1)
        self.drop = nn.Dropout(drop)
        self.register_buffer("mean", torch.zeros(BANDS))
        self.register_buffer("deviation", torch.ones(BANDS))

    def forward(self, bands: Tensor) -> Tensor:
        x = ((bands - self.mean) / self.deviation).transpose(1, 2)
        # Kaldi repeats the first and the last frame where it has none.
        x = functional.pad(x, (FIRST + BEFORE, FIRST + AFTER), mode="replicate")
        x = functional.relu(self.norm(self.first(x)))
        for layer in self.layers:
            x = layer(x, self.drop)
        return functional.log_softmax(self.last(x).float(), 1).transpose(1, 2)


def export(network: Network, path: Path, table: PhoneTable, blank_penalty: float) -> None:
    """Write `network` as Kaldi's `final.mdl`.

    `blank_penalty` is the natural logarithm by which the decoder marks down "no new sound".
    """
    network = network.cpu().eval()
    nodes = [f"input-node name=input dim={BANDS}"]
    components: list[Component] = []

    def affine(name: str, seen: str, weights: Tensor, bias: Tensor) -> None:
        nodes.append(f"component-node name={name} component={name} input={seen}")
        components.append((name, "FixedAffineComponent", _arrays(weights, bias)))

    def unweighted(name: str, kind: str, seen: str, size: int) -> None:
        nodes.append(f"component-node name={name} component={name} input={seen}")
        components.append((name, kind, size))

    weights, bias = _folded(network.first, network.norm)
    mean = network.mean.double().repeat(2 * FIRST + 1)
    deviation = network.deviation.double().repeat(2 * FIRST + 1)
    bias = bias - weights @ (mean / deviation)
    affine("t0.a", _spliced("input", range(-FIRST, FIRST + 1)), weights / deviation, bias)
    unweighted("t0.s", "RectifiedLinearComponent", "t0.a", network.width)
    below = "t0.s"
    for number, layer in enumerate(network.layers, 1):
        name = f"t{number}"
        into = layer.into.weight.detach().double().permute(0, 2, 1).flatten(1)
        seen = _spliced(below, (-STRIDE * layer.before, 0))
        affine(f"{name}.i", seen, into, torch.zeros(network.narrow))
        seen = _spliced(f"{name}.i", (0, STRIDE * layer.after))
        affine(f"{name}.a", seen, *_folded(layer.out_of, layer.norm))
        unweighted(f"{name}.r", "RectifiedLinearComponent", f"{name}.a", network.width)
        unweighted(f"{name}.s", "NoOpComponent", f"Sum({below}, {name}.r)", network.width)
        below = f"{name}.s"
    affine("o.a", below, network.last.weight[:, :, 0], network.last.bias)
    unweighted("o.l", "LogSoftmaxComponent", "o.a", OUTPUTS)
    nodes.append("output-node name=output input=o.l objective=linear")
    priors = np.ones(OUTPUTS, np.float32)
    priors[0] = np.exp(blank_penalty)
    write_model(path, table, nodes, components, priors)


def _spliced(below: str, offsets: Iterable[int]) -> str:
    seen = (below if offset == 0 else f"Offset({below}, {offset})" for offset in offsets)
    return f"Append({', '.join(seen)})"


def _folded(convolution: nn.Conv1d, norm: nn.BatchNorm1d) -> tuple[Tensor, Tensor]:
    """Weights (out, offsets x in) and bias of a layer with its batch norm folded in."""
    weights = convolution.weight.detach().double().permute(0, 2, 1).flatten(1)
    bias = convolution.bias.detach().double()
    scale = (norm.weight / torch.sqrt(norm.running_var + norm.eps)).detach().double()
    shift = norm.bias.detach().double() - norm.running_mean.double() * scale
    return weights * scale[:, None], bias * scale + shift


def _arrays(weights: Tensor, bias: Tensor) -> tuple[object, object]:
    return weights.detach().numpy(), bias.detach().float().numpy()

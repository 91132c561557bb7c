"""The acoustic network: a time-delay net with residual layers, and its export to Kaldi.

It looks at 40 log mel bands in steps of 10 ms and tells every 30 ms which sound begins. Each
layer sees one frame before, one now and one after, ever further apart; .43 s ahead in all.
"""

from __future__ import annotations

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
REACHES = (3, 3, 3, 6, 6, 9, 9)
"""How far each further layer looks before and after, in frames of 10 ms."""
CONTEXT = FIRST + sum(REACHES)
STRIDE = 3


class Network(nn.Module):
    """Log mel bands (batch, frames, 40) to log probabilities (batch, ceil(frames / 3), 40)."""

    def __init__(self, width: int = 320, drop: float = 0.1) -> None:
        super().__init__()
        self.width = width
        self.first = nn.Conv1d(BANDS, width, 2 * FIRST + 1, stride=STRIDE)
        self.layers = nn.ModuleList(
            nn.Conv1d(width, width, 3, dilation=reach // STRIDE) for reach in REACHES
        )
        self.norms = nn.ModuleList(nn.BatchNorm1d(width) for _ in range(len(REACHES) + 1))
        self.last = nn.Conv1d(width, OUTPUTS, 1)
        self.drop = nn.Dropout(drop)
        self.register_buffer("mean", torch.zeros(BANDS))
        self.register_buffer("deviation", torch.ones(BANDS))

    def forward(self, bands: Tensor) -> Tensor:
        x = ((bands - self.mean) / self.deviation).transpose(1, 2)
        # Kaldi repeats the first and the last frame where it has none.
        x = functional.pad(x, (CONTEXT, CONTEXT), mode="replicate")
        x = x[:, :, sum(REACHES) % STRIDE :]
        x = functional.relu(self.norms[0](self.first(x)))
        for number, (layer, reach) in enumerate(zip(self.layers, REACHES, strict=True), 1):
            side = reach // STRIDE
            y = functional.relu(self.norms[number](layer(x)))
            x = self.drop(y) + x[:, :, side:-side]
        return functional.log_softmax(self.last(x).float(), 1).transpose(1, 2)


def export(network: Network, path: Path, table: PhoneTable, blank_penalty: float) -> None:
    """Write `network` as Kaldi's `final.mdl`.

    `blank_penalty` is the natural logarithm by which the decoder marks down "no new sound".
    """
    network = network.cpu().eval()
    nodes = [f"input-node name=input dim={BANDS}"]
    components: list[Component] = []
    before = "input"
    convolutions = [network.first, *network.layers]
    offsets = [range(-FIRST, FIRST + 1), *((-reach, 0, reach) for reach in REACHES)]
    for number, (convolution, norm, seen) in enumerate(
        zip(convolutions, network.norms, offsets, strict=True)
    ):
        weights, bias = _folded(convolution, norm)
        if number == 0:
            mean = network.mean.double().repeat(2 * FIRST + 1)
            deviation = network.deviation.double().repeat(2 * FIRST + 1)
            bias = bias - weights @ (mean / deviation)
            weights = weights / deviation
        name, width = f"t{number}", len(bias)
        spliced = ", ".join(before if o == 0 else f"Offset({before}, {o})" for o in seen)
        nodes.append(f"component-node name={name}.a component={name}.a input=Append({spliced})")
        nodes.append(f"component-node name={name}.r component={name}.r input={name}.a")
        components.append((f"{name}.a", "FixedAffineComponent", _arrays(weights, bias)))
        components.append((f"{name}.r", "RectifiedLinearComponent", width))
        if number:
            summed = f"Sum({before}, {name}.r)"
            nodes.append(f"component-node name={name}.s component={name}.s input={summed}")
            components.append((f"{name}.s", "NoOpComponent", width))
        before = f"{name}.s" if number else f"{name}.r"
    nodes.append(f"component-node name=o.a component=o.a input={before}")
    nodes.append("component-node name=o.l component=o.l input=o.a")
    nodes.append("output-node name=output input=o.l objective=linear")
    weights, bias = network.last.weight[:, :, 0], network.last.bias
    components.append(("o.a", "FixedAffineComponent", _arrays(weights, bias)))
    components.append(("o.l", "LogSoftmaxComponent", OUTPUTS))
    priors = np.ones(OUTPUTS, np.float32)
    priors[0] = np.exp(blank_penalty)
    write_model(path, table, nodes, components, priors)


def _folded(convolution: nn.Conv1d, norm: nn.BatchNorm1d) -> tuple[Tensor, Tensor]:
    """Weights (out, offsets x in) and bias of a layer with its batch norm folded in."""
    weights = convolution.weight.detach().double().permute(0, 2, 1).flatten(1)
    bias = convolution.bias.detach().double()
    scale = (norm.weight / torch.sqrt(norm.running_var + norm.eps)).detach().double()
    shift = norm.bias.detach().double() - norm.running_mean.double() * scale
    return weights * scale[:, None], bias * scale + shift


def _arrays(weights: Tensor, bias: Tensor) -> tuple[object, object]:
    return weights.detach().numpy(), bias.detach().float().numpy()

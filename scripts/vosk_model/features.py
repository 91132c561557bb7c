"""Log mel bands as Kaldi reckons them, in batches, on whatever device the samples are.

25 ms frames every 10 ms, offset taken off, pre-emphasis .97, Povey's window, 40 triangular mel
bands from 20 to 7,600 Hz, natural logarithm of power; samples in the scale of 16-bit integers.
The model's conf/fbank.conf says the same to Vosk.
"""

from __future__ import annotations

import math
from functools import cache

import torch
from torch import Tensor

RATE = 16_000
BANDS = 40
LOW, HIGH = 20.0, 7600.0
FRAME, STEP, POINTS = 400, 160, 512
WARPS = (0.88, 0.91, 0.94, 0.97, 1.0, 1.0, 1.03, 1.06, 1.09, 1.12)
"""Factors by which the mel bands are moved in training: shorter and longer vocal tracts."""
PLAIN = WARPS.index(1.0)

FBANK_CONF = f"""\
--num-mel-bins={BANDS}
--low-freq={LOW:.0f}
--high-freq={HIGH:.0f}
--dither=1.0
"""


def _mel(hertz: Tensor) -> Tensor:
    return 1127.0 * torch.log(1.0 + hertz / 700.0)


def _bank(warp: float) -> Tensor:
    """Weights (bands, bins) of the triangles, each `warp` times higher."""
    low, high = _mel(torch.tensor([LOW, HIGH], dtype=torch.float64))
    step = (high - low) / (BANDS + 1)
    left = low + step * torch.arange(BANDS, dtype=torch.float64)[:, None]
    hertz = torch.arange(POINTS // 2 + 1, dtype=torch.float64) * RATE / POINTS / warp
    at = _mel(hertz)[None, :]
    bank = torch.minimum((at - left) / step, (left + 2 * step - at) / step).clamp(min=0)
    bank[:, POINTS // 2] = 0  # Kaldi leaves the last bin out
    return bank.float()


@cache
def _tables(device: torch.device) -> tuple[Tensor, Tensor]:
    n = torch.arange(FRAME, dtype=torch.float64)
    window = (0.5 - 0.5 * torch.cos(2 * math.pi * n / (FRAME - 1))) ** 0.85
    banks = torch.stack([_bank(warp) for warp in WARPS])
    return window.float().to(device), banks.to(device)


def log_mel(samples: Tensor, warp: Tensor | None = None) -> Tensor:
    """Bands (batch, frames, 40) of samples (batch, n); `warp` indexes WARPS for each sound."""
    window, banks = _tables(samples.device)
    frames = samples.unfold(1, FRAME, STEP)
    frames = frames - frames.mean(2, keepdim=True)
    before = torch.cat((frames[:, :, :1], frames[:, :, :-1]), 2)
    spectrum = torch.fft.rfft((frames - 0.97 * before) * window, n=POINTS)
    power = spectrum.real**2 + spectrum.imag**2
    if warp is None:
        energy = power @ banks[PLAIN].T
    else:
        energy = torch.bmm(power, banks[warp].transpose(1, 2))
    return energy.clamp(min=torch.finfo(torch.float32).eps).log()

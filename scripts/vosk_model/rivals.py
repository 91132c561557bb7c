"""The second stage's measure: what was said against everything else that could be heard.

CTC alone makes the right sounds likely. Here the right sounds are also set against all strings of
sounds, weighed by how often one sound follows another in the training sentences (CTC-CRF, Xiang
and Ou 2019, arXiv:1904.08848; a relative of Kaldi's lattice-free MMI).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import torch
from torch import Tensor

from vosk_model.phones import BLANK, SOUNDS

SCALE = 0.7
"""How much the chances of one sound after another count beside the sounds themselves."""
SMOOTHING = 0.5


class Rivals:
    """The sum over all strings of sounds; made once from training strings (numbers from 1)."""

    def __init__(self, strings: Iterable[Sequence[int]], device: torch.device) -> None:
        count = len(SOUNDS)
        follows = torch.full((count + 1, count + 1), SMOOTHING)  # row, column 0: start, end
        for string in strings:
            for before, after in zip((0, *string), (*string, 0), strict=True):
                follows[before, after] += 1
        chances = (follows / follows.sum(1, keepdim=True)).pow(SCALE).to(device)
        self._begin, self._end = chances[0, 1:], chances[1:, 0]
        self._silent_end = chances[0, 0]
        self._follow = chances[1:, 1:]
        # A sound that comes twice needs a blank between.
        self._follow_at_once = self._follow * (1 - torch.eye(count, device=device))

    def log_sum(self, answers: Tensor) -> Tensor:
        """Log of the sum over all strings and timings, for log probabilities (batch, time, 40)."""
        chances = answers.float().exp()
        blank = chances[:, :, BLANK, None]
        sounds = torch.cat((chances[:, :, :BLANK], chances[:, :, BLANK + 1 :]), 2)
        # Chance of being in silence before the first sound, in each sound, and after each.
        silent = blank[:, 0]
        inside = sounds[:, 0] * self._begin
        after = torch.zeros_like(inside)
        total = torch.zeros(len(answers), device=answers.device)
        for moment in range(1, answers.shape[1]):
            come = inside @ self._follow_at_once + after @ self._follow + silent * self._begin
            after = blank[:, moment] * (after + inside)
            inside = sounds[:, moment] * (inside + come)
            silent = silent * blank[:, moment]
            size = (silent[:, 0] + inside.sum(1) + after.sum(1)).clamp(min=1e-20)[:, None]
            silent, inside, after = silent / size, inside / size, after / size
            total = total + size[:, 0].log()
        end = silent[:, 0] * self._silent_end + ((inside + after) * self._end).sum(1)
        return total + end.clamp(min=1e-20).log()

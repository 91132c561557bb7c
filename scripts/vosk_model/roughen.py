"""Makes clean clips sound as in a shop: other speeds, rooms, microphones, levels and noises.

All in batches on the training device, anew for every clip each time it is seen. The noises are
drawn from broad families (coloured hiss, hums, beats, blows, other talk), not from the recipes
that the ears are measured with.
"""

from __future__ import annotations

import math

import torch
from torch import Tensor
from torch.nn import functional

from vosk_model.features import RATE

NOISES, NOISE_SECONDS = 300, 6
ROOMS, ROOM_SECONDS = 200, 0.6
EVEN = 1600
"""Clips are of a multiple of so many samples: Fourier transforms of other lengths take long."""


class Roughener:
    """Random surroundings on one device; all chance comes from `generator`."""

    def __init__(self, device: torch.device, generator: torch.Generator) -> None:
        self.device, self.generator = device, generator
        self.noises = torch.cat([self._noises(50) for _ in range(NOISES // 50)])
        self.rooms = self._rooms(ROOMS)

    def surround(self, sound: Tensor, lengths: Tensor) -> Tensor:
        """Samples in 16-bit scale, from sound (batch, n) with `lengths` of speech in each row."""
        level = sound.pow(2).sum(1, keepdim=True) / lengths[:, None]
        sound = self._in_room(sound)
        sound = self._coloured(sound)
        noisy = self._rand(len(sound), 1) < 0.8
        ratio = self._uniform(len(sound), 1, -3, 30)
        noise = self._some_noise(sound)
        level = torch.where(level > 1e-8, level, 1e-3)
        loud = (level / 10 ** (ratio / 10)).sqrt()
        sound = sound + torch.where(noisy, noise * loud, 0.0)
        sound = self._overdriven(sound)
        peak = sound.abs().amax(1, keepdim=True).clamp(min=1e-6)
        gain = torch.exp(self._uniform(len(sound), 1, math.log(0.02), 0.0))
        sound = sound / peak * gain * 32000
        floor = torch.exp(self._uniform(len(sound), 1, math.log(0.7), math.log(12)))
        hiss = torch.randn(sound.shape, device=self.device, generator=self.generator)
        return sound + hiss * floor

    # ------------------------------------------------------------ parts

    def _rand(self, *shape: int) -> Tensor:
        return torch.rand(*shape, device=self.device, generator=self.generator)

    def _uniform(self, rows: int, columns: int, low: float, high: float) -> Tensor:
        return low + (high - low) * self._rand(rows, columns)

    def place(self, clips: Tensor, lengths: Tensor, rates: Tensor) -> Tensor:
        """Clips (batch, m) at other speeds, with silence before and after, all of one length.

        `lengths` are the clips' own lengths, `rates` the speeds at which they are played.
        """
        before = self._uniform(len(clips), 1, 0.05, 0.5)[:, 0] * RATE
        after = self._uniform(len(clips), 1, 0.3, 0.7)[:, 0] * RATE
        n = -(-int((before + lengths / rates + after).amax()) // EVEN) * EVEN
        at = (torch.arange(n, device=self.device)[None, :] - before[:, None]) * rates[:, None]
        inside = (at >= 0) & (at < (lengths - 1)[:, None])
        low = at.clamp(min=0).long().clamp(max=clips.shape[1] - 2)
        part = at - low
        sound = clips.gather(1, low) * (1 - part) + clips.gather(1, low + 1) * part
        return torch.where(inside, sound, 0.0)

    def _in_room(self, sound: Tensor) -> Tensor:
        room = self.rooms[torch.randint(ROOMS, (len(sound),), device=self.device,
                                        generator=self.generator)]  # fmt: skip
        wet = _convolve(sound, room)
        return torch.where(self._rand(len(sound), 1) < 0.45, wet, sound)

    def _coloured(self, sound: Tensor) -> Tensor:
        """Another microphone: a smooth curve over frequency, now and then a narrow band."""
        points = self._uniform(len(sound), 10, -4, 4).cumsum(1)
        points = points - points.mean(1, keepdim=True)
        spectrum = torch.fft.rfft(sound)
        curve = functional.interpolate(
            points[:, None], spectrum.shape[1], mode="linear", align_corners=True
        )[:, 0]
        curve = torch.where(self._rand(len(sound), 1) < 0.6, curve, 0.0)
        hertz = torch.linspace(0, RATE / 2, spectrum.shape[1], device=self.device)[None]
        top = self._uniform(len(sound), 1, 2800, 4000)
        narrow = (self._rand(len(sound), 1) < 0.1) & (hertz > top)
        bottom = self._uniform(len(sound), 1, 60, 350)
        thin = (self._rand(len(sound), 1) < 0.2) & (hertz < bottom)
        curve = curve - 40.0 * (narrow | thin)
        return torch.fft.irfft(spectrum * 10 ** (curve / 20), n=sound.shape[1])

    def _some_noise(self, sound: Tensor) -> Tensor:
        rows, n = sound.shape
        which = torch.randint(NOISES, (rows,), device=self.device, generator=self.generator)
        begin = torch.randint(NOISE_SECONDS * RATE, (rows, 1), device=self.device,
                              generator=self.generator)  # fmt: skip
        at = (begin + torch.arange(n, device=self.device)[None]) % (NOISE_SECONDS * RATE)
        noise = self.noises[which].gather(1, at)
        # Other talk: the clips of this batch, turned and laid over each other.
        talk = sound.roll(1, 0) + sound.roll(2, 0) * self._rand(rows, 1)
        talk = talk.roll(int(self._rand(1).item() * n), 1)
        talk = talk / talk.pow(2).mean(1, keepdim=True).sqrt().clamp(min=1e-4)
        share = torch.where(self._rand(rows, 1) < 0.15, self._uniform(rows, 1, 0.1, 0.5), 0.0)
        mixed = noise * (1 - share) + talk * share
        return mixed / mixed.pow(2).mean(1, keepdim=True).sqrt().clamp(min=1e-4)

    def _overdriven(self, sound: Tensor) -> Tensor:
        peak = sound.abs().amax(1, keepdim=True).clamp(min=1e-6)
        drive = self._uniform(len(sound), 1, 1.0, 4.0)
        hot = torch.tanh(sound / peak * drive) * peak
        return torch.where(self._rand(len(sound), 1) < 0.06, hot, sound)

    # ------------------------------------------------------------ what is drawn once

    def _noises(self, rows: int) -> Tensor:
        n = NOISE_SECONDS * RATE
        white = torch.randn(rows, n, device=self.device, generator=self.generator)
        hertz = torch.fft.rfftfreq(n, 1 / RATE).to(self.device).clamp(min=20.0)[None]
        slope = self._uniform(rows, 1, -0.3, 1.1)
        bump = self._uniform(rows, 1, 0, 5) * torch.exp(
            -(((hertz / self._uniform(rows, 1, 150, 6000)).log() / 0.5) ** 2)
        )
        hiss = torch.fft.irfft(torch.fft.rfft(white) * hertz**-slope * (1 + bump), n=n)
        noise = _unit(hiss)
        t = torch.arange(n, device=self.device)[None] / RATE
        wander = 1 + 0.01 * torch.sin(2 * math.pi * self._uniform(rows, 1, 0.1, 2) * t)
        hum = torch.zeros_like(noise)
        base = torch.exp(self._uniform(rows, 1, math.log(20), math.log(700)))
        fall = self._uniform(rows, 1, 0.2, 1.5)
        phase = 2 * math.pi * base * t * wander
        for k in range(1, 25):
            strength = self._rand(rows, 1) * (base * k < 7500) / k**fall
            hum = hum + strength * torch.sin(k * phase + 6.28 * self._rand(rows, 1))
        noise = noise + _unit(hum) * self._uniform(rows, 1, 0, 2) * (self._rand(rows, 1) < 0.5)
        # Beats of a machine: louder and softer, slowly or as fast as teeth go by.
        beat = torch.exp(self._uniform(rows, 1, math.log(0.3), math.log(40)))
        swell = 1 + self._rand(rows, 1) * torch.sin(2 * math.pi * beat * t)
        noise = torch.where(self._rand(rows, 1) < 0.4, noise * swell, noise)
        return _unit(noise + self._blows(rows, n))

    def _blows(self, rows: int, n: int) -> Tensor:
        """Blows, clicks and chips: short bursts at random, each ringing in its own tones."""
        dense = torch.exp(self._uniform(rows, 1, math.log(0.5), math.log(25))) / RATE
        hits = (self._rand(rows, n) < dense) * self._rand(rows, n) * 60
        t = torch.arange(int(0.3 * RATE), device=self.device)[None] / RATE
        ring = torch.exp(-t / torch.exp(self._uniform(rows, 1, math.log(0.003), math.log(0.08))))
        tones = sum(
            torch.sin(2 * math.pi * self._uniform(rows, 1, 300, 5000) * t) for _ in range(3)
        )
        burst = torch.randn(rows, t.shape[1], device=self.device, generator=self.generator)
        blows = _convolve(hits, ring * (tones + burst))
        return blows * (self._rand(rows, 1) < 0.3)

    def _rooms(self, rows: int) -> Tensor:
        """Answers of rooms: the sound itself, then a tail of noise that dies away."""
        n = int(ROOM_SECONDS * RATE)
        t = torch.arange(n, device=self.device)[None] / RATE
        tail = torch.randn(rows, n, device=self.device, generator=self.generator)
        tail = tail * torch.exp(-6.9 * t / self._uniform(rows, 1, 0.1, 0.6))
        tail = tail * self._uniform(rows, 1, 0.03, 0.35)
        tail = tail * (t > self._uniform(rows, 1, 0.001, 0.008))
        tail[:, 0] = 1.0
        return tail


def _unit(x: Tensor) -> Tensor:
    return x / x.pow(2).mean(1, keepdim=True).sqrt().clamp(min=1e-6)


def _convolve(x: Tensor, answer: Tensor) -> Tensor:
    n = x.shape[1] + answer.shape[1]
    return torch.fft.irfft(torch.fft.rfft(x, n=n) * torch.fft.rfft(answer, n=n), n=n)[
        :, : x.shape[1]
    ]

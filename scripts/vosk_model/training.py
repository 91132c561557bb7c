"""Trains the acoustic network by CTC over sounds, on one GPU or on the CPU.

Every clip is seen twice in a step, in two surroundings, and the two answers are also drawn
towards each other (consistency regularisation, Yao et al. 2024, arXiv:2410.05101). Where a word
can be said in several ways, three readings are drawn, one of them without r as in Britain, and the
likeliest counts. A clip that another ear heard (`teaching.py`) stays in its own surroundings, and
every other time its words are drawn from what that ear made of it.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import torch
from torch import Tensor
from torch.nn import functional

from vosk_model.features import BANDS, WARPS, log_mel
from vosk_model.lexicon import Pronunciations, without_r
from vosk_model.network import Network
from vosk_model.phones import BLANK, SOUNDS
from vosk_model.roughen import Roughener
from vosk_model.synthesis import Clip

NUMBERS = {sound: number + 1 for number, sound in enumerate(SOUNDS)}
READINGS = 3
CONSISTENCY = 0.2
TAUGHT = 0.5
"""How often the words of a clip are another ear's answer, where there is one."""
PART = 64
"""Clips that are examined at once."""


@dataclass(frozen=True, slots=True)
class Schedule:
    """How long and in what steps."""

    seconds: float
    batch: int = 256
    width: int = 448
    narrow: int = 112
    rate: float = 3e-3
    seed: int = 1
    memory: float = 0.998
    """The network that is kept is a running mean over about 1 / (1 - memory) steps."""
    drop: float = 0.1
    """Share of a layer's answers left out by chance in each step."""
    look: float = 60.0
    """Seconds between two looks at the clips that are kept from training."""


class ClipStore:
    """All clips in the device's memory, end to end."""

    def __init__(self, clips: Sequence[Clip], lexicon: Pronunciations, device: torch.device):
        self.device, self.lexicon = device, lexicon
        self.british = {word: [without_r(way) for way in ways] for word, ways in lexicon.items()}
        self.words = [clip.words for clip in clips]
        self.answers = [clip.answers for clip in clips]
        sizes = np.array([clip.samples.size for clip in clips])
        self.lengths = torch.tensor(sizes)
        self.begins = torch.tensor(np.concatenate(([0], np.cumsum(sizes)[:-1])))
        self.samples = torch.from_numpy(np.concatenate([c.samples for c in clips])).to(device)

    def batch(self, chosen: Sequence[int]) -> tuple[Tensor, Tensor]:
        """Samples (batch, longest) from -1 to 1 and their lengths."""
        lengths = self.lengths[list(chosen)]
        longest = int(lengths.max())
        begins = self.begins[list(chosen)].to(self.device)
        step = torch.arange(longest, device=self.device)
        at = (begins[:, None] + step).clamp(max=len(self.samples) - 1)
        lengths = lengths.to(self.device)
        sound = self.samples[at].float() / 32768
        return torch.where(step < lengths[:, None], sound, 0.0), lengths

    def readings(
        self, chosen: Sequence[int], rng: random.Random, count: int
    ) -> list[tuple[Tensor, Tensor]]:
        """Sounds of each clip, in one row a clip, and how many; every third time without r."""
        said = [self._said(clip, rng) for clip in chosen]
        return [self._reading(said, rng, number % 3 == 2) for number in range(count)]

    def _said(self, clip: int, rng: random.Random) -> Sequence[str]:
        if self.answers[clip] and rng.random() < TAUGHT:
            sentences, shares = zip(*self.answers[clip], strict=True)
            return rng.choices(sentences, shares)[0]
        return self.words[clip]

    def _reading(
        self, said: Sequence[Sequence[str]], rng: random.Random, british: bool
    ) -> tuple[Tensor, Tensor]:
        lexicon = self.british if british else self.lexicon
        rows = [[NUMBERS[s] for word in words for s in rng.choice(lexicon[word])] for words in said]
        lengths = torch.tensor([len(row) for row in rows])
        padded = torch.zeros(len(rows), max(1, int(lengths.max())), dtype=torch.long)
        for number, row in enumerate(rows):
            padded[number, : len(row)] = torch.tensor(row, dtype=torch.long)
        return padded.to(self.device), lengths.to(self.device)


class Examination:
    """Clips that are not trained on, quiet and in noise, always the same."""

    def __init__(self, clips: Sequence[Clip], lexicon: Pronunciations, device: torch.device):
        store, rng = ClipStore(clips, lexicon, device), random.Random(0)
        roughen = Roughener(device, torch.Generator(device).manual_seed(0))
        order = sorted(range(len(clips)), key=store.lengths.tolist().__getitem__)
        self._parts = []
        for at in range(0, len(order), PART):
            chosen = order[at : at + PART]
            sound, lengths = store.batch(chosen)
            placed = roughen.place(sound, lengths, torch.ones(len(chosen), device=device))
            noisy = roughen.surround(placed, lengths)
            quiet = placed * 16_000 + torch.randn_like(placed)
            bands = log_mel(torch.cat((quiet, noisy)))
            self._parts.append((bands, store.readings(chosen, rng, 6)))

    @torch.no_grad()
    def loss(self, network: Network) -> float:
        """CTC loss a sound, in the likeliest reading."""
        training = network.training
        network.eval()
        losses = []
        for bands, readings in self._parts:
            answers = network(bands)
            losses.append(_likeliest(answers, readings))
        network.train(training)
        return float(torch.cat(losses).mean())


def train(
    clips: Sequence[Clip],
    weights: Sequence[float],
    lexicon: Pronunciations,
    schedule: Schedule,
    device: torch.device,
    start: Network | None = None,
    keep: Callable[[Network], None] = lambda network: None,
    watched: Sequence[Clip] = (),
) -> None:
    """Train for `schedule.seconds` on clips drawn by `weights`.

    `start` is a network to go on from. `keep` is given the network whenever it is better than
    before on `watched`, clips that are not trained on; without any, at every look.
    """
    torch.manual_seed(schedule.seed)
    rng = random.Random(schedule.seed)
    store = ClipStore(clips, lexicon, device)
    roughen = Roughener(device, torch.Generator(device).manual_seed(schedule.seed))
    if start is None:
        network = Network(schedule.width, schedule.narrow).to(device)
        _normalise(network, store, rng, roughen)
    else:
        network = start.to(device)
    average = torch.optim.swa_utils.AveragedModel(
        network,
        multi_avg_fn=torch.optim.swa_utils.get_ema_multi_avg_fn(schedule.memory),
        use_buffers=True,
    )
    optimiser = torch.optim.AdamW(network.parameters(), lr=schedule.rate, weight_decay=1e-3)
    examined = Examination(watched, lexicon, device) if watched else None
    best = math.inf if examined is None else examined.loss(average.module)
    print(f"before: {best:.4f} on what is kept from training", flush=True)
    begun, shown, looked = time.monotonic(), 0.0, time.monotonic()
    warming = 300 if start is None else 20
    network.drop.p = schedule.drop
    network.train()
    for steps, chosen in enumerate(_batches(store, weights, schedule.batch, rng)):
        share = (time.monotonic() - begun) / schedule.seconds
        if share >= 1:
            break
        warm = min(1.0, (steps + 1) / warming)
        for group in optimiser.param_groups:
            group["lr"] = schedule.rate * warm * max(0.01, 0.5 * (1 + math.cos(math.pi * share)))
        loss, parts = _loss(network, store, roughen, chosen, rng)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(network.parameters(), 5.0)
        optimiser.step()
        average.update_parameters(network)
        if time.monotonic() - looked > schedule.look:
            best = _look(average.module, examined, best, keep)
            looked = time.monotonic()
        if time.monotonic() - shown > 10:
            shown = time.monotonic()
            values = " ".join(f"{name} {value.item():.4f}" for name, value in parts.items())
            print(f"{share:.3f} step {steps} {values}", flush=True)
    _look(average.module, examined, best, keep)


def _look(
    network: Network,
    examined: Examination | None,
    best: float,
    keep: Callable[[Network], None],
) -> float:
    """The least loss so far; keeps a network that is better."""
    if examined is None:
        keep(network)
        return best
    loss = examined.loss(network)
    print(f"{loss:.4f} on what is kept from training, best before {best:.4f}", flush=True)
    if loss < best:
        keep(network)
    return min(loss, best)


def _batches(store: ClipStore, weights: Sequence[float], size: int, rng: random.Random):  # type: ignore[no-untyped-def]
    """Batches of clips of nearly the same length, without end, drawn by weight."""
    lengths = store.lengths.tolist()
    everything = range(len(lengths))
    while True:
        drawn = rng.choices(everything, weights, k=size * 32)
        drawn.sort(key=lambda i: lengths[i] * rng.uniform(0.9, 1.1))
        batches = [drawn[at : at + size] for at in range(0, len(drawn), size)]
        rng.shuffle(batches)
        yield from batches


def _loss(
    network: Network,
    store: ClipStore,
    roughen: Roughener,
    chosen: Sequence[int],
    rng: random.Random,
) -> tuple[Tensor, dict[str, Tensor]]:
    clips, lengths = store.batch(chosen)
    as_heard = [bool(store.answers[clip]) for clip in chosen]
    speeds = [1.0 if heard else rng.uniform(0.82, 1.2) for heard in as_heard]
    rates = torch.tensor(speeds, device=store.device)
    # Both views share speed and place in time, so that their answers can be compared.
    placed = roughen.place(clips, lengths, rates)
    kept = torch.tensor(as_heard, device=store.device)[:, None]
    views = [
        torch.where(
            kept,
            placed * 32768 + torch.randn_like(placed),
            roughen.surround(placed, lengths / rates),
        )
        for _ in range(2)
    ]
    warp = torch.tensor([rng.randrange(len(WARPS)) for _ in chosen] * 2, device=store.device)
    bands = _masked(log_mel(torch.cat(views), warp), rng)
    with torch.autocast(store.device.type, dtype=torch.bfloat16):
        answers = network(bands)
    answers = answers.float()
    readings = store.readings(chosen, rng, READINGS)
    sizes = readings[0][1]
    ctc = _likeliest(answers, readings).mean()
    one, other = answers.chunk(2)
    apart = 0.5 * (
        functional.kl_div(one, other.detach(), log_target=True, reduction="none")
        + functional.kl_div(other, one.detach(), log_target=True, reduction="none")
    )
    apart = apart.sum(2).sum(1).div(sizes.clamp(min=3)).mean()
    return ctc + CONSISTENCY * apart, {"ctc": ctc, "apart": apart}


def _likeliest(answers: Tensor, readings: Sequence[tuple[Tensor, Tensor]]) -> Tensor:
    """CTC loss a sound of each answer (2 x batch, time, outputs), two views of a clip, in the
    reading that suits it best."""
    frames = torch.full((len(answers),), answers.shape[1], device=answers.device)
    losses = [
        functional.ctc_loss(
            answers.transpose(0, 1), targets.repeat(2, 1), frames, sizes.repeat(2),
            blank=BLANK, reduction="none", zero_infinity=True,
        )
        for targets, sizes in readings
    ]  # fmt: skip
    # One measure for all readings, or the one of most sounds would seem the likeliest.
    return torch.stack(losses).amin(0) / readings[0][1].repeat(2).clamp(min=3)


def _masked(bands: Tensor, rng: random.Random) -> Tensor:
    """Bands and moments left out, differently in each row (SpecAugment, Park et al. 2019)."""
    rows, frames, _ = bands.shape
    device = bands.device
    mean = bands.mean((1, 2), keepdim=True)
    band = torch.arange(BANDS, device=device)[None, None]
    moment = torch.arange(frames, device=device)[None, :, None]
    hidden = torch.zeros(rows, frames, BANDS, dtype=torch.bool, device=device)
    for _ in range(2):
        size = torch.rand(rows, 1, 1, device=device) * 8
        at = torch.rand(rows, 1, 1, device=device) * (BANDS - size)
        hidden |= (band >= at) & (band < at + size) & (torch.rand(rows, 1, 1, device=device) < 0.6)
        size = torch.rand(rows, 1, 1, device=device) * 12
        at = torch.rand(rows, 1, 1, device=device) * (frames - size)
        hidden |= (moment >= at) & (moment < at + size)
    return torch.where(hidden, mean, bands)


def _normalise(network: Network, store: ClipStore, rng: random.Random, roughen: Roughener) -> None:
    chosen = [rng.randrange(len(store.words)) for _ in range(min(256, len(store.words)))]
    clips, lengths = store.batch(chosen)
    rates = torch.ones(len(chosen), device=store.device)
    placed = roughen.place(clips, lengths, rates)
    bands = log_mel(roughen.surround(placed, lengths / rates)).flatten(0, 1)
    network.mean.copy_(bands.mean(0))
    network.deviation.copy_(bands.std(0))

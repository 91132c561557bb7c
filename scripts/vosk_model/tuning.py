"""Tries what is not trained: settings of the decoder, the penalty on blank, costs of a grammar.

On the voice `kumo`, which also chooses the moment at which training stops, and on the people of
AN4's split `train` in noise; these were trained on and say little but in which direction to go.
Never on the split `test`, on FSDD or on the voices of `voices.TEST`.
"""

from __future__ import annotations

import itertools
import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from assistant.devices.vosk.graph import COSTS, Costs, grammar_folder
from vosk_model.corpus import read_recordings
from vosk_model.evaluation import (
    NUMBER_WORDS,
    Ear,
    Score,
    at_ratio,
    listen,
    number_loop,
    voices_scores,
)
from vosk_model.kaldi_files import set_blank_penalty
from vosk_model.voices import TUNE

RATIOS = (None, 10)


@dataclass(frozen=True)
class Setting:
    """One thing to try."""

    penalty: float | None = None
    """On blank; None leaves the model's own."""
    costs: Costs = COSTS
    options: Mapping[str, str] = field(default_factory=dict)
    """Lines of conf/model.conf to set otherwise."""

    def __str__(self) -> str:
        options = " ".join(f"{name} {value}" for name, value in self.options.items())
        costs = self.costs
        return (
            f"penalty {self.penalty}, word {costs.word}, unknown {costs.unknown}, "
            f"nothing {costs.nothing}, {options or 'usual options'}"
        )


def settings() -> Iterable[Setting]:
    """What the tuning of the shipped model tried, one thing at a time."""
    yield Setting()
    for penalty in (1.0, 1.5, 2.5, 3.0):
        yield Setting(penalty)
    for unknown in (2.0, 3.0, 5.0, 6.0):
        yield Setting(costs=replace(COSTS, unknown=unknown))
    for word in (-0.5, 0.5):
        yield Setting(costs=replace(COSTS, word=word))
    for beam, least, most in itertools.product(("8", "13"), ("20", "200"), ("500", "3000")):
        yield Setting(options={"beam": beam, "min-active": least, "max-active": most})


def changed(model: Path, setting: Setting, folder: Path) -> Path:
    """A copy of `model` under `folder` with that setting."""
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(model, folder)
    if setting.penalty is not None:
        set_blank_penalty(folder / "am" / "final.mdl", setting.penalty)
    conf = folder / "conf" / "model.conf"
    lines = dict(line[2:].split("=") for line in conf.read_text().splitlines() if line)
    lines |= setting.options
    conf.write_text("".join(f"--{name}={value}\n" for name, value in lines.items()))
    return folder


def people_scores(
    model: Path, recordings: Path, work: Path, costs: Costs
) -> dict[float | None, Score]:
    """The training people's number sentences, as any string of number words."""
    ear = Ear(grammar_folder(model, number_loop(), work / "graphs", costs))
    said = [
        clip
        for clip in read_recordings(recordings, "train", "AN4")
        if set(clip.words) <= NUMBER_WORDS
    ]
    return {
        ratio: listen(ear, said, partial(at_ratio, decibels=ratio, seed=1)) for ratio in (10, 5)
    }


def tune(model: Path, recordings: Path, work: Path, tried: Iterable[Setting]) -> None:
    """Print the scores of every setting."""
    for setting in tried:
        copy = changed(model, setting, work / "tuning" / "model")
        print(setting)
        for (kind, ratio), score in voices_scores(copy, work, TUNE, RATIOS, setting.costs).items():
            print(f"    {kind}, {_named(ratio)}: {score}")
        for ratio, score in people_scores(copy, recordings, work, setting.costs).items():
            print(f"    people, {_named(ratio)}: {score}", flush=True)


def _named(ratio: float | None) -> str:
    return "clean" if ratio is None else f"{ratio} dB"

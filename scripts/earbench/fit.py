"""Fits the weights of the built-in ear's confidence.

    python -m earbench.fit [--collect FILE] [--most N]

On number sentences and phrases of the tuning voices and AN4's `train` speakers, quiet, in every
noise at 20 to 5 dB, and in the room; against them recordings under a grammar that doesn't hold what
was said, and everyday talk. Logistic regression, L2, by Newton's method; prints what goes into
confidence.py, and what would be taken, each sentence by weights that were fitted without it.
"""

from __future__ import annotations

import argparse
import pickle
import random
import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.moonshine.confidence import LIKELY, Evidence
from assistant.spoken import WordAutomaton
from assistant.spoken.written import has_number
from earbench import corpora
from earbench.mixing import Surroundings
from earbench.score import right

WHERE = (
    *(Surroundings(snr) for snr in (None, None, 20.0, 15.0, 10.0, 10.0, 5.0)),
    *(Surroundings(15.0, microphone) for microphone in ("near", "far", "far")),
    Surroundings(None, "far"),
)
TALK = (Surroundings(), Surroundings(15.0), Surroundings(None, "near"), Surroundings(None, "far"))
FOLDS = 8

Row = tuple[Evidence, bool, str, str]
"""Evidence, whether right, the condition, and said | heard."""


def collect(most: int, path: Path) -> list[Row]:
    ear = MoonshineEar(threads=1)
    book, strings = corpora.whole_book(), corpora.an4_grammar()
    an4 = corpora.real("train", "AN4")
    numbers = [*corpora.synthetic("numbers_tuning", True), *corpora.synthetic("numbers_joe", True)]
    sets: list[tuple[str, list[corpora.Utterance], WordAutomaton, bool]] = [
        ("an4", an4 * 3, strings, True),
        ("numbers", numbers * 2, book, True),
        ("book", corpora.synthetic("clips", True), book, True),
        ("numbers outside", an4, corpora.without_numbers(), False),
        ("talk", corpora.synthetic("talk_tuning", True), book, False),
    ]
    rows: list[Row] = []
    rng = random.Random(3)
    for name, utterances, grammar, inside in sets:
        for number, each in enumerate(corpora.drawn(utterances, most, seed=2)):
            where = rng.choice(TALK if name == "talk" else WHERE)
            sound = where.around(each.sound(), corpora.DATA / "noise", number)
            heard = hear(ear, sound, grammar)
            if heard.words and ear.look is not None:
                good = right(heard.words, each.text) and (
                    inside or grammar.accepts(each.text.split())
                )
                label = f"{each.text} | {heard.words} | {heard.free}"
                rows.append((ear.look.evidence, good, f"{name} {where.name}", label))
        print(name, len(rows), file=sys.stderr, flush=True)
        path.write_bytes(pickle.dumps(rows))
    return rows


def fit(features: NDArray[np.float64], good: NDArray[np.float64], l2: float) -> NDArray[np.float64]:
    x = np.column_stack([np.ones(len(features)), features])
    w = np.zeros(x.shape[1])
    ridge = l2 * np.eye(x.shape[1])
    ridge[0, 0] = 0
    for _ in range(50):
        p = 1 / (1 + np.exp(-x @ w))
        gradient = x.T @ (p - good) + ridge @ w
        hessian = (x * (p * (1 - p))[:, None]).T @ x + ridge
        step = np.linalg.solve(hessian, gradient)
        w -= step
        if np.abs(step).max() < 1e-8:
            break
    return w


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--collect", type=Path, default=corpora.DATA / "evidence.pickle")
    parser.add_argument("--most", type=int, default=0)
    parser.add_argument("--again", action="store_true")
    options = parser.parse_args()
    if options.again or not options.collect.exists():
        rows = collect(options.most, options.collect)
    else:
        rows = pickle.loads(options.collect.read_bytes())
    features = np.array([evidence.features for evidence, *_ in rows])
    good = np.array([is_right for _, is_right, *_ in rows], float)
    weights = fit(features, good, l2=1.0)
    print("WEIGHTS =", tuple(round(float(w), 3) for w in weights))
    total = held_out(features, good, [label.split(" | ")[0] for *_, label in rows])
    numbers = np.array([has_number(evidence.words) for evidence, *_ in rows])
    print(f"{len(rows)} hearings, {int(good.sum())} right, {int(numbers.sum())} with a number")
    for caution in (0, 0.5, 1, 1.5, 2, 2.5, 3):
        taken = total > np.where(numbers, LIKELY + caution, 0)
        print(f"caution {caution}: taken wrong {int((taken & (good == 0)).sum())} of "
              f"{int((good == 0).sum())}, right {int((taken & (good == 1)).sum())} of "
              f"{int(good.sum())}")  # fmt: skip


def held_out(
    features: NDArray[np.float64], good: NDArray[np.float64], said: list[str]
) -> NDArray[np.float64]:
    """Log odds of every hearing by weights that were fitted without its sentence."""
    rng = random.Random(5)
    fold_of = {each: rng.randrange(FOLDS) for each in sorted(set(said))}
    folds = np.array([fold_of[each] for each in said])
    total = np.zeros(len(good))
    for fold in range(FOLDS):
        rest = folds != fold
        weights = fit(features[rest], good[rest], l2=1.0)
        total[~rest] = np.column_stack([np.ones((~rest).sum()), features[~rest]]) @ weights
    return total


if __name__ == "__main__":
    main()

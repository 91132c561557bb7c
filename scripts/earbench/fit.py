"""Fits the weights of the built-in ear's confidence.

    python -m earbench.fit [--collect FILE] [--most N]

On synthetic phrases of the tuning voices and AN4's `train` speakers, quiet and in every noise at
20 to 0 dB; against them the same recordings under grammars that don't hold what was said, and
everyday talk. Logistic regression, L2, by Newton's method; prints what goes into confidence.py.
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
from assistant.devices.moonshine.confidence import Evidence
from assistant.spoken import WordAutomaton
from earbench import corpora
from earbench.mixing import SHOP, mixed, noise
from earbench.score import right

SNRS = (None, None, 20, 15, 10, 10, 5, 5, 0)

Row = tuple[Evidence, bool, str, str]
"""Evidence, whether right, the condition, and said | heard."""


def collect(most: int, path: Path) -> list[Row]:
    ear = MoonshineEar(threads=1)
    book, numbers = corpora.whole_book(), corpora.an4_grammar()
    plain = corpora.without_numbers()
    sets: list[tuple[str, list[corpora.Utterance], WordAutomaton, bool]] = [
        ("an4", corpora.real("train", "AN4") * 3, numbers, True),
        ("book", corpora.synthetic("clips", True), book, True),
        ("sizes", corpora.synthetic("sizes_a", True), book, True),
        ("numbers outside", corpora.real("train", "AN4"), plain, False),
        ("book outside", corpora.synthetic("clips", True), numbers, False),
        ("talk", corpora.synthetic("talk", True), book, False),
        ("talk plain", corpora.synthetic("talk", True), plain, False),
        ("talk numbers", corpora.synthetic("talk", True), numbers, False),
    ]
    rows: list[Row] = []
    rng = random.Random(3)
    for name, utterances, grammar, inside in sets:
        for number, each in enumerate(corpora.drawn(utterances, most, seed=2)):
            snr = rng.choice(SNRS)
            sound = each.sound()
            if snr is not None:
                kind = SHOP[number % len(SHOP)]
                sound = mixed(sound, noise(corpora.DATA / "noise", kind), snr, number)
            heard = hear(ear, sound, grammar)
            if heard.words and ear.look is not None:
                good = right(heard.words, each.text) and (
                    inside or grammar.accepts(each.text.split())
                )
                label = f"{each.text} | {heard.words} | {heard.free}"
                rows.append((ear.look.evidence, good, f"{name} {snr}", label))
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
    total = np.column_stack([np.ones(len(rows)), features]) @ weights
    print(f"{len(rows)} hearings, {int(good.sum())} right")
    for shift in (0, 0.5, 1, 1.5, 2, 2.5, 3):
        accepted = total - shift > 0
        wrong = int((accepted & (good == 0)).sum())
        refused = int((~accepted & (good == 1)).sum())
        print(f"shift {shift}: wrong accepted {wrong} of {int((good == 0).sum())}, "
              f"right refused {refused} of {int(good.sum())}")  # fmt: skip


if __name__ == "__main__":
    main()

"""The bench's command line; see scripts/bench_voice."""

from __future__ import annotations

import argparse
import json
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from assistant.devices.speaker import Engine, Voice
from assistant.ports import RATE, Samples
from voicebench.figures import numbers, right
from voicebench.index import index_table
from voicebench.lengths import length_table
from voicebench.listeners import FREE, HELD, listener
from voicebench.loudness import levelled
from voicebench.places import PLACES, Place
from voicebench.sentences import sizes, spoken

DATA = Path(__file__).resolve().parents[2] / "data"
QUIET = (0.3, 0.4)
"""Seconds before and after."""


def sounds(voice: Engine, texts: list[str]) -> list[Samples]:
    """Each text as it reaches a listener without noise, all equally loud."""
    around = [round(seconds * RATE) for seconds in QUIET]
    return [np.pad(levelled(voice, text), around) for text in texts]


def measure(
    name: str, kind: str, places: list[Place], count: int, seed: int
) -> Iterator[dict[str, Any]]:
    """Rows of one listener for one voice, as they are measured."""
    listen = listener(name)
    texts = sizes(count, seed) if name in HELD else spoken(count, seed)
    voice = Voice(kind="clear") if kind == "clear" else Voice()
    voice.start()
    clean = sounds(voice, texts)
    voice.close()
    for place in places:
        begun = time.monotonic()
        heard = [
            listen(place.around(sound, DATA / "noise", number))
            for number, sound in enumerate(clean)
        ]
        missed = [
            (said, what) for said, what in zip(texts, heard, strict=True) if not right(said, what)
        ]
        row = {
            "listener": name, "voice": kind, "place": place.name, "of": count,
            "right": count - len(missed), "missed": missed, "seed": seed,
        }  # fmt: skip
        took = time.monotonic() - begun
        print(f"{name:10} {kind:6} {place.name:32} {row['right']:3} of {count}  ({took:.0f} s)",
              flush=True)  # fmt: skip
        yield row


def confused(rows: list[dict[str, Any]]) -> list[tuple[str, int]]:
    """Words of number that came out as another one, the most frequent first. Only of sentences in
    which as many words of number were heard as were said."""
    pairs: Counter[str] = Counter()
    for row in rows:
        for said, heard in row["missed"]:
            one, other = numbers(said), numbers(heard)
            if len(one) == len(other):
                pairs.update(f"{a} for {b}" for a, b in zip(other, one, strict=True) if a != b)
    return pairs.most_common(20)


def main() -> None:
    """Measure what is asked for, and keep it."""
    parser = argparse.ArgumentParser(prog="scripts/bench_voice")
    parser.add_argument("--listeners", nargs="+", default=[*FREE, *HELD], metavar="NAME")
    parser.add_argument("--voices", nargs="+", default=["clear", "system"])
    parser.add_argument("--most", type=int, default=100, help="sentences")
    parser.add_argument("--places", nargs="+", default=[], help="only those whose name begins so")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--index", action="store_true", help="the index of intelligibility alone")
    parser.add_argument("--lengths", action="store_true", help="how long sentences last, alone")
    parser.add_argument("--out", type=Path, default=DATA / "bench_voice.json")
    asked = parser.parse_args()
    if asked.index:
        index_table(spoken(asked.most, asked.seed), DATA / "noise")
        return
    if asked.lengths:
        length_table()
        return
    places = [p for p in PLACES if not asked.places or p.name.startswith(tuple(asked.places))]
    rows: list[dict[str, Any]] = []
    for name in asked.listeners:
        for kind in asked.voices:
            try:
                for row in measure(name, kind, places, asked.most, asked.seed):
                    rows.append(row)
                    asked.out.write_text(json.dumps(rows, indent=1), encoding="utf-8")
            except ImportError as error:
                print(f"{name}: left out: {error}", flush=True)
                break
    for kind in asked.voices:
        pairs = confused([row for row in rows if row["voice"] == kind])
        print(f"{kind}: " + (", ".join(f"{pair} ({n})" for pair, n in pairs) or "none confused"))


if __name__ == "__main__":
    main()

"""Seeded sentences with values, in the assistant's own words and number words.

Tenths and hundredths of a unit are left out: listeners write them in ways that can't be told from
other numbers ("three hundredths" as "300ths").
"""

from __future__ import annotations

import random
from decimal import Decimal

from assistant.phrases import saying
from assistant.units import inches, mm

LOOK_ALIKES = tuple(
    (f"{stem}teen", f"{tens}ty")
    for stem, tens in (
        ("thir", "thir"), ("four", "for"), ("fif", "fif"), ("six", "six"), ("seven", "seven"),
        ("eigh", "eigh"), ("nine", "nine"),
    )
)  # fmt: skip
"""Pairs that are taken for each other first."""

AXES = ("Saddle in", "Saddle out", "Knee up", "Table left", "Cross slide in", "Carriage left")


def spoken(count: int, seed: int = 1) -> list[str]:
    """`count` sentences as the assistant says them, each with one value or two."""
    rng = random.Random(seed)
    return [_FRAMES[number % len(_FRAMES)](rng) for number in range(count)]


def sizes(count: int, seed: int = 1) -> list[str]:
    """`count` sizes in the words of the phrase book, for an ear that is held to it."""
    rng = random.Random(seed)
    made = []
    for number in range(count):
        metric = number % 2
        size = mm(_hundredths(rng, 90)) if metric else inches(_thou(rng, 2000) / 1000)
        made.append(f"measured {saying.say_length(size)}")
    return made


def _thou(rng: random.Random, most: int) -> Decimal:
    return Decimal(rng.randrange(2, 2 * most)) / 2


def _hundredths(rng: random.Random, most: int) -> Decimal:
    return Decimal(rng.randrange(5, 100 * most)) / 100


def _turns(rng: random.Random) -> str:
    part = inches(Decimal(rng.randrange(1, 400)) / 2000)
    return f"{rng.choice(AXES)}, {saying.say_turns(rng.randrange(1, 20), part)}."


def _metric_turns(rng: random.Random) -> str:
    part = mm(_hundredths(rng, 4))
    return f"{rng.choice(AXES)}, {saying.say_turns(rng.randrange(1, 20), part)}."


def _reading(rng: random.Random) -> str:
    return f"Stop at {saying.say_reading(inches(_thou(rng, 199) / 1000))}."


def _again(rng: random.Random) -> str:
    return f"Read it again: {saying.say_reading(mm(_hundredths(rng, 5)))}?"


def _depth(rng: random.Random) -> str:
    words = saying.say_length(inches(_thou(rng, 900) / 1000))
    return f"{words[0].upper()}{words[1:]} deep, after this cut."


def _size(rng: random.Random) -> str:
    return f"The width, {saying.say_length(mm(_hundredths(rng, 60)))}."


def _speed(rng: random.Random) -> str:
    return f"Spindle speed, {saying.say_rate(Decimal(rng.randrange(6, 240) * 10))} revs."


def _alike(rng: random.Random) -> str:
    return f"{rng.choice(AXES)} {rng.choice(rng.choice(LOOK_ALIKES))}. Under a turn."


_FRAMES = (_turns, _reading, _alike, _depth, _metric_turns, _size, _speed, _again)

"""Keyseats and shafts on the drawing whatever happens on the way."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping

import pytest

from tests.factories import Job
from tests.shop import test_turning
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import Turner
from tests.shop.mishaps import Clumsy
from tests.shop.test_keyseat import DRAWINGS, Shaft, check_drawing, shaft_for

SEEDS = range(12)
HAPPENS = ("short", "past", "lost", "home", "too_soon", "unsaid")


@pytest.mark.parametrize("demo", DRAWINGS)
def test_a_keyseat_is_on_the_drawing_whatever_happens(demo: str) -> None:
    happened: Counter[str] = Counter()
    for seed in SEEDS:
        made: Clumsy[Shaft] = Clumsy(Job(demo), lambda chance, _: shaft_for(demo, chance), seed)
        made.work_it()
        check_drawing(demo, made.work)
        happened += made.happened
    assert min(happened[what] for what in HAPPENS) > 3


class Turned(test_turning.Shaft):
    """A shaft whose turned diameter can be come back to with the tool."""

    def surface(self, axis: str) -> float:
        assert axis == "cross slide"
        return (self.centre - self.bar.at(0.0) / self.share) / self.scale[axis]


class ClumsyTurner(Clumsy[Turned], Turner[Turned]):
    """At the lathe."""


@pytest.mark.parametrize("demo", test_turning.DRAWINGS)
def test_a_shaft_is_on_the_drawing_whatever_happens(demo: str) -> None:
    def work(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Turned:
        return Turned(test_turning.DRAWINGS[demo], chance, wheels)

    happened: Counter[str] = Counter()
    for seed in SEEDS:
        made = ClumsyTurner(Job(demo), work, seed)
        made.work_it()
        test_turning.check_drawing(demo, made.work)
        happened += made.happened
    assert min(happened[what] for what in HAPPENS) > 3

"""Bores, threads and tapers on the drawing whatever happens on the way."""

from __future__ import annotations

import random
from collections.abc import Mapping

import pytest

from tests.factories import Job
from tests.shop import test_taper, test_thread, test_turning
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import Turner
from tests.shop.mishaps import Clumsy, whatever_happens

SEEDS = range(12)
HAPPENS = ("short", "past", "lost", "home", "too_soon", "unsaid")


class Bored(test_turning.Bush):
    """A bore whose wall can be come back to with the tool."""

    def surface(self, axis: str) -> float:
        assert axis == "cross slide"
        return (self.centre - self.bar.at(0.0) / self.share) / self.scale[axis]


class ClumsyBorer(Clumsy[Bored], Turner[Bored]):
    """At the lathe, boring."""


def test_a_bush_is_on_the_drawing_whatever_happens() -> None:
    happened = whatever_happens(
        lambda seed: ClumsyBorer(Job("bore-bush"), Bored, seed),
        lambda made: test_turning.check_bush(made.work),
        range(20),
    )
    assert min(happened[what] for what in HAPPENS) > 3


class Threaded(test_thread.Thread):
    """A thread whose groove can be come back to with the tool."""

    def surface(self, axis: str) -> float:
        if axis == "compound":
            raise AssertionError("the cross slide is out by then")
        down = self.blank + 2 * self.groove * (1 if self.drawn.inner else -1)
        return (self.centre - down / self.share) / self.scale[axis]


class ClumsyThreader(Clumsy[Threaded], test_thread.Threader):
    """At the lathe, cutting threads."""


@pytest.mark.parametrize("demo", test_thread.DRAWINGS)
def test_a_thread_is_in_its_class_whatever_happens(demo: str) -> None:
    def work(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Threaded:
        return Threaded(test_thread.DRAWINGS[demo], chance, wheels)

    happened = whatever_happens(
        lambda seed: ClumsyThreader(Job(demo), work, seed), test_thread.check_thread, SEEDS
    )
    assert min(happened[what] for what in HAPPENS) > 3


class Tapered(test_taper.Cone):
    """A taper that can be come back to with the tool, where it touched: at its small end."""

    def size(self, fact: str) -> float:
        if fact == "check.size":
            raise AssertionError("asked for by the name of a measurement of the plan")
        return super().size(fact)

    def surface(self, axis: str) -> float:
        assert axis == "cross slide"
        return (self.centre - self.touched() / self.share) / self.scale[axis]


class ClumsyTaperer(Clumsy[Tapered], test_taper.Taperer):
    """At the lathe, turning tapers."""


@pytest.mark.parametrize("demo", test_taper.DRAWINGS)
def test_a_taper_is_on_its_drawing_whatever_happens(demo: str) -> None:
    def work(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Tapered:
        return Tapered(test_taper.DRAWINGS[demo], chance, wheels)

    happened = whatever_happens(
        lambda seed: ClumsyTaperer(Job(demo), work, seed), test_taper.check_taper, SEEDS
    )
    assert min(happened[what] for what in HAPPENS) > 3

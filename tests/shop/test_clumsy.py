"""Keyseats and shafts on the drawing whatever happens on the way."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence

import pytest

from assistant.jobs.steps import Touch
from tests.factories import Job
from tests.shop import test_turning
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import BEFORE_THE_FACE, Turner
from tests.shop.mishaps import Hapless, whatever_happens
from tests.shop.test_keyseat import DRAWINGS, Shaft, check_drawing, shaft_for

SEEDS = range(12)
HAPPENS = ("short", "past", "lost", "home", "too_soon", "unsaid", "slipped", "bumped",
           "other_cutter")  # fmt: skip


@pytest.mark.parametrize("demo", DRAWINGS)
def test_a_keyseat_is_on_the_drawing_whatever_happens(demo: str) -> None:
    def made(seed: int) -> Hapless[Shaft]:
        return Hapless(Job(demo), lambda chance, _: shaft_for(demo, chance), seed)

    happened = whatever_happens(made, lambda one: check_drawing(demo, one.work), SEEDS)
    assert min(happened[what] for what in HAPPENS) > 1


class Turned(test_turning.Shaft):
    """A shaft whose turned diameter can be come back to with the tool."""

    def surface(self, axis: str) -> float:
        assert axis == "cross slide"
        return (self.centre - self.bar.at(0.0) / self.share) / self.scale[axis]

    def fit_another(self, chance: random.Random) -> None:
        """A tool that stands otherwise in its post, across and along."""
        self.centre += chance.uniform(-0.1, 0.1) * self.drawn.stock
        shift = chance.uniform(-0.1, 0.1) * self.drawn.stock
        self.face_at += shift


class HaplessTurner(Hapless[Turned], Turner[Turned]):
    """At the lathe, where the end face is touched again with the tool brought in front of it."""

    def touch(self, step: Touch) -> None:
        if step.axis != "cross slide" and self.work.counted:
            self.carriage_to(-BEFORE_THE_FACE[self.unit])
            cross, inside = self.wheels["cross slide"], self.work.bar.at(0.0) * 0.8
            where = (self.work.centre - inside / self.work.share) / self.work.scale["cross slide"]
            cross.touch(where, 1)
        super().touch(step)

    def mishaps(self) -> Sequence[Callable[[Handwheel], None]]:
        """With a stop that is set by eye, and set again once all is touched again, the shoulder is
        where the eye puts it: what was measured before tells nothing of it, and is taken to."""
        usual = super().mishaps()
        return usual[:-2] if self.work.by_compound else usual


@pytest.mark.parametrize("demo", test_turning.DRAWINGS)
def test_a_shaft_is_on_the_drawing_whatever_happens(demo: str) -> None:
    def work(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Turned:
        return Turned(test_turning.DRAWINGS[demo], chance, wheels)

    def check(made: HaplessTurner) -> None:
        # a surface that is come back to by feel is found to half a thou, or a hundredth
        feel = 0.0005 if made.unit == "inch" else 0.01
        test_turning.check_drawing(demo, made.work, feel)

    happened = whatever_happens(lambda seed: HaplessTurner(Job(demo), work, seed), check, SEEDS)
    by_stop = ("bumped", "other_cutter") if demo == "turn-shaft" else ()
    assert min(happened[what] for what in HAPPENS if what not in by_stop) > 1

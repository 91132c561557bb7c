"""A step along a block and a face milled to thickness, in the shop of numbers."""

from __future__ import annotations

import random
from collections.abc import Mapping
from pathlib import Path

import pytest

from assistant.jobs.steps import Touch
from assistant.units import magnitude
from tests.factories import Job
from tests.shop.block import Block
from tests.shop.changed import changed
from tests.shop.handwheels import Handwheel
from tests.shop.miller import Miller
from tests.shop.milling import Mill

MISREAD = 0.0003
"""Inches: a gauge read to half a thou is a quarter off, and the hand that set it is unsteady."""


class StepAlong(Mill):
    """A step along the touched side."""

    def __init__(
        self, block: Block, diameter: float, back: bool,
        chance: random.Random, wheels: Mapping[str, Handwheel], deepening: str = "knee",
    ) -> None:  # fmt: skip
        super().__init__(block, diameter, chance, wheels, deepening)
        self.back = back
        self.x = block.length * chance.uniform(0.3, 0.7)

    @property
    def wide(self) -> float:
        """From the touched side to the wall, half way down."""
        y = self.block.width - 0.01 if self.back else 0.01
        front, back = self.block.walls(self.x, y, self.block.depth_at(self.x, y) / 2)
        return self.block.width - front if self.back else back

    def floor(self) -> tuple[float, float]:
        """The shallowest and the deepest place of the floor, but for the very corner."""
        far = self.block.width
        low, high = (far - self.wide, far) if self.back else (0.0, self.wide)
        return self.block.floor(self.x, low + 0.5 * self.small, high - 0.5 * self.small)

    def size(self, fact: str) -> float:
        match fact.split("."):
            case ["cutter", "width"]:
                return 2 * self.radius
            case ["size", _]:
                return self.chance.uniform(*self.floor())
            case ["wall", "size", _]:
                return self.wide
        raise NotImplementedError(fact)


def stepped(seed: int, cutter: float, back: bool, path: Path | None = None) -> None:
    """The demo step, worked to its end and held against its drawing, the job file: .625 +-.003
    wide from the touched side, .187 +-.003 deep."""
    made = Miller(
        Job("step-inch", path),
        lambda chance, wheels: StepAlong(
            Block(chance.uniform(3, 5), chance.uniform(1.2, 1.4)),
            cutter - chance.uniform(-0.0005, 0.003), back, chance, wheels,
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    step = made.work
    assert isinstance(step, StepAlong)
    low, high = step.floor()
    assert 0.622 - MISREAD <= step.wide <= 0.628 + MISREAD
    assert 0.184 - MISREAD <= low <= high <= 0.190 + MISREAD
    for one in step.passes:
        # a wall is finished down its whole depth: then it takes little
        assert one.deep <= 0.100 * 1.05 + 0.0005 or one.side <= 0.015, one


@pytest.mark.parametrize("seed", range(16))
def test_a_step_is_on_the_drawing(seed: int) -> None:
    stepped(seed, 0.5, True)


@pytest.mark.parametrize("seed", range(16))
def test_a_step_along_the_front_with_worn_screws_is_on_the_drawing(
    seed: int, tmp_path: Path
) -> None:
    other = {
        "touch_side": '"front"',
        "cutter.diameter": '"3/8 in"',
        "machine:axes.saddle.rises": '"in"',
        "machine:axes.saddle.backlash": '"0.060 in"',
        "machine:axes.knee.backlash": '"0.015 in"',
        "machine:axes.knee.zero": '"settable"',
    }
    stepped(seed, 0.375, False, changed(tmp_path, "step-inch", other))


class Face(Mill):
    """A face over the whole block."""

    def __init__(
        self, block: Block, diameter: float, front: bool, stock: float,
        chance: random.Random, wheels: Mapping[str, Handwheel],
    ) -> None:  # fmt: skip
        super().__init__(block, diameter, chance, wheels)
        self.front, self.stock = front, stock

    def contact(self, touch: Touch) -> float:
        if touch.id != "first-row":
            return super().contact(touch)
        assert touch.figure is not None
        # by eye, to a millimetre or so; the cutter over the edge, clear of the top
        over = magnitude(touch.figure.value, "mm")
        inside = float(over) + self.chance.uniform(-1, 1) - self.radius
        self.by_eye(
            table=self.square["table"] - self.block.length * self.chance.uniform(0.3, 0.7),
            **{self.deepening: self.square[self.deepening] - self.chance.uniform(2, 10)},
        )
        y = inside if self.front else self.block.width - inside
        return self.square["saddle"] - y

    def thickness(self) -> tuple[float, float]:
        """The thinnest and the thickest place."""
        found = []
        for part in (0.05, 0.5, 0.95):
            low, high = self.block.floor(self.block.length * part, 0.0, self.block.width)
            found += [self.stock - low, self.stock - high]
        return min(found), max(found)

    def size(self, fact: str) -> float:
        match fact.split("."):
            case ["cutter", "width"]:
                return 2 * self.radius
            case ["stock", "height"]:
                return self.stock
            case ["size", _]:
                return self.chance.uniform(*self.thickness())
        raise NotImplementedError(fact)


def faced(seed: int, cutter: float, front: bool, path: Path | None = None) -> None:
    """The demo face, worked to its end and held against its drawing, the job file: 20 +-0.05 thick
    all over, 80 wide; the stock is a little over 23."""
    made = Miller(
        Job("face-metric", path),
        lambda chance, wheels: Face(
            Block(chance.uniform(100, 140), 80 + chance.uniform(-0.8, 0.8)), cutter, front,
            23 + chance.uniform(-0.5, 0.8), chance, wheels,
        ),
        seed,
    )  # fmt: skip
    made.work_it()
    face = made.work
    assert isinstance(face, Face)
    thin, thick = face.thickness()
    misread = 0.01
    assert 19.95 - misread <= thin <= thick <= 20.05 + misread
    assert max(one.deep for one in face.passes) <= 1.2 * 1.05 + 0.02


@pytest.mark.parametrize("seed", range(12))
def test_a_face_is_as_thick_as_on_the_drawing_all_over(seed: int) -> None:
    faced(seed, 50, True)


@pytest.mark.parametrize("seed", range(8))
def test_a_face_from_the_back_with_a_narrow_cutter_has_no_ribs(seed: int, tmp_path: Path) -> None:
    other = {
        "touch_side": '"back"',
        "step_over": '"20 mm"',
        "cutter.diameter": '"25 mm"',
        "machine:axes.saddle.backlash": '"0.9 mm"',
        "machine:axes.knee.zero": '"fixed"',
        "machine:axes.saddle.zero": '"fixed"',
    }
    faced(seed, 25, False, changed(tmp_path, "face-metric", other))

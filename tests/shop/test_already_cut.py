"""Work that was begun elsewhere, in the shop of numbers: the part lies on the machine half cut, its
machinist says by its size how far, and touches where the last sentences say."""

from __future__ import annotations

import random
from collections.abc import Mapping
from decimal import Decimal

import pytest

from assistant.jobs.steps import Step, Touch
from tests.factories import Job
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import CLOSE, Turner
from tests.shop.machinist import SYMBOL, Machinist
from tests.shop.test_keyseat import DRAWINGS as SEATS
from tests.shop.test_keyseat import Shaft as Seated
from tests.shop.test_keyseat import check_drawing as check_seat
from tests.shop.test_keyseat import shaft_for
from tests.shop.test_turning import DRAWINGS as SHAFTS
from tests.shop.test_turning import Bush, Shaft, check_bush
from tests.shop.test_turning import check_drawing as check_shaft

SHARES = (0.2, 0.5, 0.8, 0.97)
"""Of the way from the stock to the finished size."""


def say_what_stands(job: Job, size: float) -> str:
    """The size that is there, as its gauge reads it."""
    unit = job.state.unit
    told = round(Decimal(repr(size)) / CLOSE[unit]) * CLOSE[unit]
    said = job.say(f"already cut to {told} {SYMBOL[unit]}")
    assert job.state.question is None, said
    return said


class Obedient(Turner[Shaft]):
    """Touches where it was told to, and nowhere else."""

    def touch(self, step: Touch) -> None:
        spoken = " ".join(self.job.state.last_reply)
        if step.axis == "cross slide":
            assert "Touch what is cut." in spoken
        super().touch(step)


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("name", ["turn-shaft", "turn-metric", "turn-stepped"])
def test_a_shaft_begun_elsewhere_is_on_its_drawing(name: str, share: float, seed: int) -> None:
    drawn = SHAFTS[name]
    first = drawn.journals[0]
    begun = drawn.stock + (first.high - drawn.stock) * share

    def work(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Shaft:
        shaft = Shaft(drawn, chance, wheels)
        shaft.runout = 0.0  # it was turned
        as_far = first.shortest - (0.01 if drawn.unit == "inch" else 0.25)
        shaft.bar.split(as_far)
        for cell in shaft.bar.cells:
            if cell.end <= as_far:
                cell.size = begun
        return shaft

    made = Obedient(Job(name), work, seed)
    say_what_stands(made.job, begun)
    made.work_it()
    check_shaft(name, made.work)


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("share", SHARES)
def test_a_bush_begun_elsewhere_is_on_its_drawing(share: float, seed: int) -> None:
    begun = 0.9375 + (1.125 - 0.9375) * share

    def work(chance: random.Random, wheels: Mapping[str, Handwheel]) -> Bush:
        bush = Bush(chance, wheels)
        bush.runout = 0.0
        for cell in bush.bar.cells:
            cell.size = begun
        return bush

    made: Turner[Bush] = Turner(Job("bore-bush"), work, seed)
    say_what_stands(made.job, begun)
    made.work_it()
    check_bush(made.work)


class BesideTheSeat(Machinist[Seated]):
    """Touches the top where nothing is cut, since that was said."""

    def do(self, step: Step) -> None:
        if isinstance(step, Touch) and step.axis == "knee" and not self.work.passes:
            assert "Touch where nothing is cut." in " ".join(self.job.state.last_reply) or (
                self.job.state.phase != "act"
            )
        super().do(step)


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("demo", SEATS)
def test_a_seat_half_cut_is_finished_on_the_drawing(demo: str, share: float, seed: int) -> None:
    full = {"keyseat-inch": 0.2, "keyseat-metric": 3.9, "keyseat-two-in-line": 0.09}[demo]

    def work(chance: random.Random, _wheels: Mapping[str, Handwheel]) -> Seated:
        shaft = shaft_for(demo, chance)
        # a slotting cutter's seat is only seen from where it is cut to a stop
        seat = (-9.0, 9.0) if demo == "keyseat-inch" else SEATS[demo].seats[0]
        shaft.cuts, shaft.depths, shaft.middles = [seat], [full * share], [0.0]
        return shaft

    made = BesideTheSeat(Job(demo), work, seed)
    say_what_stands(made.job, made.work.size("size"))
    made.work_it()
    check_seat(demo, made.work)

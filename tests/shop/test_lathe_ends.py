"""Work faced to length, a ring parted off and a knurl's blank turned in the shop of numbers."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from assistant.jobs.steps import Cut, Measure, Step
from tests.factories import Job
from tests.shop.changed import changed_copy
from tests.shop.handwheels import Handwheel
from tests.shop.lathe import Bar, LatheWork, Turner
from tests.shop.test_turning import INCH_DIALS, METRIC_DIALS


class Piece(LatheWork):
    """A piece faced at one end; taken out to be measured, and put back against a stop."""

    def __init__(
        self, by: str, taken_out: bool, chance: random.Random, wheels: Mapping[str, Handwheel]
    ) -> None:
        super().__init__(
            chance, wheels, Bar(1.25, 1.25), "inch", spring=chance.uniform(0, 0.02)
        )  # fmt: skip
        self.by_compound, self.taken_out = by == "compound", taken_out
        self.length = 2.060 + chance.uniform(-0.004, 0.008)
        self.faced = chance.uniform(0, 0.002)
        """Where the face is: the tool marks its high place, that far before it."""

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        assert cut.feed_axis == "cross slide"
        deep = self.along(at) - self.faced
        self.passes.append(deep)
        gone = max(0.0, deep) * (1 - self.spring)
        self.faced += gone
        self.length -= gone

    def moved(self, trail: Sequence[Mapping[str, float]]) -> None:
        """Clear of the outside by then."""

    def size(self, fact: str) -> float:
        if self.taken_out:
            self.faced += self.chance.uniform(-0.0003, 0.0003)
        return self.length


class Facer(Turner[Piece]):
    """Takes the work out to be measured where that is said."""

    def do(self, step: Step) -> None:
        if isinstance(step, Measure):
            said = " ".join(self.job.state.last_reply).lower()
            assert ("out of the chuck" in said) is self.work.taken_out
        super().do(step)


def faced(seed: int, by: str, path: Path | None = None, *, taken_out: bool = True) -> Piece:
    """Faced to the end of the job, and as long as drawn."""
    made = Facer(
        Job("face-length", path), lambda chance, wheels: Piece(by, taken_out, chance, wheels), seed
    )
    made.work_it()
    assert max(made.work.passes) <= 0.040 + 0.001, "deeper than the tool takes"
    return made.work


@pytest.mark.parametrize("seed", range(20))
def test_a_piece_is_as_long_as_drawn(seed: int) -> None:
    assert 1.9979 <= faced(seed, "compound").length <= 2.0021


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("dials", INCH_DIALS)
def test_faced_on_other_dials(dials: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, "face-length", machine_file=INCH_DIALS[dials])
    assert 1.9979 <= faced(seed, "compound", path).length <= 2.0021


@pytest.mark.parametrize("seed", range(8))
def test_faced_by_the_carriage_and_measured_in_the_chuck(seed: int, tmp_path: Path) -> None:
    changes = {
        'by = "compound"': 'by = "carriage"\nmeasured = "in the chuck"', '"0.002 in"': '"0.006 in"',
    }  # fmt: skip
    path = changed_copy(tmp_path, "face-length", job_file=changes)
    assert 1.9938 <= faced(seed, "carriage", path, taken_out=False).length <= 2.0062


class Ring(LatheWork):
    """A tube that a ring is parted from, by a blade a little wider or narrower than its name; the
    tube is as it was drawn, too."""

    def __init__(self, chance: random.Random, wheels: Mapping[str, Handwheel]) -> None:
        super().__init__(chance, wheels, Bar(40.0 + chance.uniform(-0.1, 0.1), 25.0), "mm",
                         spring=0.0)  # fmt: skip
        self.bore = 20.0 + chance.uniform(-0.2, 0.1)
        self.blade = 3.0 + chance.uniform(-0.2, 0.2)
        self.piece = 0.0
        self.left = 40.0

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        assert cut.feed_axis == "cross slide"
        # the blade's left corner met the face: the piece ends at its right one
        self.piece = self.along(at) - self.blade
        self.left = self.set_to(at)

    def size(self, fact: str) -> float:
        assert fact == "blade.width"
        return self.blade


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("dials", ["as they are", *METRIC_DIALS])
def test_a_ring_is_long_enough_to_be_faced(dials: str, seed: int, tmp_path: Path) -> None:
    path = changed_copy(tmp_path, "part-ring", machine_file=METRIC_DIALS.get(dials))
    made: Turner[Ring] = Turner(Job("part-ring", path), Ring, seed)
    made.work_it()
    # 12 and 0.4 for facing, on a carriage dial whose half division is 0.05 or 0.064
    assert 12.35 <= made.work.piece <= 12.50
    assert made.work.bore - 1 <= made.work.left <= made.work.bore, "not through to the bore"


class Blank(LatheWork):
    """A blank for a knurl of 96 diametral pitch."""

    def __init__(self, chance: random.Random, wheels: Mapping[str, Handwheel]) -> None:
        super().__init__(
            chance, wheels, Bar(0.75 + chance.uniform(-0.003, 0.001), 1.0), "inch",
            spring=chance.uniform(0, 0.02), runout=chance.uniform(0, 0.004),
        )  # fmt: skip
        self.stop = 0.4

    def size(self, fact: str) -> float:
        return self.bar.at(0.2) + (0.010 if fact == "over.knurl" else 0.0)


@pytest.mark.parametrize("seed", range(10))
def test_a_knurl_meets_its_own_track(seed: int) -> None:
    made: Turner[Blank] = Turner(Job("knurl-knob"), Blank, seed)
    made.work_it()
    # geometry: diameter x diametral pitch is the number of teeth round
    teeth = made.work.bar.at(0.2) * 96
    assert abs(teeth - round(teeth)) < 0.25
    assert round(teeth) == 65, "0.680 was meant: 65.3 teeth"
    assert max(made.work.passes) <= 0.040 * 1.02 + 0.0005 + made.work.runout

"""Holes from the tailstock in the shop of numbers: a tailstock that is slid and clamped, a quill
with an end to its travel, and somebody to whom everything happens that happens."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import pytest

from assistant.jobs.steps import Check, Cut, Measure, Note, Step, Touch
from assistant.present.glance import Glance
from assistant.session.state import Phase
from assistant.units import magnitude
from tests.factories import Job
from tests.shop.changed import changed, changed_copy
from tests.shop.drilling import Cutting, Drilled, Driller, Tool
from tests.shop.handwheels import Handwheel
from tests.shop.mishaps import Hapless

OFTEN = 0.25
"""Share of the cuts in which something happens."""


class End(Drilled):
    """The end of a bar in the chuck. Where the tailstock stands is anybody's guess each time it was
    slid; its quill travels so far and no further."""

    feeds = "tailstock"

    def __init__(
        self, tools: Mapping[str, Tool], chance: random.Random, wheels: Mapping[str, Handwheel],
        counts: float,
    ) -> None:  # fmt: skip
        ground = {
            name: Tool(tool.across, tool.point + chance.uniform(-2, 2) if tool.point == 118
                       else tool.point)
            for name, tool in tools.items()
        }  # fmt: skip
        super().__init__(ground, chance, wheels)
        self.chance, self.wheel = chance, wheels["tailstock"]
        travel = self.wheel.axis.travel
        assert travel is not None
        self.travel = float(magnitude(travel, str(travel.units)))
        self.counts = counts
        """What the dial counts for one in the tools' unit."""
        self.clamped = self.counted = False
        self.times = 0
        """How often it was clamped."""
        self.home = 0.0
        """Where the wheel stands with the quill wound home."""

    def slide_back(self) -> None:
        """Off its place: what was counted from is gone."""
        self.clamped = self.counted = False
        self.face_at[self.fitted] = self.chance.uniform(-9, 9) * self.wheel.per_turn

    def clamp(self, in_the_hole: bool) -> None:
        """Brought up with the quill a turn or so out, and the tool a little off."""
        turn = self.wheel.per_turn
        self.home = self.wheel.nut - self.chance.uniform(0.3, 1) * turn
        off = self.wheel.nut + self.chance.uniform(0.05, 0.4) * turn
        self.face_at[self.fitted] = off - (
            self.deepest(self.fitted) * self.counts if in_the_hole else 0.0
        )
        self.clamped, self.counted = True, False
        self.times += 1

    def deepest(self, tool: str) -> float:
        """How deep its point went."""
        return max(one.depth for one in self.cuttings if one.tool == tool)

    def contact(self, touch: Touch) -> float:
        assert self.clamped, "touched with the tailstock loose"
        self.counted = True
        if touch.surface == "the bottom of the hole":
            return self.face_at[self.fitted] + self.deepest(self.fitted) * self.counts
        if touch.surface == "the edge of the hole":
            cone = Tool(self.mouth(self.cuttings), self.tools[self.fitted].point)
            return self.face_at[self.fitted] + cone.tip * self.counts
        assert touch.surface == "a feeler on the face"
        return self.face_at[self.fitted]

    def fed(self, kind: str, place: float) -> None:
        """The tool's end is brought so far in, by the wheel."""
        if kind == "tapping":
            assert not self.clamped, "the tailstock can't follow the tap"
            return
        assert self.clamped, "fed with the tailstock loose"
        depth = (place - self.face_at[self.fitted]) / self.counts
        if kind == "spotting" and self.fitted == "centre drill":
            depth = self.tools[self.fitted].tip / 2
        else:
            assert self.counted, "fed, and nothing touched since it was clamped"
            assert place - self.home <= self.travel, "the quill is at its end"
        self.cuttings.append(Cutting(self.fitted, 0.0, 0.0, depth))

    def cut(self, cut: Cut, begun: Mapping[str, float], at: Mapping[str, float]) -> None:
        self.fed(cut.kind, at["tailstock"])

    def full(self, tool: str) -> float:
        """How deep that tool left its whole diameter."""
        return self.deepest(tool) - self.tools[tool].tip

    def across(self) -> float:
        """How wide the mouth is."""
        return self.mouth(self.cuttings)

    def size(self, fact: str) -> float:
        assert fact.startswith("depth.")
        return self.full(self.cuttings[-1].tool)

    def surface(self, axis: str) -> float:
        raise AssertionError(f"nothing was cut to a depth that the {axis} was set to")

    def fit_another(self, chance: random.Random) -> None:
        """A tool of another length: for it the tailstock is slid back."""
        self.slide_back()


class AtTheTailstock(Driller[End]):
    """Clamps and slides the tailstock as told, and counts the turns of the tap."""

    turns = 0.0
    scale = 0.0
    """Where the quill stood at the touch."""

    def do(self, step: Step) -> None:
        told = self.job.glance.instruction
        if isinstance(step, Note) and "Fit the" in told and self.work.fitted:
            self.work.slide_back()
        if "nclamp the tailstock" in told and not isinstance(step, Measure):
            self.work.slide_back()
        if "scale. Add the depth" in told:
            self.scale = self.quill.screw
        if isinstance(step, Check) and "Clamp it." in told:
            self.work.clamp(False)
        super().do(step)

    def touch(self, step: Touch) -> None:
        told = self.job.glance.instruction
        if self.job.state.phase is Phase.ACT:
            assert "clamp it" in told.lower()
            self.work.clamp("Quill out of travel" in told)
        super().touch(step)

    def let_back(self) -> None:
        """By its wheel alone, as it was told after every cut."""

    def measure(self, step: Measure) -> None:
        assert "slide it well back" in self.job.glance.instruction
        super().measure(step)
        self.work.slide_back()

    def cut(self, step: Cut) -> None:
        shown = self.job.glance
        if step.kind == "tapping":
            assert shown.unit == "turns"
            self.turns = float(shown.number)
        super().cut(step)

    def not_by_the_dial(self, shown: Glance) -> None:
        if "that on its scale" in shown.instruction:
            # graduations of a sixteenth or a millimetre, read to a quarter of one: common practice
            off = 1 / 64 if self.unit == "inch" else 0.25
            to = self.scale + float(shown.number) + self.chance.uniform(-off, off)
            self.quill.turn(to - self.quill.screw)


class HaplessThere(Hapless[End], AtTheTailstock):
    """And in the middle of a cut: the dial is leaned on, the count is lost, the bar moves in the
    jaws, another drill is wanted, a word is said too late."""

    def cut(self, step: Cut) -> None:
        if step.feed_target is None or self.chance.random() > OFTEN:
            super().cut(step)
            return
        self.in_the_middle(step)
        what = self.chance.choice(self.in_a_cut())
        self.happened[what.__name__] += 1
        what(self.quill)
        self.settle()

    def in_the_middle(self, step: Cut) -> None:
        """Fed a part of the way."""
        told = float(magnitude(step.feed_target, str(self.quill.axis.per_turn.units)))
        self.quill.back_to_zero()
        self.quill.turn(told * self.chance.uniform(0.2, 0.9))
        self.work.fed(step.kind, self.quill.nut)

    def in_a_cut(self) -> Sequence[Callable[[Handwheel], None]]:
        """What may happen there."""
        usual = self.counts_wrong, self.bumped, self.other_cutter, self.home
        return (*usual, self.slipped) if self.quill.axis.settable else usual

    def counts_wrong(self, wheel: Handwheel) -> None:
        self.job.say("lost count")

    def bumped(self, wheel: Handwheel) -> None:
        """The tailstock is knocked along its bed."""
        self.work.slide_back()
        super().bumped(wheel)


def make(
    name: str, tools: Mapping[str, Tool], seed: int, path: Path | None = None,
    who: type[AtTheTailstock] = AtTheTailstock, counts: float = 1.0,
) -> AtTheTailstock:  # fmt: skip
    made = who(Job(name, path), lambda chance, wheels: End(tools, chance, wheels, counts), seed)
    made.work_it()
    return made


ROLLER = {
    "centre drill": Tool(0.25, 60),
    "3/16 pilot drill": Tool(3 / 16),
    "31/64 drill": Tool(31 / 64),
    "reamer": Tool(0.5, 180),
    "countersink": Tool(0.75, 82),
}
WHEELS: Mapping[str, Mapping[str, str]] = {
    "as it is": {},
    "by the scale": {"hole.depth_by": '"scale"'},
    "falling": {"machine:axes.tailstock.rises": '"out"'},
    "fixed": {"machine:axes.tailstock.zero": '"fixed"'},
    "loose": {"machine:axes.tailstock.backlash": '"0.040 in"'},
    "in millimetres": {
        "machine:axes.tailstock.per_turn": '"4 mm"', "machine:axes.tailstock.travel": '"110 mm"',
        "machine:axes.tailstock.graduation": '"0.05 mm"',
        "machine:axes.tailstock.backlash": '"0.2 mm"',
    },
}  # fmt: skip


def check_roller(work: End, off: float) -> None:
    """The drawing's: 1-1/2 deep at full diameter, plus 0.060; reamed as deep; a mouth of 5/8."""
    assert 1.5 - 0.0003 <= work.full("31/64 drill") <= 1.56 + 0.0003
    assert work.full("reamer") == pytest.approx(1.5, abs=off)
    # at 82 degrees its radius changes by tan 41 of the depth
    assert work.across() == pytest.approx(0.625, abs=2 * off * math.tan(math.radians(41)))


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("wheel", WHEELS)
def test_a_reamed_blind_hole_is_on_its_drawing(wheel: str, seed: int, tmp_path: Path) -> None:
    path = changed(tmp_path, "tailstock-hole", WHEELS[wheel])
    counts = 25.4 if wheel == "in millimetres" else 1.0
    made = make("tailstock-hole", ROLLER, seed, path, counts=counts).work
    # a dial of a thou, by a hand; a metric one of two thou; the scale as it is read
    off = {"by the scale": 1 / 64, "in millimetres": 0.0025, "fixed": 0.0015}.get(wheel, 0.001)
    check_roller(made, off)


@pytest.mark.parametrize("turn", ["as it is", "fixed"])
def test_a_reamed_hole_is_on_its_drawing_whatever_happens(turn: str, tmp_path: Path) -> None:
    path = changed(tmp_path, "tailstock-hole", WHEELS[turn])
    happened: Counter[str] = Counter()
    for seed in range(10):
        made = make("tailstock-hole", ROLLER, seed, path, HaplessThere)
        assert isinstance(made, HaplessThere)
        happened += made.happened
        work = made.work
        assert 1.5 - 0.0003 <= work.full("31/64 drill") <= 1.56 + 0.0003
        assert work.full("reamer") == pytest.approx(1.5, abs=0.002)
    for what in ("counts_wrong", "bumped", "other_cutter", "home", "unsaid"):
        assert happened[what] > 2, happened


@pytest.mark.parametrize("who", [AtTheTailstock, HaplessThere])
@pytest.mark.parametrize("seed", range(4))
def test_a_hole_deeper_than_the_quill_travels_comes_out_behind(
    seed: int, who: type[AtTheTailstock], tmp_path: Path
) -> None:
    """Six inches through on four of travel: the tailstock is set anew, peck by peck."""
    path = changed_copy(tmp_path, "tailstock-hole", job_file={
        'depth = "1-1/2 in"': 'through = "6 in"', 'ream = "0.5000 in"': 'drill = "1/2 in"',
        'depth_plus = "0.060 in"': "", 'pilot = "3/16 in"': "",
        '[hole.countersink]\ndiameter = "5/8 in"\nangle = 82\n': "",
    })  # fmt: skip
    tools = {"centre drill": Tool(0.25, 60), "1/2 drill": Tool(0.5)}
    made = make("tailstock-hole", tools, seed, path, who).work
    assert made.times >= 6
    # whatever happens: out behind, and no more than a peck into the room there
    most = 0.2 if who is AtTheTailstock else 0.8
    assert 6 < made.full("1/2 drill") < 6 + most


REEL = {
    "centre drill": Tool(3, 60), "6.8 millimetre drill": Tool(6.8), "countersink": Tool(25, 90),
}  # fmt: skip


def check_reel(made: AtTheTailstock) -> None:
    """M8 for 16 mm of full thread. ISO 261: 1.25 pitch; a plug tap's chamfer is 3 to 5 threads
    (ASME B94.9, from memory)."""
    travel = made.turns * 1.25
    assert travel - 3 * 1.25 >= 16, "the last of the thread isn't full"
    assert travel < made.work.full("6.8 millimetre drill"), "the tap would meet the bottom"


@pytest.mark.parametrize("seed", range(3))
def test_a_tap_finds_its_hole(seed: int) -> None:
    made = make("tailstock-tap", REEL, seed)
    check_reel(made)
    assert 8 < made.work.across() < 8 * 1.15


@pytest.mark.parametrize("seed", range(6))
def test_a_tap_finds_its_hole_whatever_happens(seed: int) -> None:
    check_reel(make("tailstock-tap", REEL, seed, who=HaplessThere))


KNOB = {
    "centre drill": Tool(3, 60), "6.6 millimetre drill": Tool(6.6), "counterbore": Tool(11, 180),
}  # fmt: skip


@pytest.mark.parametrize("who", [AtTheTailstock, HaplessThere])
@pytest.mark.parametrize("seed", range(3))
def test_a_cap_screw_goes_in_flush(seed: int, who: type[AtTheTailstock]) -> None:
    """ISO 4762: the head of an M6 screw is 6 mm high, from memory; a dial of 0.05 and a hand."""
    made = make("tailstock-knob", KNOB, seed, who=who).work
    assert 32 < made.full("6.6 millimetre drill") < 32 + 2
    assert made.full("counterbore") == pytest.approx(6, abs=0.04)


@pytest.mark.parametrize("who", [AtTheTailstock, HaplessThere])
@pytest.mark.parametrize("seed", range(5))
def test_a_centre_is_as_wide_as_it_is_drawn(seed: int, who: type[AtTheTailstock]) -> None:
    """A number 4 has a pilot of 1/8 (ASME B94.11M, from memory), taken 1.25 of that long, and its
    cone of 60 degrees is as wide as it went in over that."""
    made = make("tailstock-layshaft", {"number 4 centre drill": Tool(0.3125, 60)}, seed, who=who)
    deep = made.work.deepest("number 4 centre drill") - 0.125 * 1.25
    mouth = 0.125 + 2 * deep * math.tan(math.radians(30))
    assert mouth == pytest.approx(0.25, abs=0.003)

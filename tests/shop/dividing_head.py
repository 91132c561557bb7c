"""Dividing gear in the shop of numbers: a worm with lost motion, a plate and pin, or a dial."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import TypeVar

from assistant.jobs.steps import Index, Note, Step
from assistant.machine import Machine
from assistant.present.glance import Glance
from tests.shop.machinist import Machinist, Work

SLACK = Fraction(1, 30)
"""Of a turn of the crank."""
PLATE = re.compile(r"Fit the plate with circles (\d+) to (\d+)\. Pin in the (\d+) circle\.")
ARMS = re.compile(r"Arms apart by (\d+) spaces?, (\d+) holes\.")
ON_CIRCLE = re.compile(r"on the (\d+) circle")
WHEEL = re.compile(
    r"Wheel on(?:, past zero (?:(?P<word>once|twice)|(?P<count>\d+) times))?\. "
    r"To (?P<dial>[^.]*) on its dial\."
)
UNITS = {"degree": 3600, "minute": 60, "second": 1}


class Worm:
    """Worm and wheel: the work is driven by one flank, and stays while the other is come to."""

    def __init__(self, ratio: int) -> None:
        self.ratio = ratio
        self.crank = Fraction(0)
        """Turns, clockwise."""
        self.driven = Fraction(1, 100)
        """Turns of the crank that the work has followed."""
        self.slack = SLACK

    def turn(self, turns: Fraction) -> None:
        """Turn the crank, clockwise where `turns` is more than nothing."""
        self.crank += turns
        if turns > 0:
            self.driven = max(self.driven, self.crank)
        else:
            self.driven = min(self.driven, self.crank + self.slack)

    def come_to(self, step: Fraction) -> None:
        """Back, and clockwise by half a turn or more to where whole steps of the crank end."""
        self.turn(Fraction(-1, 2))
        self.turn(Fraction(1, 2) + -(self.crank + Fraction(1, 2)) % step)

    @property
    def work(self) -> Fraction:
        """Turns of the work."""
        return self.driven / self.ratio


class Head(Worm):
    """A dividing head: the pin drops into a hole of a circle, or into none."""

    def __init__(self, machine: Machine) -> None:
        super().__init__(machine.dividing_ratio)
        self.plates = machine.plates
        self.circle = 1
        """Without a plate the pin has one hole, and so whole turns."""
        self.spaces = 0

    def do_note(self, shown: Glance) -> None:
        """Fit the plate, set the arms, come to the first hole."""
        if plate := PLATE.search(shown.instruction):
            least, most, self.circle = (int(part) for part in plate.groups())
            held = [p for p in self.plates if (min(p), max(p)) == (least, most)]
            assert len(held) == 1, f"no such plate: {plate[0]}"
            assert self.circle in held[0], f"not on that plate: {plate[0]}"
        elif arms := ARMS.search(shown.instruction):
            self.spaces, holes = (int(part) for part in arms.groups())
            assert holes == self.spaces + 1, "the hole of the pin is between the arms too"
        elif "Come to the first hole clockwise" in shown.instruction:
            self.come_to(Fraction(1, self.circle))

    def do_index(self, shown: Glance) -> None:
        """So many turns and so many holes, clockwise, and the pin drops."""
        turns = holes = 0
        on = None
        if shown.unit in ("turn", "turns"):
            turns = int(shown.number)
            assert shown.what == "crank", shown.what
            if shown.stop is not None:
                assert (shown.stop.turns, shown.stop.unit) == (f"{turns} {shown.unit} +", "holes")
                holes = int(shown.stop.number)
                on = ON_CIRCLE.fullmatch(shown.stop.after)
                assert on
        else:
            assert shown.unit == "holes", shown
            holes = int(shown.number)
            on = ON_CIRCLE.fullmatch(shown.what)
            assert on
        if on:
            assert int(on[1]) == self.circle, "another circle than the pin is in"
            assert holes == self.spaces, "not what the arms were set to"
        self.turn(Fraction(turns) + Fraction(holes, self.circle))
        assert self.crank * self.circle % 1 == 0, "no hole there"


class Table(Worm):
    """A rotary table, read on the dial of its wheel: degrees, minutes and seconds to a turn."""

    def do_note(self, shown: Glance) -> None:
        """Zero the dial with the backlash taken up."""
        if shown.instruction.startswith("Bring the table to zero, wheel turned clockwise."):
            assert "Zero its dial" in shown.instruction
            self.come_to(Fraction(self.ratio))

    def do_index(self, shown: Glance) -> None:
        """On, past the dial's zero so often, and on from there to the reading."""
        told = WHEEL.search(shown.instruction)
        assert told is not None, shown.instruction
        zeros = {None: 0, "once": 1, "twice": 2}[told["word"]] + int(told["count"] or 0)
        dial = self._seconds(told["dial"]) / (Fraction(360 * 3600) / self.ratio)
        here = self.crank % 1
        # the zero that it stands on is not passed; to a zero is not past it
        if zeros:
            self.turn(1 - here + zeros - 1)
            here = Fraction(0)
        on = (dial - here) % 1
        self.turn(on or Fraction(1))
        scale = self.work * 360 % 360
        assert shown.unit == "°"
        if shown.what == "table at":
            assert scale == int(shown.number)
        else:
            assert shown.what == "table past"
            assert int(shown.number) == scale // 1

    @staticmethod
    def _seconds(text: str) -> Fraction:
        """`1 degree, 27 minutes, 20 seconds`, in seconds."""
        if text == "zero":
            return Fraction(0)
        words = text.replace(",", "").split()
        return sum(
            (Fraction(number) * UNITS[unit.rstrip("s")]
             for number, unit in zip(words[::2], words[1::2], strict=True)),
            Fraction(0),
        )  # fmt: skip


W = TypeVar("W", bound=Work)


class Divider(Machinist[W]):
    """Turns the crank or the table's wheel as the screen says."""

    _worm: Head | Table | None = None

    @property
    def worm(self) -> Head | Table:
        """The dividing gear of the machine."""
        if self._worm is None:
            machine = self.job.state.machine
            table = machine.divider == "rotary table" and not machine.plates
            self._worm = Table(machine.dividing_ratio) if table else Head(machine)
        return self._worm

    def do(self, step: Step) -> None:
        if isinstance(step, Note):
            self.worm.do_note(self.job.glance)
        elif isinstance(step, Index):
            self.worm.do_index(self.job.glance)
        super().do(step)

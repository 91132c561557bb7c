"""Handwheels as they are: a screw, a nut with lost motion between them, a dial that counts turns
of the screw and knows nothing of the nut."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

from assistant.machine import WAYS, Axis
from assistant.present.glance import Glance
from assistant.units import magnitude

HALVES = {"¼": 0.25, "½": 0.5, "¾": 0.75}
TOLD = re.compile(
    r"(?:(?P<turns>\d+) turns?|under a turn: (?P<only>[\d.¼½¾]+)|(?P<stays>stays))"
    r"(?: \+ (?P<rest>[\d.¼½¾]+))?(?P<past>, past zero)?, (?:stop )?at (?P<stop>[\d.¼½¾]+)"
    r"(?:, coming back (?P<back>[\d¼½¾]+) turns?)?"
)
"""The line of a move on the screen: `4 turns + 140½, stop at 140½, coming back ½ turn`."""

ROUND = re.compile(r"back off (?P<back>[\d¼½¾]+) turns?, stop at (?P<stop>[\d.¼½¾]+)")
"""Gone past a little: back, and come to the reading again."""


def number(text: str | None) -> float:
    """`140½` or `1.25`; 0 for nothing."""
    if not text:
        return 0.0
    return float(text.rstrip("¼½¾") or 0) + HALVES.get(text[-1], 0)


@dataclass(frozen=True)
class Instruction:
    """A move as the screen tells it, all in the dial's unit."""

    axis: str
    way: str
    turns: int
    rest: float
    stop: float
    back: float
    """Turns to go past and come back by, or to go back by first."""
    stays: bool
    """Nothing to turn: the dial should read `stop` already."""
    comes_again: bool = False
    """Back off first, and come to `stop` the way `way`, wherever it stands now."""


def read_move(shown: Glance, axis: Axis) -> Instruction:
    """The screen's words for a move of that axis."""
    # an inch dial is marked in thousandths and read so
    scale = 1000 if str(axis.per_turn.units) == "inch" else 1
    words = shown.what.split()
    again = ROUND.fullmatch(shown.dial)
    if again is not None:
        way = words[-2]
        assert shown.what == f"{axis.name} {way} to", shown.what
        stop, back = number(again["stop"]) / scale, number(again["back"])
        return Instruction(axis.name, way, 0, 0.0, stop, back, False, comes_again=True)
    told = TOLD.fullmatch(shown.dial)
    assert told is not None, f"a line that nobody can follow: {shown.dial!r}"
    way = words[-1]
    if not told["stays"]:
        assert axis.name in shown.what, shown.what
        assert way in WAYS[axis.name], shown.what
    return Instruction(
        axis.name,
        way,
        int(told["turns"] or 0),
        number(told["rest"] or told["only"]) / scale,
        number(told["stop"]) / scale,
        number(told["back"]),
        told["stays"] is not None,
    )


class Handwheel:
    """One axis. All lengths in its own unit, as its dial counts them; `nut` is where the slide
    really is, positive the axis' positive way."""

    def __init__(self, axis: Axis, phase: float = 0.0, slack: float = 0.0) -> None:
        self.axis = axis
        unit = str(axis.per_turn.units)
        self.per_turn = float(magnitude(axis.per_turn, unit))
        self.graduation = float(magnitude(axis.graduation, unit))
        self.backlash = float(magnitude(axis.backlash, unit))
        self.screw = 0.0
        self.nut = slack * self.backlash
        self.watch: Callable[[float, float], None] | None = None
        """Told where the slide stood and where it stands, at every turn."""
        self._dial_zero = phase * self.per_turn
        """Screw at which the dial reads 0."""
        self.zero = self.screw
        """Screw at the place that whole turns are counted from."""
        self._read_at_zero = 0.0
        self.trail: list[float] = []
        """Every place to which the slide was turned."""

    def turn(self, travel: float) -> None:
        """Turn the screw by so much travel."""
        before = self.nut
        self.screw += travel
        if travel > 0:
            self.nut = max(self.nut, self.screw)
        elif travel < 0:
            self.nut = min(self.nut, self.screw + self.backlash)
        if self.watch is not None:
            self.watch(before, self.nut)
        self.trail.append(self.nut)

    def touch(self, where: float, way: int) -> None:
        """Come to `where` travelling `way`: up to it from well before."""
        self.turn(-way * (abs(where - self.nut) + 3 * self.per_turn))
        self.turn(where - (self.screw if way > 0 else self.screw + self.backlash))
        assert math.isclose(self.nut, where, abs_tol=1e-9)

    def set_zero(self) -> None:
        """Hold the wheel and set the dial to 0."""
        assert self.axis.settable
        self._dial_zero = self.screw
        self.count_from_here()

    def set_reading(self, reading: float) -> None:
        """Hold the wheel and set the dial to that; its zero lies so far back."""
        assert self.axis.settable
        self._dial_zero = self.zero = self.screw - reading * self.axis.rises
        self._read_at_zero = 0.0

    def count_from_here(self) -> None:
        """Whole turns are counted from here on; the dial reads what it reads."""
        self.zero = self.screw
        self._read_at_zero = self.read()

    def count_from(self, place: float) -> None:
        """It stands at `place` now: whole turns are counted from that far back."""
        self.zero = self.screw - place
        half = self.graduation / 2
        shown = (self.zero - self._dial_zero) * self.axis.rises % self.per_turn
        self._read_at_zero = round(shown / half) * half % self.per_turn

    def counted(self) -> tuple[int, float]:
        """Whole turns from the zero, as they were counted on the way, and what the dial reads."""
        gone, read = self.screw - self.zero, self.read()
        way = self.axis.rises if gone >= 0 else -self.axis.rises
        beside = way * (read - self._read_at_zero) % self.per_turn
        return round((abs(gone) - beside) / self.per_turn), read

    def back_to_zero(self, error: float = 0.0) -> None:
        """Let it back to where its zero was."""
        self.turn(self.zero - self.screw + error)

    @property
    def reading(self) -> float:
        """What the dial reads, 0 to a turn."""
        return (self.screw - self._dial_zero) * self.axis.rises % self.per_turn

    def read(self) -> float:
        """The reading as a person takes it: to the nearest half division."""
        half = self.graduation / 2
        return round(self.reading / half) * half % self.per_turn

    def follow(self, told: Instruction, error: float = 0.0, back_first: bool = False) -> None:
        """Do what the screen says: so many turns that way, on to the reading, and round by the
        other side where it says so. `error` is by how much the handle stops beyond the mark."""
        if told.stays:
            off = (self.reading - told.stop + self.per_turn / 2) % self.per_turn
            assert abs(off - self.per_turn / 2) < 0.8 * self.graduation, told
            return
        way = 1 if told.way == WAYS[self.axis.name][0] else -1
        if told.comes_again:
            self.turn(-way * told.back * self.per_turn)
            on = (told.stop - self.reading) * self.axis.rises * way % self.per_turn
            self.turn(way * on + error)
            return
        beside = ((told.stop - self.reading) * self.axis.rises * way) % self.per_turn
        if self.per_turn - beside < self.graduation and told.rest < self.graduation:
            beside -= self.per_turn  # a hair past the mark already: not once round
        assert abs(beside - told.rest) < 0.8 * self.graduation, (
            f"{told}: {beside:.4f} from here to the mark, which isn't what was said"
        )
        travel = way * (told.turns * self.per_turn + beside)
        around = told.back * self.per_turn
        if told.back and back_first:
            self.turn(-way * around)
            self.turn(travel + way * around + error)
        elif told.back:
            self.turn(travel + way * around)
            self.turn(-way * around + error)
        else:
            self.turn(travel + error)

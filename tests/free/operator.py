"""An operator who knows only what the page says, at handwheels with backlash and dials.

Everything is a float in the dial's own unit; no formula is shared with the package. `want` is where
every slide ought to be, kept beside by adding what was asked for.
"""

from __future__ import annotations

from assistant.free.page import page
from assistant.free.talk import Talk
from assistant.machine import WAYS
from assistant.present.glance import Moment
from assistant.units import magnitude
from tests.free.talking import begun, said, say
from tests.shop.handwheels import Handwheel, read_move


class Operator:
    """One at a machine, in free moves."""

    def __init__(self, machine: str, talk: Talk | None = None, phase: float = 0.0) -> None:
        self.talk = talk or begun(machine)
        self.wheels = {
            name: Handwheel(axis, phase, slack=0.5) for name, axis in self.talk.machine.axes.items()
        }
        self.trail: list[str] = []

    def say(self, *lines: str) -> str:
        for line in lines:
            self.talk = say(self.talk, line)
            self.trail.append(f"{line} -> {said(self.talk)}")
        return said(self.talk)

    def zero(self, axis: str, way: str) -> None:
        """Comes to its place that way, says so, and does what is answered to it."""
        wheel = self.wheels[axis]
        sign = 1 if way == WAYS[axis][0] else -1
        wheel.touch(wheel.nut, sign)
        answer = self.say(f"zero the {axis}")
        for _ in range(4):
            if "dial read?" in answer or "does it read?" in answer:
                answer = self.say(self.reading(axis, turns="turns" in answer))
            elif "go last" in answer:
                answer = self.say(way)
            elif "of zero, or" in answer:
                answer = self.say(WAYS[axis][0 if wheel.screw > wheel.zero else 1])
        assert f"{axis} zero here" in answer.lower(), self.trail
        if "Set its dial to zero" in answer:
            wheel.set_zero()
        else:
            wheel.count_from_here()

    def reading(self, axis: str, *, turns: bool = False) -> str:
        """The dial, as one reads it out."""
        counted, read = self.wheels[axis].counted()
        inch = str(self.talk.machine.axis(axis).per_turn.units) == "inch"
        half = " 1/2" if inch and round(read * 2000) % 2 else ""
        shown = f"{round(read * 2000) // 2}{half}" if inch else f"{read:.3f} mm"
        return f"{counted} turns and {shown}" if turns else f"it reads {shown}"

    def move(self, *lines: str) -> None:
        """Says a move, and does it leg by leg as the page shows it."""
        answer = self.say(*lines)
        for _ in range(6):
            shown = page(self.talk)
            if shown.moment is not Moment.MOVE:
                break
            leg = self.talk.places.leg
            assert leg is not None
            told = read_move(shown, self.talk.machine.axis(leg.axis))
            self.wheels[leg.axis].follow(told)
            answer = self.say("I'm there")
        assert self.talk.places.leg is None, (answer, self.trail)

    def place(self, axis: str) -> float:
        """Where its slide is."""
        return self.wheels[axis].nut

    def half(self, axis: str) -> float:
        """Half of what its dial can be set to, and a hair."""
        return self.wheels[axis].graduation / 4 + 1e-6


def exactly(size: object) -> float:
    """For comparing."""
    return float(magnitude(size, str(size.units)))  # type: ignore[attr-defined, arg-type]

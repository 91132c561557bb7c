"""A machinist at a mill, who feeds, backs off and runs back as he is told."""

from __future__ import annotations

import random
import re
from collections.abc import Callable, Mapping

from assistant.jobs.steps import Cut, Measure, Move, Step, Touch
from tests.factories import Job, expected_words
from tests.shop.handwheels import Handwheel
from tests.shop.machinist import Machinist
from tests.shop.milling import Mill

COUNTS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
CLEAR = re.compile(r"(knee|quill) (down|up),? clear of the top", re.IGNORECASE)
EXACTLY = re.compile(r"(knee|quill) (down|up) exactly (\w+) turns?", re.IGNORECASE)
AGAIN = re.compile(r"(up|down) (?:that|those) (\w+) turns? again", re.IGNORECASE)
FEED = re.compile(r"table (right|left)", re.IGNORECASE)
AWAY = {"down": -1, "up": 1}
"""The way of a knee; a quill's is the other."""


class Miller(Machinist[Mill]):
    """Works a block on a mill."""

    def __init__(
        self, job: Job, work: Callable[[random.Random, Mapping[str, Handwheel]], Mill], seed: int,
        *, plunges: bool = False,
    ) -> None:  # fmt: skip
        super().__init__(job, work, seed)
        self.plunges = plunges
        """Whether the work is one that is plunged into: setting a depth cuts."""
        self.down = self.wheels[self.work.deepening]
        self.lowered = 0
        """Whole turns by which the work is off the cutter, counted."""

    @property
    def words(self) -> str:
        """What was said last."""
        return " ".join(self.job.state.last_reply)

    def touch(self, step: Touch) -> None:
        self.work.watched = False
        super().touch(step)
        self.work.watched = True

    def move(self, step: Move) -> None:
        """Off as told first, and on again after it."""
        said = self.words
        self.back_off(said)
        if (self.plunges and step.axis == self.work.deepening) or "feed on" in said.lower():
            self.work.feeding, self.work.fed = step.id, 0
        super().move(step)
        self.work.feeding = ""
        self.on_again(said)

    def back_off(self, said: str) -> None:
        """Away from the cutter, by as much as was said before the move."""
        if CLEAR.search(said):
            self.work.by_eye(**{
                self.work.deepening: self.work.square[self.work.deepening]
                - self.work.small * self.chance.uniform(20, 300)
            })  # fmt: skip
        if told := EXACTLY.search(said):
            assert AWAY[told[2].lower()] * (1 if told[1].lower() == "knee" else -1) < 0, said
            if "spindle off, or" in said.lower() and self.chance.random() < 0.5:
                return
            self.lowered = turns(told[3])
            self.down.turn(-self.lowered * self.down.per_turn)

    def on_again(self, said: str) -> None:
        """On again by the turns that were counted."""
        told = AGAIN.search(said)
        if told is None or not self.lowered:
            return
        assert turns(told[2]) == self.lowered, said
        self.down.turn(self.lowered * self.down.per_turn)
        self.lowered = 0

    def do(self, step: Step) -> None:
        """A run along the table that isn't counted, besides what every machinist does."""
        if isinstance(step, Move) and step.target is None and step.axis == "table":
            self.run_out()
        else:
            super().do(step)

    def run_out(self) -> None:
        """Till the cutter's off the end: the one that was said, or back the way it came."""
        said, work = self.words, self.work
        told = FEED.search(said)
        if told:
            way = 1 if told[1].lower() == "right" else -1
        elif work.fed:
            way = -work.fed
        else:
            way = self.chance.choice((1, -1))
        self.back_off(said)
        self.run_table(way)
        self.on_again(said)
        self.say(expected_words(self.job.state))

    def run_table(self, way: int) -> None:
        """Along till the cutter is off the end."""
        if self.work.off() == -way:
            return
        wheel = self.wheels["table"]
        to = self.work.clear_of_end(way)
        wheel.turn(to - (wheel.screw if way > 0 else wheel.screw + wheel.backlash))

    def cut(self, step: Cut) -> None:
        """Feed through the way that was said, or to where it is counted to."""
        work, said = self.work, self.words
        told = FEED.search(said)
        way = 1 if told is None or told[1].lower() == "right" else -1
        if told is None and step.feed_target is None:
            way = work.off()  # either way will do: from where it stands
        work.feeding, work.fed = step.id, way
        if step.feed_target is None:
            assert work.off() == way, f"{said!r}: not off the end it begins at"
            self.run_table(way)
        super().cut(step)
        work.feeding = ""

    def measure(self, step: Measure) -> None:
        self.back_off(self.words)
        super().measure(step)


def turns(word: str) -> int:
    """`4`, or `four`."""
    return int(word) if word.isdigit() else COUNTS[word.lower()]

"""A job at work that can be forked at any turn, with the handwheels as an obedient hand turns them.

Where an axis stands is counted from the moves on the pages alone, from its last touch on.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from pathlib import Path

from assistant.app.assistant import Devices
from assistant.devices.hidden import HiddenScreen
from assistant.devices.speaker import SilentSpeaker
from assistant.ports import JobEntry
from assistant.present.glance import Glance, Moment
from assistant.session.events import Record
from assistant.spoken import DialMove, Understood
from assistant.units import magnitude
from tests.factories import Job, answer
from tests.torture.mishaps import meant

RESUME = "(the program is ended and started again)"
ZEROED = re.compile(r"[Zz]ero the ([a-z ]+?)[.,]")
FLOOR = re.compile(r"just touching\..*? the ([a-z ]+?) dial")
"""Come to what was cut: the dial is set, or read, there."""
DONE = ("i'm set", "that's through", "clear")


class UnspokenError(Exception):
    """The program raised something that it should have said in words."""


class Records:
    """A journal that keeps the records as they are, and can be copied at no cost."""

    name = "records"
    notices: tuple[str, ...] = ()

    def __init__(self, kept: dict[str, tuple[Record, ...]] | None = None) -> None:
        self._kept = dict(kept or {})

    def append(self, job: str, records: Sequence[Record]) -> None:
        """Keep them."""
        self._kept[job] = (*self._kept.get(job, ()), *records)

    def read(self, job: str) -> Sequence[Record]:
        """All of one job."""
        return self._kept[job]

    def jobs(self) -> Sequence[JobEntry]:
        """None: nobody asks."""
        return ()

    def close(self) -> None:
        """Nothing to give back."""

    def fork(self) -> Records:
        """Another with the same records."""
        return Records(self._kept)


class Forked(Job):
    """The test's job with a journal that is copied with it."""

    def __init__(self, name: str, path: Path | None = None) -> None:
        super().__init__(name, path)
        kept = self.journal.read(self.assistant.job_id)
        self._set_up(Records({self.assistant.job_id: tuple(kept)}))

    def fork(self) -> Forked:
        """The same job at the same place, to go another way."""
        twin = copy(self)
        twin.assistant = copy(self.assistant)
        assert isinstance(self.records, Records)
        twin._set_up(self.records.fork())
        return twin

    def _set_up(self, records: Records) -> None:
        self.records = records
        self.speaker, self.screen = SilentSpeaker(), HiddenScreen()
        self.assistant.devices = Devices(records, self.speaker, self.screen, self.clock)


@dataclass
class Said:
    """What one thing typed led to."""

    words: str
    spoken: str
    taken: bool
    """Whether it was understood and not asked back."""
    before: Glance
    after: Glance
    zeroed: tuple[str, ...] = ()
    """Axes that were touched off by it."""

    @property
    def moved_on(self) -> bool:
        """Whether the page is another than before."""
        return page_of(self.before) != page_of(self.after)


def page_of(shown: Glance) -> tuple[str, ...]:
    """What tells one page from another."""
    return (shown.moment, shown.phase, shown.instruction, shown.number, shown.what, shown.place)


class Bench:
    """A job, what was typed so far, and where the handles stand."""

    def __init__(self, job: Forked) -> None:
        self.job = job
        self.typed: tuple[str, ...] = ()
        self.travel: dict[str, Decimal] = {}
        """Of each axis from its touch, in its dial's unit, positive its positive way."""
        self.cuts: tuple[tuple[str, dict[str, Decimal]], ...] = ()
        """Each cut said to be through: the key of its surface, and where the axes stood."""
        self.page = job.glance
        self.spoken = " ".join(sentence.text for sentence in job.opening)

    def fork(self) -> Bench:
        """Another at the same place."""
        twin = copy(self)
        twin.job = self.job.fork()
        twin.travel = dict(self.travel)
        return twin

    @property
    def asking(self) -> bool:
        """Whether a question waits for yes or no."""
        return bool(self.page.choices)

    @property
    def cut_at_hand(self) -> bool:
        """Whether the page commands a cut."""
        return self.page.moment is Moment.CUT or self.page.phase == "cutting"

    @property
    def done(self) -> bool:
        """Whether the job is finished."""
        return self.page.moment is Moment.DONE

    def say(self, words: str) -> Said:
        """Type words, or end the program and start it again."""
        before, key = self.page, meant.cutting(self.job)
        reads, touched = meant.reads_at_touch(self.job), meant.touching(self.job)
        second = meant.second_touch(self.job)
        self.typed = (*self.typed, words)
        try:
            understood = self._type(words)
        except Exception as error:
            raise UnspokenError(f"{type(error).__name__}: {error}") from error
        said = Said(words, self.spoken, understood and not self.asking, before, self.page)
        if said.taken and words != RESUME:
            said.zeroed = tuple(ZEROED.findall(self.spoken))
            if reads and not meant.reads_at_touch(self.job):
                said.zeroed = (*said.zeroed, touched)
            at_the_floor = FLOOR.search(before.instruction)  # counted from there by the words
            if words == "touched" and before.moment is Moment.ASK and not at_the_floor:
                # back to the zero that was touched, and counted again from there
                again = (axis for axis in self.travel if axis in before.instruction)
                said.zeroed = (*said.zeroed, *again)
            self._turned(said, key)
            self._went_past(said)
            for axis in FLOOR.findall(self.spoken):
                self.travel[axis] = self.in_the_metal(axis) or self.travel.get(axis, Decimal(0))
            if second and "dial reads" in words:
                self.travel[second] = meant.stands(self.job, second)
        return said

    def _type(self, words: str) -> bool:
        """Type words; whether they were understood."""
        if words == RESUME:
            self.spoken, understood = self.job.resume(), True
        else:
            outcome = self.job.try_saying(words)
            self.spoken = answer(outcome)
            understood = isinstance(outcome.said, Understood)
        self.page = self.job.glance
        return understood

    @property
    def reached(self) -> dict[str, Decimal]:
        """Where the axes stand once the move on the page is made."""
        move = self.page.move
        return self.travel if move is None else self.travel | self._moved(move)

    def in_the_metal(self, axis: str) -> Decimal | None:
        """Where the axis stands in the cut at hand, or stood in the last one; None before any."""
        at_hand = meant.in_a_cut(self.job) and meant.fed(self.job) != axis
        if at_hand or not self.cuts:
            return self.travel.get(axis)
        return self.cuts[-1][1].get(axis)

    def _moved(self, move: DialMove) -> dict[str, Decimal]:
        axis = move.wheel.axis
        return {axis: self.travel.get(axis, Decimal(0)) + self._gone(move)}

    def _gone(self, move: DialMove) -> Decimal:
        """How far a move goes, positive the axis' positive way."""
        axis = move.wheel.axis
        way = 1 if meant.positive_way(self.job, axis, move.direction) else -1
        return way * magnitude(move.distance, meant.dial(self.job, axis).unit)

    def _turned(self, said: Said, key: str) -> None:
        move = said.before.move
        if move is not None and said.words in DONE and said.moved_on:
            self.travel |= self._moved(move)
            if "zero it" in said.before.instruction.lower():
                self.travel[move.wheel.axis] = Decimal(0)
        if said.words == "that's through":
            self.cuts = (*self.cuts, (key, dict(self.travel)))
            if move is not None and move.wheel.axis in ("quill", "tailstock"):
                self.travel[move.wheel.axis] = Decimal(0)  # right out, for the chips
        for axis in said.zeroed:
            self.travel[axis] = Decimal(0)

    def _went_past(self, said: Said) -> None:
        """Told in the air, past the mark: as far as it is to come back now."""
        before, after = said.before.move, said.after.move
        if "went past" not in said.words or before is None or after is None:
            return
        if before.wheel.axis == after.wheel.axis and before.reading == after.reading:
            at_the_mark = self._moved(before)[before.wheel.axis]
            self.travel[after.wheel.axis] = at_the_mark - self._gone(after)

    def reading(self, axis: str) -> tuple[int, str]:
        """Whole turns from the touch, and what the dial reads as it is typed."""
        wheel = meant.dial(self.job, axis)
        place = wheel.rises * self.travel.get(axis, Decimal(0))
        turns = int(abs(place) // wheel.per_turn)
        part = place - wheel.per_turn * (place / wheel.per_turn).to_integral_value(ROUND_FLOOR)
        if wheel.unit == "inch":
            return turns, f"{(part * 1000).normalize():f}"
        text = f"{part.normalize():f}"
        return turns, text if "." in text else f"{text}.0"

"""A job brought to a page by plain words, then to whatever an operator says there: for the cases
of trouble, which state what would be right."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from functools import cache
from pathlib import Path

from assistant.present.glance import Glance, Moment
from assistant.session.belief import DoubtKind
from assistant.session.cuts import last_cut
from assistant.units import magnitude
from tests.factories import expected_words
from tests.torture.mishaps import meant
from tests.torture.mishaps.answers import go_on
from tests.torture.mishaps.bench import Bench, Forked, Said
from tests.torture.mishaps.plain import FINISHING, demo_jobs

CUT, MOVE, MEASURE, INDEX = Moment.CUT, Moment.MOVE, Moment.MEASURE, Moment.INDEX
TOUCH, NOTE = Moment.TOUCH, Moment.NOTE
MOST_TURNS = 300
SOON = 20
"""Turns."""
SAID = {"inch": "in", "mm": "mm"}
LEFT = {"inch": ("0.001", "in"), "mm": ("0.01", "mm")}


def foreseen(bench: Bench) -> str:
    """The size that the page foresees; before a finishing cut what that takes is still there; in
    doubt it is as the last cut should have left it."""
    page = bench.page
    if page.moment is Moment.ASK and not bench.asking:
        return as_cut(bench)
    if page.bar is None or FINISHING not in page.instruction or page.what.startswith("about now"):
        return "bang on"
    places, unit = LEFT[bench.job.state.unit]
    left = Decimal(repr(page.bar.full)) - Decimal(repr(page.bar.now))
    return f"measured {(Decimal(page.number) + left).quantize(Decimal(places))} {unit}"


@cache
def _brought_to(name: str, moment: Moment, text: str, path: Path) -> Bench:
    bench = Bench(Forked(name, path))
    for _ in range(MOST_TURNS):
        if _is_at(bench.page, moment, text):
            return bench
        words = expected_words(bench.job.state)
        bench.say(foreseen(bench) if words in ("bang on", "ten over") else words)
    raise LookupError(f"{name} never comes to {moment}, {text!r}")


def _is_at(page: Glance, moment: Moment, text: str) -> bool:
    is_cut = moment is Moment.CUT and page.phase == "cutting"
    same = page.moment is moment or is_cut
    return same and text in " | ".join((page.pass_place, page.instruction, page.what))


def as_cut(bench: Bench) -> str:
    """The size that the last cut of the surface in doubt should have left; '' where none is."""
    state = bench.job.state
    first = state.doubts[0] if state.doubts else None
    metal = first is not None and first.kind is DoubtKind.METAL
    cut = last_cut(state, first.surface) if first is not None and metal else None
    if cut is None or cut.leaves is None:
        return ""
    unit = state.plan.unit
    return f"measured {magnitude(cut.leaves, unit).quantize(Decimal('0.0001'))} {SAID[unit]}"


class AtWork:
    """One job, and all that was spoken since it came to its page."""

    def __init__(self, name: str, moment: Moment, text: str, path: Path | None = None) -> None:
        self.bench = _brought_to(name, moment, text, path or demo_jobs()[name]).fork()
        self.heard: list[str] = []
        self.turns: list[Said] = []

    @property
    def page(self) -> Glance:
        """What is shown."""
        return self.bench.page

    @property
    def spoken(self) -> str:
        """All that was spoken since."""
        return " ".join(self.heard)

    @property
    def asks(self) -> bool:
        """Whether something is asked before the job goes on: yes or no, a dial, a size."""
        return self.page.moment is Moment.ASK

    @property
    def asks_a_size(self) -> bool:
        """Whether a size that a cut makes is asked for."""
        asked = meant.asked(self.bench.job)
        return asked is not None and (asked.limited or self.asks)

    def says(self, *words: str) -> Said:
        """Type words, which may be refused."""
        for one in words:
            said = self.bench.say(one)
            self._keep(said)
        return said

    def _keep(self, said: Said) -> None:
        self.heard.append(said.spoken)
        self.turns.append(said)

    def obeys(
        self, until: Callable[[], bool] = lambda: False, most: int = SOON,
        size: Callable[[Bench], str] = foreseen,
    ) -> bool:  # fmt: skip
        """Go on by whatever is asked; whether it came to that."""
        for _ in range(most):
            if until():
                return True
            if self._one_on(size) is None:
                return False
        return until()

    @property
    def cut_at_hand(self) -> bool:
        """Whether a cut is commanded."""
        return self.bench.cut_at_hand

    def stands(self, axis: str) -> Decimal:
        """Where that axis stands, by the moves on the pages."""
        return self.bench.travel[axis]

    def goes_deeper(self, axis: str, sign: int = 1, turns: int = SOON) -> Decimal:
        """How much deeper than it stands that axis is sent in any cut of the next turns."""
        start, deepest = self.stands(axis), Decimal(0)
        for _ in range(turns):
            if self.cut_at_hand:
                deepest = max(deepest, sign * (self.bench.reached[axis] - start))
            if self._one_on() is None:
                break
        return deepest

    def bites(self, axis: str, sign: int = 1, turns: int = SOON) -> list[Decimal]:
        """What each of the cuts to come takes, counted from where the axis stands now."""
        before, bites = self.stands(axis), []
        for _ in range(turns):
            if self.cut_at_hand:
                reached = self.bench.reached[axis]
                bites.append(sign * (reached - before))
                before = max(before, reached, key=lambda place: sign * place)
            if self._one_on() is None:
                break
        return bites

    def _one_on(self, size: Callable[[Bench], str] = foreseen) -> Said | None:
        said = None if self.bench.done else go_on(self.bench, size)
        if said is not None:
            self._keep(said)
        return said

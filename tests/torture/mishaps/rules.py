"""What must never follow a trouble: rules that know no operation, by what is spoken and shown."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from tests.torture.mishaps import meant
from tests.torture.mishaps.bench import Bench, Said
from tests.torture.mishaps.lines import Line

WORD_OF_IT = re.compile(
    r"(over|under|past|beyond) the (high |low |last )?limit|"
    r"too (deep|wide|small|big|large|short|long|far|thin|narrow|shallow|much)\b|"
    r"undersize|oversize|scrap|ask before|off the drawing|can't be|yes or no|which is it",
    re.IGNORECASE,
)
"""A size is spoken of as one that is past its limits, or asked about."""

DEEPER = "inside the limits, and sent deeper"
PAST_DEEPER = "past the limits, and sent deeper"
NO_WORD = "past the limits, and no word about it"
NONSENSE = "nonsense taken without a question"
TOO_MUCH = "more than the most of a pass"
PAST = "sent past the limits"
SHAKEN = "a cut after the zero was shaken, and nothing that finds it"
FORGOTTEN = "what was cut is taken for uncut"
ASTRAY = "a cut at another place than its own"
STUCK = "stuck"
RAISED = "an exception"
KINDS = (DEEPER, PAST_DEEPER, NO_WORD, NONSENSE, TOO_MUCH, PAST, SHAKEN, FORGOTTEN, ASTRAY, STUCK,
         RAISED)  # fmt: skip


@dataclass(frozen=True)
class Told:
    """A size that the operator told, true from then on."""

    kind: str
    size: Decimal
    asked: meant.Asked
    line: Line | None
    at: Decimal | None
    """Where the line's axis stood in the metal."""
    cuts: int
    """Cuts said to be through until then."""

    def now(self, bench: Bench) -> Decimal:
        """The true size after the cuts since."""
        since = bench.cuts[self.cuts :]
        if self.line is None or self.at is None:
            return self.size
        deeper = self.line.deeper
        places = made(since, self.asked.key, self.line.axis)
        deepest = max((self.at * deeper, *(place * deeper for place in places)))
        return self.size + self.line.slope * (deepest * deeper - self.at)


def made(cuts: Sequence[tuple[str, dict[str, Decimal]]], key: str, axis: str) -> list[Decimal]:
    """Where the axis stood in the cuts of that surface."""
    return [cut[axis] for of, cut in cuts if of == key and axis in cut]


def grounds(said: Said) -> bool:
    """Whether it says where things stand: a touch, a dial read, a measurement, or the way to find
    it by what was cut. What is counted from where the tool bites needs no other zero."""
    words = said.words
    told = words.startswith(("measured", "bang on")) or "dial reads" in words
    read_again = words == "yes" and "read it again" in said.before.phase
    by_itself = "just touching" in said.spoken or "from where it bites" in said.spoken
    found = told or read_again or words == "touched" or by_itself
    return bool(said.zeroed) or found


def still_lost(lost: frozenset[str], said: Said) -> frozenset[str]:
    """Of the axes whose zero is gone with the tool or the work, those that aren't found again: by
    a touch, or by coming to what was cut. What a dial reads tells nothing of them, nor does the
    size of a new cutter; a size that is held by limits ends the looking."""
    if "just touching" in said.spoken:
        lost = frozenset(axis for axis in lost if f"the {axis} dial" not in said.spoken)
    return lost - set(said.zeroed)


def said_of_it(spoken: str) -> bool:
    """Whether a size that is past its limits is spoken of as such."""
    return bool(WORD_OF_IT.search(spoken))


def wrong_cut(told: Told, bench: Bench) -> str:
    """What is wrong with the cut on the page after a size was told; '' where nothing is."""
    if not bench.cut_at_hand or meant.cutting(bench.job) != told.asked.key:
        return ""
    line = told.line
    if line is None or told.at is None or line.axis not in bench.reached:
        return _by_the_bar(told, bench)
    wheel = meant.dial(bench.job, line.axis)
    reached = bench.reached[line.axis]
    net = line.deeper * (reached - told.at)
    if net <= wheel.graduation * Decimal("0.6"):
        return ""
    if told.kind == "inside":
        return DEEPER
    if told.kind == "past":
        return PAST_DEEPER
    since = made(bench.cuts[told.cuts :], told.asked.key, line.axis)
    bite = line.deeper * (reached - since[-1]) if since else net
    most = _most(bench, told.asked.key, line.axis)
    if most is not None and bite > most + wheel.graduation:
        return TOO_MUCH
    size = told.size + line.slope * (reached - told.at)
    return PAST if _past(told.asked, size, wheel.graduation * abs(line.slope)) else ""


def _by_the_bar(told: Told, bench: Bench) -> str:
    bar = bench.page.bar
    if bar is None or bar.after <= bar.now * 1.0001:
        return ""
    return {"inside": DEEPER, "past": PAST_DEEPER}.get(told.kind, "")


def _most(bench: Bench, key: str, axis: str) -> Decimal | None:
    most, wheel = meant.most(bench.job, key), meant.dial(bench.job, axis)
    if most is None:
        return None
    return most * wheel.per_job_unit(bench.job.state.unit) * wheel.counts


def _past(asked: meant.Asked, size: Decimal, give: Decimal) -> bool:
    assert asked.low is not None
    assert asked.high is not None
    return size > asked.high + give if asked.grows else size < asked.low - give


def deeper_than_a_pass(bench: Bench, line: Line | None) -> bool:
    """Whether the cut on the page takes more than a pass may, counted from the last one of the same
    surface."""
    key = meant.cutting(bench.job)
    before = made(bench.cuts, key, line.axis) if line is not None and bench.cut_at_hand else []
    if line is None or not before or line.axis not in bench.reached:
        return False
    most, wheel = _most(bench, key, line.axis), meant.dial(bench.job, line.axis)
    deepest = max(before, key=lambda place: place * line.deeper)
    bite = line.deeper * (bench.reached[line.axis] - deepest)
    return most is not None and bite > most + wheel.graduation


def astray(bench: Bench, plain: Sequence[Bench], line: Line | None) -> bool:
    """Whether the axes that don't set the depth stand otherwise, by half a turn or more, than in
    every cut of that surface on the plain way."""
    if not bench.cut_at_hand:
        return False
    key, stands = meant.cutting(bench.job), bench.reached
    others = stands.keys() - {line.axis if line is not None else ""}
    half = {axis: meant.dial(bench.job, axis).per_turn / 2 for axis in others}
    cuts = [one.reached for one in plain if one.cut_at_hand and meant.cutting(one.job) == key]
    return bool(cuts) and not any(
        all(abs(stands[axis] - cut[axis]) < half[axis] for axis in others & cut.keys())
        for cut in cuts
    )


def forgotten(bench: Bench, plain: list[Bench]) -> bool:
    """Whether the page of a cut shows less of the same depth cut than any cut that comes on the
    plain way."""
    bar = bench.page.bar
    if bar is None or not bench.cut_at_hand:
        return False
    later = [one.page.bar for one in plain if one.cut_at_hand and one.page.bar is not None]
    shown = [one.now for one in later if one.full == bar.full]
    return bool(shown) and bar.now < min(shown) * 0.999

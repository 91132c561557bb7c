"""What an operator who obeys says next: the word that finishes the step, or what is asked for."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

from assistant.present.glance import Moment
from tests.factories import expected_words
from tests.torture.mishaps import meant
from tests.torture.mishaps.bench import Bench, Said

AXIS = re.compile(r"the (table|saddle|knee|quill|carriage|cross slide|compound|tailstock)")
Size = Callable[[Bench], str]
"""The words that tell the size which is asked for."""


def go_on(bench: Bench, size: Size) -> Said | None:
    """Say what is asked for; None where nothing that could be said is taken."""
    for words in _words(bench, size):
        trial = bench.fork()
        said = trial.say(words)
        if said.taken or trial.asking:
            _become(bench, trial)
            return said
    return None


def _become(bench: Bench, other: Bench) -> None:
    bench.__dict__.update(other.__dict__)


def _words(bench: Bench, size: Size) -> list[str]:
    """What may be meant, the likeliest first."""
    if bench.asking:
        return ["yes" if _so(bench) else "no"]
    in_doubt = bench.page.moment is Moment.ASK
    usual = "" if in_doubt else expected_words(bench.job.state)
    if usual in ("bang on", "ten over"):
        return [size(bench), "bang on"]
    if usual:
        return [usual]
    asked = bench.page.instruction
    readings = [_reading(bench, axis) for axis in _axes(bench, asked)]
    # by its name, then without: of what is asked
    readings[1:1] = [f"dial {readings[0].partition(' dial ')[2]}"] if readings else []
    wanted = {
        "easure": [size(bench)],
        "dial": readings,
        "moved": ["nothing moved"],
        "ouch": ["touched"],
        "metal left": ["yes"],
    }
    first = [words for word, these in wanted.items() if word in asked for words in these]
    rest = [words for these in wanted.values() for words in these]
    return list(dict.fromkeys(word for word in (*first, "bare", "zero", *rest, "i'm set") if word))


def _so(bench: Bench) -> bool:
    """Whether what is asked is so: where an axis stands; else he says yes."""
    place = meant.place_asked(bench.job)
    if place is None:
        return True
    axis, turns, side = place
    travel = bench.travel.get(axis, Decimal(0))
    return turns in (None, bench.reading(axis)[0]) and (side is None or travel * side >= 0)


def _axes(bench: Bench, asked: str) -> list[str]:
    named = AXIS.findall(asked)
    return [*named, *(axis for axis in bench.travel if axis not in named)]


def _reading(bench: Bench, axis: str) -> str:
    turns, part = bench.reading(axis)
    if "whole turns" not in bench.page.instruction:
        return f"{axis} dial reads {part}"
    return f"{axis} dial reads {turns} turn{'s' * (turns != 1)} and {part}"

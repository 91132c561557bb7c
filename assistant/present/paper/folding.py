"""What repeats itself on a set-up sheet, said once: so a gear takes pages, not a booklet."""

from __future__ import annotations

import re
from collections.abc import Sequence

from assistant.present.paper.model import Cell

Row = tuple[Cell, ...]
"""Box, number of the step, what to do, turns and dial, depth."""

LONGEST = 8
"""Steps of the longest round that is looked for: index, move, set, cut, run back and some more."""
FEWEST = 3
"""Rounds from which on they are folded."""
LONG = 45
"""Letters of words that take more than a line."""
_COUNTED = re.compile(r"\b(space|division|hole|number|tooth|flat|mark|face) \d+", re.IGNORECASE)


def fold(rows: Sequence[Row]) -> list[Row]:
    """The rows with every run of like rounds as its first round and a line `Repeat n times`.

    Rounds are alike where dial, turns and depths are the same and the words differ in nothing but
    the count of what is made. What is to be filled in by hand is never folded.
    """
    keys = [_key(row) for row in rows]
    folded: list[Row] = []
    at = 0
    while at < len(rows):
        length, times = _round(keys, at)
        folded += rows[at : at + max(length, 1)]
        if times > 1:
            folded.append(_again(rows, at, length, times))
        at += max(length * times, 1)
    return folded


def shorten(rows: Sequence[Row]) -> list[Row]:
    """The rows with long words that stood before told by the step they stood at: `As at step 20`.

    Only where dial and depth are those of that step, too; they stay on the row.
    """
    seen: dict[tuple[str, str, str], str] = {}
    short: list[Row] = []
    for row in rows:
        box, number, do, dial, depth = row
        said = (do.text, dial.text, depth.text)
        if len(do.text) > LONG:
            if said in seen:
                do = Cell(f"As at step {seen[said]}.", title=do.title)
            else:
                seen[said] = number.text
        short.append((box, number, do, dial, depth))
    return short


def _key(row: Row) -> tuple[str, ...] | None:
    """What has to be the same for two rows to be alike; None for one that is filled in by hand."""
    _, _, do, dial, depth = row
    if "__" in dial.text or "yes   no" in dial.text:
        return None
    return (
        *(_COUNTED.sub(r"\1", text) for text in (do.title, do.text)),
        dial.text,
        depth.text,
    )


def _round(keys: Sequence[tuple[str, ...] | None], at: int) -> tuple[int, int]:
    """Steps of the round that begins there, and how often it comes; (0, 1) where none does."""
    for length in range(1, LONGEST + 1):
        first = keys[at : at + length]
        if len(first) < length or None in first:
            continue
        times = 1
        while keys[at + times * length : at + (times + 1) * length] == first:
            times += 1
        if times >= FEWEST:
            return length, times
    return 0, 1


def _again(rows: Sequence[Row], at: int, length: int, times: int) -> Row:
    """The line that stands for all rounds but the first."""
    begins, ends = rows[at][1].text, rows[at + length - 1][1].text
    after, last = rows[at + length], rows[at + length * times - 1]
    what = f"steps {begins} to {ends}" if length > 1 else f"step {begins}"
    return (
        Cell(box=True),
        Cell(f"{after[1].text} to {last[1].text}"),
        Cell(f"The same as {what}; the last of all: {rows[at + length * (times - 1)][2].title}",
             title=f"Repeat {times - 1} times."),
        Cell("done, counted:\n____________"),
        Cell(),
    )  # fmt: skip

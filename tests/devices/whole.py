"""Whether a page has all that it should: told from the glance, not from how the page was made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import pygame

from assistant.devices.screen import viewing
from assistant.devices.screen.layout import MOST_LEAVES, Laid
from assistant.devices.screen.needs import Role
from assistant.devices.screen.page import laid_out
from assistant.devices.screen.setting import Line
from assistant.devices.screen.typeset import number_width
from assistant.present.glance import LEADS, Glance, Moment
from assistant.units import quantity

MISSING = (
    "No speaker",
    "No microphone",
    "Journal: the disk is full",
    "Screen: the display is gone. I'm trying to get it back.",
    "The second ear is gone. Numbers are checked by one ear alone.",
)
"""Lines of trouble, all at once."""


@dataclass(frozen=True)
class Seen:
    """A window, the width of its lit area in mm, and the distance in metres."""

    size: tuple[int, int]
    width: str
    distance: str

    @property
    def smallest(self) -> int:
        """The least legible type in pixels."""
        view = viewing(
            quantity(self.distance, "m"), self.size, width=quantity(self.width, "mm")
        )  # fmt: skip
        return view.smallest(self.size)


SEEN = tuple(
    Seen(size, width, distance)
    for size, width in (
        ((800, 480), "155"), ((1366, 768), "531"), ((1920, 1080), "531"),
        ((1080, 1920), "299"), ((3840, 2160), "700"),
    )
    for distance in ("0.5", "2", "3", "4", "6")
)  # fmt: skip


@dataclass(frozen=True)
class Held:
    """A phone or tablet as a second screen, near at hand: type has its usual size."""

    size: tuple[int, int]
    smallest: int = 0


HELD = tuple(
    Held(size)
    for size in ((360, 614), (720, 1228), (414, 870), (828, 1740), (614, 334), (1280, 774))
)
"""Windows of 360x640 to 1280x800 less the line that says whether it is live, and phones' finer
pixels."""


def faults(shown: Glance, seen: Seen | Held, leads: str = LEADS[0]) -> Iterator[str]:
    """What a page lacks, on any of its leaves or on all of them together; nothing where it is
    whole."""
    laid, content, said = laid_out(shown, seen.size, smallest=seen.smallest, leads=leads)
    frame, heads = laid.frame, [row.text for row in laid.frame.head]
    feet = [row.text for row in frame.foot]
    for words in (content.word, shown.place, shown.pass_place):
        if missing := lacking(words, heads):
            yield f"heading: {missing}"
    for words in (shown.ear.value, shown.waits_for, shown.say):
        if missing := lacking(words, feet):
            yield f"foot: {missing}"
    for number, leaf in enumerate(laid.leaves, 1):
        rows = [row.text for line in leaf for row in line.rows]
        for words in always(shown):
            if missing := lacking(words, rows):
                yield f"leaf {number}: {missing}"
        if shown.number and not any(line.need.role is Role.NUMBER for line in leaf):
            yield f"leaf {number}: no number"
        yield from (f"leaf {number}: {fault}" for fault in crossings(laid, leaf))
    read = [row.text for leaf in laid.leaves for line in leaf for row in line.rows]
    for words in (*to_read(shown, drawn=bool(laid.drawings)), "" if said else shown.noted):
        if missing := lacking(words, read):
            yield f"nowhere: {missing}"
    if len(laid.leaves) > MOST_LEAVES:
        yield f"{len(laid.leaves)} leaves"


def lacking(words: str, rows: list[str]) -> str:
    """Words that are not in the rows, as often as they should be."""
    there = Counter("".join(" ".join(rows).lower().split()))
    return "" if not Counter("".join(words.lower().split())) - there else words


def always(shown: Glance) -> Iterator[str]:
    """What has to be on every leaf, besides the large number: warnings, turns, dial, the way."""
    yield from shown.cautions
    yield from shown.choices
    yield shown.what
    if shown.stop is not None:
        yield shown.stop.turns
        yield shown.stop.after


def to_read(shown: Glance, *, drawn: bool) -> Iterator[str]:
    """What has to be on one leaf or another."""
    yield from (*shown.answer, shown.instruction, *shown.detail, *shown.trouble)
    if shown.limits is not None and not (drawn and shown.moment is Moment.MEASURE):
        yield from (shown.limits.low_text, shown.limits.high_text, shown.limits.measured_text)


def crossings(laid: Laid, leaf: tuple[Line, ...]) -> Iterator[str]:
    """What runs out of its room, or into something else."""
    frame = laid.frame
    page = pygame.Rect((0, 0), frame.size)
    boxes = [("head", row.text, pygame.Rect(row.left, row.top, row.width, row.size * 3 // 4))
             for row in frame.head]  # fmt: skip
    boxes += [("foot", row.text, pygame.Rect(row.left, row.top, row.width, row.size * 3 // 4))
              for row in frame.foot]  # fmt: skip
    for line in leaf:
        for row in line.rows:
            box = pygame.Rect(
                line.left + row.left, line.top + row.top, row.width, row.size * 3 // 4
            )
            boxes.append(("line", row.text, box))
        if line.need.role is Role.NUMBER:
            wide = round(number_width(line.need.text, line.size)) + line.sign_width
            boxes.append(
                ("number", line.need.text,
                 pygame.Rect(line.left, line.top, wide, line.size * 3 // 4))
            )  # fmt: skip
    boxes += [("drawing", "", pygame.Rect(box)) for group in laid.drawings for box in group]
    for kind, text, box in boxes:
        if not page.contains(box):
            yield f"{kind} {text!r} runs off the page: {box} of {frame.size}"
        if kind in ("line", "number", "drawing") and box.bottom > frame.sign[1]:
            yield f"{kind} {text!r} runs into the foot"
    for (_, one, box), (_, two, other) in combinations(boxes, 2):
        if box.colliderect(other):
            yield f"{one!r} runs into {two!r}"

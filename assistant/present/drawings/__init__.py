"""Drawings to scale, from the job's own numbers; pure, and rendered elsewhere.

A plan gives the kind and its dimensions by name, all in one unit:

    keyseat       shaft, width, depth_full; height, cutter_width
    woodruff      shaft, cutter, depth_full; key_over
    slot          width, depth_full; cutter_width
    step          width, depth_full; cutter_width
    face          width, depth_full
    keyway        bore, width, depth_full
    turned        stock, finished, length, depth_full
    bored         stock, finished, length, depth_full
    flats         stock, sides, across, depth_full
    dovetail      wide, narrow, depth; pin
    thread        pitch, depth_full; angle, infeed, pass_1 ...
    holes         x_1, y_1, x_2, y_2 ...; hole, circle, centre_x, centre_y, at
    index         holes, spaces; turns
    taper         large, small, length

`depth_now` and `depth_after`, `touch_side` or `touch_top`, and `at` for holes (from a step's id,
`hole-3-table`) come from the state of the job.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from assistant.present.drawings.block import (
    FACE_NEEDS,
    KEYWAY_NEEDS,
    STEP_NEEDS,
    face_section,
    keyway_section,
    step_section,
)
from assistant.present.drawings.flat import SLOT_NEEDS, TAPER_NEEDS, slot_section, taper_outline
from assistant.present.drawings.forms import DOVETAIL_NEEDS, FLATS_NEEDS, dovetail, flats
from assistant.present.drawings.holes import HOLES_NEEDS, INDEX_NEEDS, hole_map, index_circle
from assistant.present.drawings.keyseat import NEEDS as KEYSEAT_NEEDS
from assistant.present.drawings.keyseat import keyseat_section
from assistant.present.drawings.lathe import NEEDS as LATHE_NEEDS
from assistant.present.drawings.lathe import bored, turned
from assistant.present.drawings.model import Drawing
from assistant.present.drawings.threads import NEEDS as THREAD_NEEDS
from assistant.present.drawings.threads import thread_flanks
from assistant.present.drawings.woodruff import NEEDS as WOODRUFF_NEEDS
from assistant.present.drawings.woodruff import woodruff_section

KINDS: Mapping[str, tuple[tuple[str, ...], Callable[[Mapping[str, float]], Drawing]]] = {
    "keyseat": (KEYSEAT_NEEDS, keyseat_section),
    "woodruff": (WOODRUFF_NEEDS, woodruff_section),
    "slot": (SLOT_NEEDS, slot_section),
    "thread": (THREAD_NEEDS, thread_flanks),
    "holes": (HOLES_NEEDS, hole_map),
    "bolt circle": (HOLES_NEEDS, hole_map),
    "index": (INDEX_NEEDS, index_circle),
    "step": (STEP_NEEDS, step_section),
    "face": (FACE_NEEDS, face_section),
    "keyway": (KEYWAY_NEEDS, keyway_section),
    "turned": (LATHE_NEEDS, turned),
    "bored": (LATHE_NEEDS, bored),
    "flats": (FLATS_NEEDS, flats),
    "dovetail": (DOVETAIL_NEEDS, dovetail),
    "taper": (TAPER_NEEDS, taper_outline),
}
"""What each kind can't do without, and what draws it."""


def drawable(kind: str, dims: Iterable[tuple[str, float]]) -> bool:
    """Whether there is such a drawing and its dimensions suffice."""
    entry = KINDS.get(kind)
    return entry is not None and {name for name, _ in dims}.issuperset(entry[0])


def draw(kind: str, dims: Iterable[tuple[str, float]]) -> Drawing | None:
    """The drawing of that kind; None where there is none or a dimension is missing."""
    given = tuple(dims)
    return KINDS[kind][1](dict(given)) if drawable(kind, given) else None

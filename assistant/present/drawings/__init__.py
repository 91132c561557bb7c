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
    dovetail      wide, narrow, depth; pin, first_now, first_after, second_now, second_after
    thread        pitch, depth_full; angle, infeed, pass_1 ...
    hole          drill_across, drill_deep, drill_point; the same of other tools, thread_across ...
    bore          bore, hole, depth
    faced         diameter, length, depth_full; bore
    parted        diameter, bore, length, blade, depth_full
    knurled       stock, finished, length, depth_full, teeth; diamond, knurl_at, knurl_now
    gear          teeth, blank, depth_full; at, round_now, round_before
    block         thickness, width, length; at, done
    angle         angle, run; bar, rise, stack_at, rise_at
    centre        tip, first_x, first_y; x, y, inside, round, tip_x, tip_y, done_x, done_y
    dial-in       within, inside; swing, pair
    swept         sweep, limit, vice; across, at, left, right
    collars       collar, spacing, length; head, tail, head_at, tail_at, shift
    table         count, step; at
    holes         x_1, y_1, x_2, y_2 ...; hole, circle, centre_x, centre_y, at
    index         holes, spaces; turns
    taper         large, small, length

What changes from step to step (`depth_now`, `depth_after`, `touch_side`, `at` ...) comes from the
state of the job, in `present.drawn_now`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from assistant.present.drawings import (
    block,
    centre,
    flat,
    forms,
    gear,
    head,
    hole,
    holes,
    keyseat,
    lathe,
    lathe_ends,
    setting,
    squared,
    table,
    threads,
    tilt,
    woodruff,
)
from assistant.present.drawings.model import Drawing

KINDS: Mapping[str, tuple[tuple[str, ...], Callable[[Mapping[str, float]], Drawing]]] = {
    "keyseat": (keyseat.NEEDS, keyseat.keyseat_section),
    "woodruff": (woodruff.NEEDS, woodruff.woodruff_section),
    "slot": (flat.SLOT_NEEDS, flat.slot_section),
    "thread": (threads.NEEDS, threads.thread_flanks),
    "holes": (holes.HOLES_NEEDS, holes.hole_map),
    "bolt circle": (holes.HOLES_NEEDS, holes.hole_map),
    "index": (holes.INDEX_NEEDS, holes.index_circle),
    "table": (table.NEEDS, table.rotary_table),
    "step": (block.STEP_NEEDS, block.step_section),
    "face": (block.FACE_NEEDS, block.face_section),
    "keyway": (block.KEYWAY_NEEDS, block.keyway_section),
    "block": (squared.NEEDS, squared.block_in_vice),
    "turned": (lathe.NEEDS, lathe.turned),
    "bored": (lathe.NEEDS, lathe.bored),
    "faced": (lathe_ends.FACED_NEEDS, lathe_ends.faced),
    "parted": (lathe_ends.PARTED_NEEDS, lathe_ends.parted),
    "knurled": (lathe_ends.KNURLED_NEEDS, lathe_ends.knurled),
    "collars": (setting.COLLARS_NEEDS, setting.collars),
    "dial-in": (setting.DIAL_IN_NEEDS, setting.four_jaws),
    "swept": (setting.SWEPT_NEEDS, setting.swept),
    "angle": (tilt.NEEDS, tilt.angle_setting),
    "centre": (centre.NEEDS, centre.centre_finding),
    "flats": (forms.FLATS_NEEDS, forms.flats),
    "dovetail": (forms.DOVETAIL_NEEDS, forms.dovetail),
    "gear": (gear.NEEDS, gear.gear_blank),
    "hole": (hole.NEEDS, hole.hole_section),
    "bore": (head.NEEDS, head.boring_head),
    "taper": (flat.TAPER_NEEDS, flat.taper_outline),
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

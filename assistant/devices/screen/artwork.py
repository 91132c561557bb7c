"""The drawings of a page: which there are, where they may stand, and whether they can be read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import pygame

from assistant.devices.screen.sketch import Fitted
from assistant.drawing import Dimension, Drawing, Text
from assistant.present.drawings import draw
from assistant.present.drawings.bar import depth_bar, limits_chart
from assistant.present.drawings.dial import dial_sector
from assistant.present.glance import Glance, Moment

SET_UPS = ("angle", "centre", "collars", "dial-in", "swept")
"""Kinds of drawing that show where an indicator goes: worth more there than a band of limits."""
UNDRAWN = (Moment.ASK, Moment.TROUBLE, Moment.DONE)
LEAST = 4.0
"""Of a drawing's height and width, in multiples of the smallest type: under it, it is a smear."""
_BAR_ASPECT = 0.28
_CHART_ASPECT = 2.6


@dataclass(frozen=True, slots=True)
class Outline:
    """What decides the place of a drawing: its form, and what is written in it."""

    box: tuple[float, float, float, float]
    room: tuple[float, float, float, float]
    stretch: bool
    labels: tuple[Text | Dimension, ...]

    @property
    def aspect(self) -> float:
        """Width by height."""
        width, height = self.box[2] - self.box[0], self.box[3] - self.box[1]
        if not self.stretch:
            return width / height
        return _BAR_ASPECT if width < 3 else _CHART_ASPECT


def outline(drawing: Drawing) -> Outline:
    """The outline of a drawing."""
    labels = tuple(item for item in drawing.items if isinstance(item, Text | Dimension))
    return Outline(drawing.box, drawing.room, drawing.stretch, labels)


def drawings_of(glance: Glance) -> tuple[tuple[Drawing, ...], ...]:
    """What is drawn at this moment, in groups that stand side by side: first what tells the most,
    then what a tall page has room for under it."""
    if glance.answer:
        return ()
    main: list[Drawing | None]
    charted = glance.moment is Moment.MEASURE and glance.drawing_kind not in SET_UPS
    work = draw(glance.drawing_kind, glance.drawing) if glance.moment not in UNDRAWN else None
    if glance.moment in (Moment.MOVE, Moment.QUIET) and glance.move is not None:
        main = [dial_sector(glance.move, glance.way)]
    elif charted and glance.limits is not None and (chart := limits_chart(glance.limits)):
        main = [chart]
    else:
        main, work = [work], None
    if glance.bar is not None and len(glance.bar.marks) > 1 and glance.pass_place and any(main):
        main.append(depth_bar(glance.bar))
    groups = (tuple(one for one in main if one is not None), (work,) if work is not None else ())
    return tuple(group for group in groups if group)


def side_by_side(outlines: Sequence[Outline], box: pygame.Rect, gap: int) -> list[pygame.Rect]:
    """Boxes of one height for the drawings of a group, in the middle of a box."""
    spare = gap * (len(outlines) - 1)
    aspect = sum(one.aspect for one in outlines)
    height = min(box.height, round((box.width - spare) / aspect))
    x = box.right - (round(aspect * height) + spare)
    x -= (x - box.left) // 2
    boxes = []
    for one in outlines:
        width = round(one.aspect * height)
        boxes.append(pygame.Rect(x, box.top + (box.height - height) // 2, width, height))
        x += width + gap
    return boxes


@lru_cache(maxsize=2048)
def readable(one: Outline, width: int, height: int, small: int) -> bool:
    """Whether a drawing of that size can be read: it is no smear, and no label runs into another
    or out of its box."""
    if height < LEAST * small or (width < LEAST * small and one.aspect > 0.5):
        return False
    drawing = Drawing(one.labels, one.box, stretch=one.stretch, room=one.room)
    box = pygame.Rect(0, 0, width, height)
    fitted = Fitted(box, drawing, small)
    if not fitted.labelled:
        return True  # drawn without: its labels are there on a larger page, and nothing needs them
    around = box.inflate(small, small)
    gap = max(2, small // 4)
    labels = [fitted.label(item) for item in one.labels]
    return all(around.contains(label) for label in labels) and not any(
        label.inflate(gap, 0).colliderect(other)
        for place, label in enumerate(labels)
        for other in labels[:place]
    )

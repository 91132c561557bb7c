"""The invitation to a second screen beside the page: nothing of the page is lost, and it scans."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import numpy as np
import pygame
import pytest
import zxingcpp
from PIL import Image

from assistant.devices.screen.inviting import draw_invite, split
from assistant.devices.screen.page import least_type
from assistant.devices.screen.remote import RemoteView, page_text
from assistant.devices.screen.theme import THEMES
from assistant.devices.screen.turning import FRESH, LEAF_SECONDS
from assistant.devices.viewers.addresses import Where
from assistant.devices.viewers.child import invite_of
from assistant.devices.viewers.gate import Gate
from assistant.present.glance import LEADS
from tests.devices.glances import GLANCES
from tests.devices.pictures import drawn
from tests.devices.whole import MISSING, SEEN, always, faults, lacking, to_read

CODE = Gate().offer()
INVITE = invite_of(Where("192.168.100.200", 8733), CODE)
"""An address as long as they get; invented."""
SIZES = [(800, 480), (1280, 720), (1366, 768), (1920, 1080), (1080, 1920), (480, 800)]


@pytest.mark.parametrize("size", [*SIZES, (320, 200), (3840, 2160)])
@pytest.mark.parametrize("theme", ["dark", "light"])
def test_the_picture_is_read_off_the_screen(size: tuple[int, int], theme: str) -> None:
    """By ZXing, a reader of such pictures, from the whole screen: address and code."""
    _, pixels = drawn(replace(GLANCES["move"], theme=theme, invite=INVITE), size)
    (found,) = zxingcpp.read_barcodes(np.ascontiguousarray(pixels))
    assert found.text == f"http://192.168.100.200:8733/#{CODE}"


@pytest.mark.parametrize("size", SIZES)
def test_its_parts_have_room_and_can_be_typed_from(size: tuple[int, int]) -> None:
    pygame.font.init()
    room, strip = split(size)
    assert room.width * room.height + strip.width * strip.height == size[0] * size[1]
    small = least_type(room.size, 0)
    surface = pygame.Surface(size)
    boxes = draw_invite(surface, strip, INVITE, THEMES["dark"], small)
    for number, box in enumerate(boxes):
        assert strip.contains(box)
        assert not [other for other in boxes[:number] if box.colliderect(other)]
    title, _, _, host, code, _ = boxes[1:]
    assert host.height >= 0.6 * title.height
    assert code.height >= title.height  # what has to be typed exactly is the largest


@pytest.mark.parametrize("name", GLANCES)
def test_the_page_beside_it_has_all_that_it_must(name: str) -> None:
    told = replace(GLANCES[name], invite=INVITE)
    for place, seen in enumerate(SEEN):
        missing = ((), MISSING[:1], MISSING)[place % 3]
        shown = replace(told, trouble=(*told.trouble, *missing))
        assert list(faults(shown, seen, LEADS[place % 2])) == [], seen


def test_without_it_the_page_has_the_whole_window() -> None:
    assert drawn(GLANCES["move"], (800, 480))[0].surface.get_size() == (800, 480)
    assert drawn(replace(GLANCES["move"], invite=INVITE), (800, 480))[0].surface.get_size() == (
        560, 480,
    )  # fmt: skip


# -- the page for a second screen -------------------------------------------------------------


@pytest.mark.parametrize("name", GLANCES)
@pytest.mark.parametrize("leads", LEADS)
def test_its_text_has_all_that_the_page_has(name: str, leads: str) -> None:
    glance = GLANCES[name]
    rows = page_text(glance, leads).splitlines()
    for words in (
        *always(glance), *to_read(glance, drawn=False), glance.place, glance.pass_place, glance.job,
        glance.number, glance.ear.value, glance.say, glance.heard, glance.noted,
    ):  # fmt: skip
        assert not lacking(words, rows), words
    if glance.stop is not None:
        assert not lacking(
            str(glance.stop).replace(",", ""), [row.replace(",", "") for row in rows]
        )


def test_its_picture_is_the_page_as_the_window_draws_it() -> None:
    glance = GLANCES["move"]
    view = RemoteView(clock=lambda: 100.0)
    picture = view.picture(glance, (800, 480), 100.0)
    assert picture is not None
    with Image.open(BytesIO(picture.png)) as image:
        there = np.asarray(image.convert("RGB"), dtype=int)
    here = drawn(glance, (800, 480))[1].astype(int)
    assert there.shape == here.shape
    assert abs(there - here).mean() < 3  # it has fewer colours
    assert view.picture(glance, (800, 480), 100.0) is None


def test_an_old_number_is_not_marked_as_new() -> None:
    """Whoever comes to look later sees no number as changed just now."""
    glance = GLANCES["move"]
    fresh = RemoteView(clock=lambda: 100.0).picture(glance, (800, 480), 100.0)
    late = RemoteView(clock=lambda: 100.0).picture(glance, (800, 480), 100.0 - FRESH - 1)
    assert fresh is not None
    assert late is not None
    assert fresh.png != late.png


def test_it_turns_its_leaves() -> None:
    now = [100.0]
    view = RemoteView(clock=lambda: now[0])
    long = replace(GLANCES["move"], detail=tuple(f"line {one} of many" for one in range(50)))
    first = view.picture(long, (360, 614), 0.0)
    assert view.picture(long, (360, 614), 0.0) is None
    now[0] += LEAF_SECONDS
    second = view.picture(long, (360, 614), 0.0)
    assert first is not None
    assert second is not None
    assert first.png != second.png

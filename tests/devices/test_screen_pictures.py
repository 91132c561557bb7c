"""Every kind of page against its reference picture, and what is measured on the picture itself."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import numpy as np
import pygame
import pytest

from assistant.calc.legible import contrast
from assistant.devices.screen import Viewing, legibility, viewing
from assistant.devices.screen.content import BANDED
from assistant.devices.screen.legible import FULL_PAGES
from assistant.devices.screen.needs import CAPITAL, Role
from assistant.devices.screen.page import paint
from assistant.devices.screen.theme import LEAST_CONTRAST, THEMES, Theme
from assistant.present.glance import Glance, Moment
from assistant.units import mm, quantity
from tests.devices.glances import GLANCES
from tests.devices.pictures import (
    DIFFERENCES,
    REFERENCES,
    SIZES,
    Pixels,
    differs_from,
    drawn,
    kept_size,
    load,
    reference_name,
    save,
    themes_at,
)

CASES = [(name, size, theme) for name in GLANCES for size in SIZES for theme in themes_at(size)]
MEAN_DIFFERENCE = 1.5
"""Of 255, over the whole picture: the few colours that a picture is kept in cost about 0.5."""
FAR_OFF = 0.002
"""Share of pixels that may differ by more than 90: a stroke moved by a pixel."""

WIDE = [(320, 200), (800, 480), (1024, 768), (1920, 1080)]
TALL = [(480, 800), (1080, 1920)]
HUGE = [(3840, 2160), (2160, 3840)]


def compare(pixels: Pixels, wanted: Pixels) -> str:
    """What is wrong, or ''."""
    if pixels.shape != wanted.shape:
        return f"size {pixels.shape} and not {wanted.shape}"
    away = np.abs(pixels.astype(np.int16) - wanted.astype(np.int16)).max(axis=2)
    if away.mean() > MEAN_DIFFERENCE:
        return f"mean difference {away.mean():.2f}"
    far = float((away > 90).mean())
    return f"{far:.2%} of the pixels are far off" if far > FAR_OFF else ""


@pytest.mark.parametrize(("name", "size", "theme"), CASES)
def test_looks_as_it_did(name: str, size: tuple[int, int], theme: str) -> None:
    file = reference_name(name, size, theme)
    pixels = kept_size(drawn(replace(GLANCES[name], theme=theme), size)[1])
    wanted = load(REFERENCES / file)
    wrong = compare(pixels, wanted)
    if wrong:
        save(pixels, DIFFERENCES / file)
        if pixels.shape == wanted.shape:
            away = np.abs(pixels.astype(np.int16) - wanted.astype(np.int16)).astype(np.uint8)
            save(away, DIFFERENCES / f"difference-{file}")
    assert not wrong, f"{wrong}; see {DIFFERENCES / file}, or scripts/record_screens if meant"


def test_another_number_is_noticed() -> None:
    glance = GLANCES["move"]
    wanted = load(REFERENCES / reference_name("move", SIZES[0], "dark"))
    assert glance.stop is not None
    for reading in ("141½", "740½"):
        other = replace(glance, stop=replace(glance.stop, number=reading))
        assert compare(drawn(other, SIZES[0])[1], wanted)


def test_every_kind_of_moment_has_a_picture() -> None:
    drawn_moments = {glance.moment for glance in GLANCES.values()}
    assert set(Moment) <= drawn_moments
    kept = {path.name for path in REFERENCES.glob("*.png")}
    assert kept == {reference_name(*case) for case in CASES}


# -- measured on the picture --------------------------------------------------------------------


def number_rows(pixels: Pixels, box: tuple[int, int, int, int], theme: Theme) -> tuple[int, int]:
    """First and last row and height of the figures, found by their colour."""
    left, top, width, height = box
    area = pixels[max(0, top - 40) : top + height + 40, left : left + width // 2]
    away = np.abs(area.astype(int) - np.array(theme.strong)).max(axis=2)
    rows = np.flatnonzero((away < 30).sum(axis=1) > 2)
    # Rows of figures only: the words above and below have another colour.
    return int(rows[0]) + max(0, top - 40), int(rows[-1]) + max(0, top - 40)


@pytest.mark.parametrize("theme", ["dark", "light"])
def test_figures_are_60_minutes_of_arc_at_4_m_on_24_inches(theme: str) -> None:
    view = viewing(mm(4000), (1920, 1080), diagonal=mm("609.6"))
    glance = replace(GLANCES["note"], number="180", theme=theme)
    for smallest in (0, view.smallest((1920, 1080))):
        page, pixels = drawn(glance, (1920, 1080), smallest=smallest)
        assert page.number_box is not None
        first, last = number_rows(pixels, tuple(page.number_box), THEMES[theme])
        assert view.angle(last - first + 1) >= 60
        assert abs((last - first + 1) - page.number_box.height) <= 0.04 * page.number_box.height


def test_legibility_by_the_formula() -> None:
    # NUREG-0700 Rev. 2, guideline 1.3.1-4: height = 6.283 D A / 21600; 16' at 4 m is 18.6 mm.
    view = Viewing(mm(4000), mm("0.2768"))
    assert view.pixels(Decimal(16)) == pytest.approx(6.283 * 4000 * 16 / 21600 / 0.2768, rel=1e-3)
    assert view.angle(view.pixels(Decimal(60))) == pytest.approx(Decimal(60), rel=Decimal("1e-6"))


@pytest.mark.parametrize(
    ("size", "width", "metres", "verdict"),
    [
        ((1920, 1080), 531, "3", "good: the least line is 16 minutes"),
        ((1920, 1080), 531, "4", "readable: the least line is 16"),
        ((1080, 1920), 299, "4", "readable: the least line is 16"),
        ((1920, 1080), 531, "5", "too small: turns and cautions are"),
        ((800, 480), 155, "1", "good: the least line is 17 minutes"),
        ((800, 480), 155, "2", "too small"),
    ],
)
def test_the_verdict_is_about_the_least_line(
    size: tuple[int, int], width: int, metres: str, verdict: str
) -> None:
    """A number of 60 minutes of arc is no use where the turns under it can't be read."""
    view = viewing(quantity(metres, "m"), size, width=mm(width))
    offer = legibility(size, view)
    assert offer.verdict.startswith(verdict), offer
    assert offer.readable is not offer.verdict.startswith("too small")
    # measured on the pages that it speaks of
    drawn_small = [drawn(page, size, smallest=view.smallest(size))[0].small for page in FULL_PAGES]
    assert float(offer.smallest) == pytest.approx(
        float(view.angle(round(min(drawn_small) * CAPITAL))), rel=0.01
    )


@pytest.mark.parametrize(
    ("name", "size"),
    [(name, size) for name in GLANCES for size in WIDE + TALL]
    + [(name, size) for name in ("move", "measure", "ask") for size in HUGE],
)
def test_nothing_touches_the_edge(name: str, size: tuple[int, int]) -> None:
    glance = GLANCES[name]
    page, pixels = drawn(glance, size)
    ink = differs_from(pixels, page.theme.paper)
    edge = page.margin // 3
    assert not ink[-edge:].any()
    sides = ink[round(page.small * 2.2) :]  # under a band, which runs from edge to edge
    assert not sides[:, :edge].any()
    assert not sides[:, -edge:].any()
    if glance.moment not in BANDED:
        assert not ink[:edge].any()


@pytest.mark.parametrize("size", WIDE + TALL + HUGE)
@pytest.mark.parametrize("number", ["0.0990", "−0.1000", "1234.5678", "8", "12000"])
def test_number_never_clips(number: str, size: tuple[int, int]) -> None:
    glance = replace(GLANCES["note"], number=number, widest="0.0000", unit="in")
    page, _ = drawn(glance, size)
    assert page.number_box is not None
    assert page.number_box.right <= page.right
    assert page.number_box.bottom < page.bottom


@pytest.mark.parametrize("size", WIDE + TALL + HUGE)
def test_number_fills_the_width_it_can(size: tuple[int, int]) -> None:
    page, _ = drawn(replace(GLANCES["note"], number="0.9405", widest="0.0000"), size)
    assert page.number_box is not None
    room = page.right - page.left
    assert page.number_box.width >= 0.9 * room or page.number_box.height >= 0.25 * size[1], (
        f"{page.number_box} in {room}"
    )


@pytest.mark.parametrize("size", WIDE + TALL + HUGE)
@pytest.mark.parametrize("name", ["move", "move-mm", "holes", "hole", "near-holes"])
def test_the_reading_to_stop_at_leads_and_the_travel_where_it_is_set(
    name: str, size: tuple[int, int]
) -> None:
    glance = GLANCES[name]
    assert glance.stop is not None
    for leads, words in (("reading", glance.stop.number), ("travel", glance.number)):
        pygame.font.init()
        page = paint(pygame.Surface(size), glance, leads=leads)
        (number,) = [line for line in page.lines if line.need.role is Role.NUMBER]
        others = [row for line in page.lines for row in line.rows]
        assert all(number.size >= row.size for row in others)
        # the other of the two stands beside it, whole
        other = glance.number if leads == "reading" else glance.stop.number
        assert any(other in row.text for row in others)
        assert len(number.need.text) >= len(words)
        # way, turns, reading: in the order in which the hand needs them
        order = [line.need.role for line in page.lines][:3]
        wanted = [Role.WAY, Role.TURNS, Role.NUMBER]
        assert sorted(order) == sorted(wanted)
        assert (order == wanted) is (leads == "reading")


def test_size_does_not_jump_as_figures_come_and_go() -> None:
    heights = set()
    for number in ("0.099", "0.100", "0.1005", "9.9995"):
        page, _ = drawn(replace(GLANCES["note"], number=number, widest="0.0000"), (1920, 1080))
        assert page.number_box is not None
        heights.add(page.number_box.height)
    assert len(heights) == 1


def test_figures_stand_in_columns() -> None:
    """Figures are of one width: what does not change does not move."""
    _, one = drawn(replace(GLANCES["note"], number="0.1111"), (1920, 1080))
    page, two = drawn(replace(GLANCES["note"], number="0.1118"), (1920, 1080))
    assert page.number_box is not None
    changed = np.flatnonzero((one != two).any(axis=(0, 2)))
    left, width = page.number_box.left, page.number_box.width
    assert changed.min() > left + 0.6 * width


def test_look_alikes_differ_and_zero_is_slashed() -> None:
    """0/8, 1/7, 3/8, 5/6: a good part of the figure's area differs."""

    def figure(sign: str) -> Pixels:
        page, pixels = drawn(replace(GLANCES["note"], number=sign, widest="0", unit=""), (800, 480))
        assert page.number_box is not None
        box = page.number_box
        return differs_from(pixels, page.theme.paper)[box.top : box.bottom, box.left : box.right]

    for one, other in ("08", "17", "38", "56", "06", "69", "23"):
        a, b = figure(one), figure(other)
        assert (a ^ b).sum() / (a | b).sum() > 0.15, (one, other)
    zero = figure("0")
    middle = zero[zero.shape[0] // 2, :]
    bounds = np.flatnonzero(middle)
    assert middle[bounds[0] : bounds[-1]].mean() > 0.5  # the stroke across the counter


def test_decimal_point_is_heavy() -> None:
    page, pixels = drawn(replace(GLANCES["note"], number=".", widest="0", unit=""), (1920, 1080))
    assert page.number_box is not None
    box = page.number_box
    dot = differs_from(pixels, page.theme.paper)[box.top : box.bottom, box.left : box.left + 400]
    side = np.flatnonzero(dot.any(axis=0))
    assert (side[-1] - side[0]) > 0.22 * box.height


# -- contrast and colours -----------------------------------------------------------------------


def as_hex(colour: tuple[int, int, int]) -> str:
    return "#" + bytes(int(c) for c in colour).hex()


@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES.keys())
def test_contrast_of_all_text(theme: Theme) -> None:
    for one, other in ((theme.ink, theme.paper), (theme.strong, theme.paper)):
        assert contrast(as_hex(one), as_hex(other)) >= Decimal(LEAST_CONTRAST)
    # What only guides the eye or fills an area that has an outline: 3:1 (WCAG 2.x, SC 1.4.11).
    assert contrast(as_hex(theme.quiet), as_hex(theme.paper)) >= 3
    assert contrast(as_hex(theme.next), as_hex(theme.metal)) >= 3


@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("name", GLANCES)
def test_contrast_measured_on_the_picture(name: str, theme: str) -> None:
    """Text is drawn in the full colours: the commonest colours off the drawings are 12:1 apart."""
    glance: Glance = replace(
        GLANCES[name],
        theme=theme,
        drawing=(),
        drawing_kind="",
        bar=None,
        move=None,
        way="",
        limits=None,
    )
    _, pixels = drawn(glance, (800, 480))
    packed = pixels.astype(np.uint32) @ np.array([1 << 16, 1 << 8, 1], dtype=np.uint32)
    values, counts = np.unique(packed, return_counts=True)
    order = np.argsort(-counts)
    ground, *others = (f"#{values[i]:06x}" for i in order[:4] if counts[i] > 300)
    assert others
    assert max(contrast(other, ground) for other in others) >= Decimal(LEAST_CONTRAST)


@pytest.mark.parametrize("deficiency", ["protanomaly", "deuteranomaly", "tritanomaly"])
@pytest.mark.parametrize("theme", THEMES.values(), ids=THEMES.keys())
def test_colour_blind_eyes_tell_the_same_apart(theme: Theme, deficiency: str) -> None:
    """Simulated at full severity (Machado 2009, as in the library colorspacious)."""
    colorspacious = pytest.importorskip("colorspacious", reason="needs colorspacious to simulate")
    space = {"name": "sRGB1+CVD", "cvd_type": deficiency, "severity": 100}

    def seen(colour: tuple[int, int, int]) -> tuple[int, int, int]:
        linear = colorspacious.cspace_convert(np.array(colour) / 255, space, "sRGB1")
        red, green, blue = (int(c) for c in np.clip(np.round(linear * 255), 0, 255))
        return red, green, blue

    def apart(one: tuple[int, int, int], other: tuple[int, int, int]) -> Decimal:
        return contrast(as_hex(seen(one)), as_hex(seen(other)))

    assert apart(theme.ink, theme.paper) >= Decimal(LEAST_CONTRAST)
    assert apart(theme.strong, theme.paper) >= 10
    assert apart(theme.next, theme.metal) >= 3
    assert apart(theme.togo, theme.paper) >= 3


@pytest.mark.parametrize("deficiency", ["protanomaly", "deuteranomaly", "tritanomaly"])
@pytest.mark.parametrize("theme", ["dark", "light"])
@pytest.mark.parametrize("name", ["cut", "hole", "gear", "thread", "ask", "quiet"])
def test_colour_blind_eyes_tell_a_drawn_page_apart(name: str, theme: str, deficiency: str) -> None:
    """The same simulation over the pixels of the picture: what is large in it stays apart."""
    colorspacious = pytest.importorskip("colorspacious", reason="needs colorspacious to simulate")
    _, pixels = drawn(replace(GLANCES[name], theme=theme), (800, 480), fresh=True)
    colours, counts = np.unique(pixels.reshape(-1, 3), axis=0, return_counts=True)
    space = {"name": "sRGB1+CVD", "cvd_type": deficiency, "severity": 100}
    seen = colorspacious.cspace_convert(colours / 255, space, "sRGB1")
    seen = np.clip(np.round(seen * 255), 0, 255).astype(int)
    places = {tuple(int(c) for c in colour): n for n, colour in enumerate(colours)}
    chosen = THEMES[theme]

    def at(colour: tuple[int, int, int]) -> str:
        place = places[colour]  # KeyError: the page has none of it
        assert counts[place] > 40
        return as_hex(tuple(seen[place]))

    assert contrast(at(chosen.ink), at(chosen.paper)) >= Decimal(LEAST_CONTRAST)
    assert contrast(at(chosen.strong), at(chosen.paper)) >= 10
    if GLANCES[name].drawing_kind and GLANCES[name].moment is Moment.CUT:
        assert contrast(at(chosen.next), at(chosen.metal)) >= 3
        assert contrast(at(chosen.metal), at(chosen.paper)) >= Decimal("1.5")  # and is outlined


@pytest.mark.parametrize("size", SIZES)
def test_figures_are_of_one_height_on_the_picture(size: tuple[int, int]) -> None:
    """0.099 and 0.100, measured by their pixels: the same rows at every size, but for the pixel by
    which a round figure stands over the line."""
    rows = []
    for number in ("0.099", "0.100", "0.101", "9.999"):
        glance = replace(GLANCES["note"], number=number, widest="0.0000", unit="in")
        page, pixels = drawn(glance, size)
        assert page.number_box is not None
        rows.append(number_rows(pixels, tuple(page.number_box), page.theme))
    for edge in zip(*rows, strict=True):
        assert max(edge) - min(edge) <= max(1, round(page.number_box.height / 180))


def grey(pixels: Pixels) -> np.ndarray:
    return pixels.astype(float) @ np.array([0.2126, 0.7152, 0.0722])


def test_a_change_is_marked_without_colour() -> None:
    page, fresh = drawn(GLANCES["move"], (800, 480), fresh=True)
    _, old = drawn(GLANCES["move"], (800, 480), fresh=False)
    assert page.number_box is not None
    margin = slice(page.left, page.number_box.left)
    rows = slice(page.number_box.top, page.number_box.bottom)
    ground = grey(fresh)[2, 2]
    bars = [(np.abs(grey(p)[rows, margin] - ground) > 60).any(axis=0).sum() for p in (fresh, old)]
    assert bars[0] >= 2 * bars[1] >= 2

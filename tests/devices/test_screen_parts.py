"""Signs, drawings and type in small."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pygame
import pytest

from assistant.devices.screen import typeset
from assistant.devices.screen.display import display_size, edid_size
from assistant.devices.screen.ear_sign import draw_ear
from assistant.devices.screen.needs import CAPITAL, STEPS, TIGHTEST, Need, Role, type_size
from assistant.devices.screen.setting import set_line
from assistant.devices.screen.theme import DARK
from assistant.present.glance import Ear
from assistant.units import mm
from tests.devices.glances import GLANCES
from tests.devices.pictures import differs_from, drawn, pixels_of


def sign(ear: Ear, level: float = 0.5) -> np.ndarray:
    surface = pygame.Surface((60, 60))
    surface.fill(DARK.paper)
    draw_ear(surface, pygame.Rect(5, 5, 50, 50), ear, level, DARK)
    return differs_from(pixels_of(surface), DARK.paper)


@pytest.mark.parametrize(("one", "other"), list(combinations(Ear, 2)))
def test_every_state_of_the_ear_has_its_own_shape(one: Ear, other: Ear) -> None:
    a, b = sign(one), sign(other)
    assert a.any()
    assert (a ^ b).sum() / (a | b).sum() > 0.3


def test_level_moves_the_bars() -> None:
    assert sign(Ear.HEARING, 1.0).sum() > 1.3 * sign(Ear.HEARING, 0.2).sum()


def test_wrapping_keeps_words_and_width() -> None:
    text = GLANCES["check"].instruction
    for width in (200, 400, 900):
        lines = typeset.wrap(text, 30, width)
        assert " ".join(lines) == text
        assert all(typeset.width_of(line, 30) <= width or " " not in line for line in lines)


def test_a_line_is_broken_at_its_words_and_only_at_the_very_last_within_one() -> None:
    need = Need(Role.SENTENCE, "Touch the side of the shaft.", paged=True)
    line = set_line(need, 40, 300)
    assert line is not None
    assert " ".join(row.text for row in line.rows) == need.text
    assert all(row.width <= 300 for row in line.rows)
    assert line.height == len(line.rows) * typeset.line_height(40)
    assert set_line(need, 40, 60) is None
    broken = set_line(need, 40, 60, whole=False)
    assert broken is not None
    assert "".join(row.text for row in broken.rows) == need.text.replace(" ", "")
    assert all(row.width <= 60 for row in broken.rows)


def test_sentences_stand_apart_where_they_should() -> None:
    line = set_line(Need(Role.SENTENCE, "Spindle off. Measure it."), 20, 2000, apart=True)
    assert line is not None
    assert [row.text for row in line.rows] == ["Spindle off.", "Measure it."]
    assert line.breaks == (1,)


def test_type_gets_smaller_with_every_step_and_never_less_than_legible() -> None:
    for role in Role:
        sizes = [type_size(role, step, 20, 480) for step in range(TIGHTEST * STEPS + 1)]
        assert sizes == sorted(sizes, reverse=True), role
        assert sizes[-1] >= 20
    # 60 minutes of arc, where the smallest type has 16
    assert type_size(Role.NUMBER, 2 * STEPS, 16, 480) == 60


def test_zeros_are_slashed_everywhere() -> None:
    assert typeset.plain("0.10") == "\ue007.1\ue007"
    face = typeset.font(40, bold=True)
    assert face.metrics("\ue007")[0] is not None
    assert face.size("\ue007") == face.size("0")


def test_fractions_are_as_tall_as_the_line_at_least() -> None:
    surface = pygame.Surface((200, 120))
    surface.fill(DARK.paper)
    typeset.write(surface, "½", (10, 40), 60, DARK.ink, bold=True)
    rows = np.flatnonzero(differs_from(pixels_of(surface), DARK.paper).any(axis=1))
    assert rows[-1] - rows[0] > 0.95 * 60 * CAPITAL


def test_dial_and_bar_follow_the_numbers() -> None:
    size = (1920, 1080)
    _, one = drawn(GLANCES["move"], size)
    move = GLANCES["move"].move
    assert move is not None
    moved = replace(move, reading=move.reading + move.wheel.graduation * 2)
    _, other = drawn(replace(GLANCES["move"], move=moved), size)
    changed = (one != other).any(axis=2)
    assert changed[size[1] // 2 :, size[0] // 2 :].any()
    assert not changed[: size[1] // 3].any()
    bar = GLANCES["cut"].bar
    assert bar is not None
    _, one = drawn(GLANCES["cut"], size)
    _, other = drawn(replace(GLANCES["cut"], bar=replace(bar, now=0.1)), size)
    assert (one != other).any()


def test_edid_tells_the_size() -> None:
    edid = bytearray(128)
    edid[:8] = bytes.fromhex("00ffffffffffff00")
    edid[21:23] = bytes((53, 30))
    edid[127] = (-sum(edid)) % 256
    assert edid_size(bytes(edid)) == (mm(530), mm(300))
    edid[54] = 1  # a pixel clock: the detailed timing counts
    edid[66], edid[67], edid[68] = 0x13, 0x2B, 0x21  # 531 x 299
    edid[127] = 0
    edid[127] = (-sum(edid)) % 256
    assert edid_size(bytes(edid)) == (mm(531), mm(299))
    edid[10] ^= 1
    assert edid_size(bytes(edid)) is None
    assert edid_size(b"") is None


def test_display_size_is_unknown_rather_than_guessed(tmp_path) -> None:  # type: ignore[no-untyped-def]
    assert display_size(tmp_path) is None
    edid = bytearray(128)
    edid[:8] = bytes.fromhex("00ffffffffffff00")
    edid[21:23] = bytes((53, 30))
    edid[127] = (-sum(edid)) % 256
    for name, status in (("card0-HDMI-1", "connected"), ("card0-DP-1", "disconnected")):
        (tmp_path / name).mkdir()
        (tmp_path / name / "status").write_text(status + "\n")
        (tmp_path / name / "edid").write_bytes(bytes(edid))
    assert display_size(tmp_path) == (mm(530), mm(300))
    (tmp_path / "card0-DP-1" / "status").write_text("connected\n")
    assert display_size(tmp_path) is None

"""What every `Screen` must do: the window (on SDL's dummy driver) and the pictures alike."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pygame
import pytest

from assistant.devices.screen import (
    PngScreen,
    WindowScreen,
    display_missing,
    find_screen,
    find_window,
)
from assistant.devices.screen.layout import MOST_LEAVES
from assistant.devices.screen.page import laid_out
from assistant.devices.screen.turning import FRESH, LEAF_SECONDS
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.ports import Screen
from assistant.present.glance import Ear
from tests.devices.glances import GLANCES
from tests.devices.pictures import pixels_of


class Time:
    """A clock that the test turns."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture(autouse=True)
def _no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")


@pytest.fixture(params=["window", "pictures"])
def screen(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Screen]:
    made: Screen = (
        WindowScreen((800, 480)) if request.param == "window" else PngScreen(tmp_path / "seen")
    )
    yield made
    made.close()


@pytest.fixture
def window() -> Iterator[tuple[WindowScreen, Time]]:
    time = Time()
    made = WindowScreen((800, 480), clock=time)
    yield made, time
    made.close()


def test_shows_every_kind_of_moment(screen: Screen) -> None:
    assert screen.name
    for glance in GLANCES.values():
        screen.show(glance)
        screen.show(replace(glance, theme="light"))
    assert list(screen.keys()) == []


def test_closing_twice_does_no_harm(screen: Screen) -> None:
    screen.close()


def test_window_draws_only_what_changed(window: tuple[WindowScreen, Time]) -> None:
    screen, time = window
    move = GLANCES["move"]
    screen.show(move)
    drawn = screen.redraws
    for _ in range(5):
        screen.show(replace(move))  # equal, though another object
        screen.keys()
    assert screen.redraws == drawn
    screen.show(replace(move, heard="heard: say again"))
    assert screen.redraws == drawn + 1
    time.now += FRESH + 1  # the mark of the change goes, by itself and once
    screen.keys()
    screen.keys()
    assert screen.redraws == drawn + 2


def test_a_new_number_is_marked_and_other_changes_are_not(
    window: tuple[WindowScreen, Time],
) -> None:
    screen, time = window
    move = GLANCES["move"]
    screen.show(move)
    time.now += FRESH + 1
    screen.show(move)
    plain = pygame.image.tobytes(screen.picture(), "RGB")
    screen.show(replace(move, heard=""))
    screen.show(move)
    assert pygame.image.tobytes(screen.picture(), "RGB") == plain
    screen.show(replace(move, number="0.9410"))
    screen.show(move)
    assert pygame.image.tobytes(screen.picture(), "RGB") != plain


def test_keys_come_as_words(window: tuple[WindowScreen, Time]) -> None:
    screen, _ = window
    screen.show(GLANCES["move"])
    for key, text in ((pygame.K_SPACE, " "), (pygame.K_RETURN, "\r"), (pygame.K_ESCAPE, "\x1b"),
                      (pygame.K_F1, ""), (pygame.K_UP, ""), (pygame.K_s, "s")):  # fmt: skip
        pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=key, unicode=text, mod=0))
    pygame.event.post(pygame.event.Event(pygame.QUIT))
    assert list(screen.keys()) == ["space", "enter", "escape", "f1", "up", "s", "quit"]
    assert list(screen.keys()) == []


def test_resizing_and_full_screen_draw_anew(window: tuple[WindowScreen, Time]) -> None:
    screen, _ = window
    screen.show(GLANCES["cut"])
    drawn = screen.redraws
    pygame.display.set_mode((1024, 768), pygame.RESIZABLE)
    pygame.event.post(pygame.event.Event(pygame.VIDEORESIZE, size=(1024, 768), w=1024, h=768))
    screen.keys()
    assert screen.picture().get_size() == (1024, 768)
    assert screen.redraws > drawn
    pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_F11, unicode="", mod=0))
    assert list(screen.keys()) == []
    pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_F11, unicode="", mod=0))
    screen.keys()
    assert screen.picture().get_size() == (1024, 768)


def test_pictures_are_saved_once_each(tmp_path: Path) -> None:
    screen = PngScreen(tmp_path / "seen", (640, 360))
    move, cut = GLANCES["move"], GLANCES["cut"]
    for glance in (move, move, replace(move, level=0.5), cut, move):
        screen.show(glance)
    names = ["0001-move.png", "0002-cut.png", "0003-move.png"]
    assert [path.name for path in screen.saved] == names
    assert sorted(path.name for path in (tmp_path / "seen").iterdir()) == names
    assert pygame.image.load(str(screen.saved[0])).get_size() == (640, 360)
    assert str(tmp_path / "seen") in screen.name


def test_a_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(DeviceFailed, match="file"):
        PngScreen(tmp_path / "file" / "seen")


def test_without_a_display_pictures_are_chosen_and_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("SDL_VIDEODRIVER", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    assert "DISPLAY" in display_missing()
    screen, line = find_screen(tmp_path / "seen")
    assert isinstance(screen, PngScreen)
    assert line.startswith("No display")
    assert str(tmp_path / "seen") in line


def test_a_window_that_cannot_open_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "no-such-driver")
    with pytest.raises(DeviceMissing, match="display"):
        WindowScreen()


def test_without_a_window_nothing_is_made_and_why_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SDL_VIDEODRIVER", "no-such-driver")
    screen, why = find_window(None)
    assert screen is None
    assert "no-such-driver" in why
    for name in ("SDL_VIDEODRIVER", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    assert find_window(None) == (None, display_missing())
    assert list(tmp_path.iterdir()) == []


def test_a_display_gives_a_window(tmp_path: Path) -> None:
    screen, line = find_screen(tmp_path)
    assert isinstance(screen, WindowScreen)
    assert line == ""
    screen.close()


FULL = replace(
    GLANCES["why"],
    instruction="Don't back it off. Drop the knee 10 turns. Then saddle in. Lock it.",
    trouble=("No speaker", "Journal: the disk is full"),
)
FROM_AFAR = 46
"""A smallest type at which that page takes several leaves of 800x480."""


def test_leaves_are_turned_by_themselves_and_begin_anew_with_other_words() -> None:
    time = Time()
    leaves = len(laid_out(FULL, (800, 480), smallest=FROM_AFAR)[0].leaves)
    assert 1 < leaves <= MOST_LEAVES
    window = WindowScreen((800, 480), smallest=lambda size: FROM_AFAR, clock=time)
    window.show(FULL)
    time.now += 2 * leaves * LEAF_SECONDS  # the first again, its number no longer new
    window.keys()
    first, drawn = pixels_of(window.picture()), window.redraws
    time.now += LEAF_SECONDS / 2
    window.keys()
    assert window.redraws == drawn
    time.now += LEAF_SECONDS / 2
    window.keys()
    second = pixels_of(window.picture())
    assert (first != second).any()
    # the ear and its level say nothing new: the leaf that is read stays
    window.show(replace(FULL, ear=Ear.HEARING, level=0.5))
    assert (pixels_of(window.picture())[:300] == second[:300]).all()
    window.show(FULL)
    turned = 0
    for _ in range(leaves):
        time.now += LEAF_SECONDS
        window.keys()
        turned += int((pixels_of(window.picture()) == first).all())
    assert turned == 1, "round to the first again"
    window.show(replace(FULL, instruction="Saddle in. Lock it."))
    time.now += LEAF_SECONDS * 1.5
    window.show(FULL)
    assert (pixels_of(window.picture()) == first).all()
    window.close()


def test_a_picture_is_saved_of_each_leaf(tmp_path: Path) -> None:
    screen = PngScreen(tmp_path / "seen", (800, 480), smallest=lambda size: FROM_AFAR)
    screen.show(FULL)
    assert 1 < len(screen.saved) <= MOST_LEAVES
    assert len({path.read_bytes() for path in screen.saved}) == len(screen.saved)

"""The window in its own process: a display that goes or hangs ends that process and no more."""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

import pygame
import pytest

from assistant.app.wiring import _steady
from assistant.devices.hidden import HiddenScreen
from assistant.devices.screen import WindowScreen, display_answers, find_screen
from assistant.devices.screen.process import (
    BEAT_SECONDS,
    SILENT_SECONDS,
    WindowProcess,
    ends_with_its_display,
)
from assistant.errors import DeviceFailed, DeviceMissing
from assistant.ports import Screen
from assistant.present.glance import Glance
from assistant.silence import ON_TIME
from tests.devices.displays import Display, needs_a_display
from tests.devices.glances import GLANCES

MOVE, CUT = GLANCES["move"], GLANCES["cut"]
PATIENCE = 60.0
"""Seconds that a loaded machine may need to start a process."""


class Echo(HiddenScreen):
    """Reports the number of each page that it is shown, as if it were keys."""

    def __init__(self) -> None:
        super().__init__()
        self._told: list[str] = []

    def show(self, glance: Glance) -> None:
        self._told.append(glance.number)

    def keys(self) -> Sequence[str]:
        told, self._told = self._told, []
        return told


class Hanging(Echo):
    """Never comes back from a page, as on a display that answers no more."""

    def show(self, glance: Glance) -> None:
        time.sleep(3600)


class Dying(Echo):
    """Ends its process, as the X library does."""

    def show(self, glance: Glance) -> None:
        os._exit(1)


class Failing(Echo):
    """Says that it can't."""

    def show(self, glance: Glance) -> None:
        raise DeviceFailed("display", "the card has lost its picture")


class Faulty(Echo):
    """Has a fault of its own kind."""

    def show(self, glance: Glance) -> None:
        raise ValueError("no such colour")


class Missing(Echo):
    """Can't be opened."""

    def __init__(self) -> None:
        raise DeviceMissing("display", "nothing to draw on", "")


def opened(make: Callable[[], Screen]) -> WindowProcess:
    return WindowProcess(make, PATIENCE)


def until(screen: WindowProcess, wanted: Sequence[str]) -> list[str]:
    found: list[str] = []
    end = time.monotonic() + PATIENCE
    while found[-len(wanted) :] != list(wanted):
        assert time.monotonic() < end, f"only got {found}"
        found += screen.keys()
        time.sleep(0.005)
    return found


def test_pages_go_there_and_keys_come_back() -> None:
    screen = opened(Echo)
    screen.show(MOVE)
    until(screen, [MOVE.number])
    screen.show(MOVE)
    screen.show(replace(MOVE, number="0.9410"))
    assert until(screen, ["0.9410"]) == ["0.9410"]
    screen.close()
    screen.close()


def test_only_the_newest_page_is_shown_where_the_window_cannot_keep_up() -> None:
    screen = opened(Echo)
    for number in range(2_000):
        screen.show(replace(MOVE, number=f"{number}"))
    shown = until(screen, ["1999"])
    assert shown == sorted(shown, key=int)
    screen.close()


def test_the_real_window_is_shown_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    screen = opened(partial(WindowScreen, (800, 480)))
    for glance in GLANCES.values():
        screen.show(glance)
        screen.keys()
    assert screen.pid
    screen.close()
    assert not screen.pid


@pytest.mark.parametrize(
    ("make", "why"),
    [
        (Hanging, "answers no more"),
        (Dying, "the display is gone"),
        (Failing, "the card has lost its picture"),
        (Faulty, "no such colour"),
    ],
)
def test_a_window_that_hangs_dies_or_fails_is_noticed(make: type[Echo], why: str) -> None:
    screen = opened(make)
    screen.show(MOVE)
    with pytest.raises(DeviceFailed, match=why):
        until(screen, ["never"])
    with pytest.raises(DeviceFailed):
        screen.show(CUT)
    assert not screen.pid
    screen.close()


def test_the_time_in_which_it_is_noticed() -> None:
    """From the limits themselves: a test by the clock would fail on a busy machine."""
    assert BEAT_SECONDS + ON_TIME < SILENT_SECONDS / 2
    assert SILENT_SECONDS + ON_TIME < 2.0


def test_one_that_cannot_be_opened_says_why() -> None:
    with pytest.raises(DeviceMissing, match="nothing to draw on"):
        opened(Missing)


def test_only_a_display_that_can_go_is_put_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    assert not ends_with_its_display()
    monkeypatch.delenv("SDL_VIDEODRIVER")
    monkeypatch.setattr("sys.platform", "linux")
    assert ends_with_its_display()
    monkeypatch.setattr("sys.platform", "win32")
    assert not ends_with_its_display()


def test_one_may_be_opened_in_the_background() -> None:
    screen = WindowProcess(Echo, PATIENCE, wait=False)
    screen.show(MOVE)
    until(screen, [MOVE.number])
    assert screen.is_open()
    screen.close()
    screen = WindowProcess(Missing, PATIENCE, wait=False)
    with pytest.raises(DeviceMissing, match="nothing to draw on"):
        until(screen, ["never"])


def test_what_draws_into_memory_is_no_window(monkeypatch: pytest.MonkeyPatch) -> None:
    """SDL takes its driver `offscreen` where DISPLAY names nothing that answers."""
    monkeypatch.delenv("SDL_VIDEODRIVER", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    monkeypatch.setenv("DISPLAY", ":no-such-display")
    with pytest.raises(DeviceMissing):
        WindowScreen()


@pytest.fixture
def display(monkeypatch: pytest.MonkeyPatch) -> Iterator[Display]:
    with Display() as made:
        monkeypatch.delenv("SDL_VIDEODRIVER", raising=False)
        monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
        monkeypatch.setenv("DISPLAY", made.name)
        yield made


@needs_a_display
def test_whether_a_display_answers_is_told_without_a_window(
    display: Display, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert display_answers()
    display.kill()
    assert not display_answers(), "its socket's file may still be there"
    monkeypatch.setenv("WAYLAND_DISPLAY", "no-such-socket")
    assert not display_answers()
    display.start()
    assert display_answers()
    monkeypatch.setenv("DISPLAY", "elsewhere.invalid:0")
    assert display_answers(), "of another machine only opening a window tells"


def test_only_a_socket_that_listens_is_a_display(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("DISPLAY", ":3.0")
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    sockets = tmp_path / "unix"
    head = "Num       RefCount Protocol Flags    Type St Inode Path\n"
    listening = "0000: 00000002 00000000 00010000 0001 01 2244 {}\n"
    connected = "0000: 00000003 00000000 00000000 0001 03 2245 {}\n"
    nameless = "0000: 00000003 00000000 00000000 0001 03 2246\n"
    for line, answers in (
        (listening.format("/tmp/.X11-unix/X3"), True),
        (listening.format("@/tmp/.X11-unix/X3"), True),
        (listening.format("/tmp/.X11-unix/X33"), False),
        (connected.format("/tmp/.X11-unix/X3"), False),
        (nameless, False),
    ):
        sockets.write_text(head + nameless + line)
        assert display_answers(sockets) is answers, line
    assert display_answers(tmp_path / "not there")
    monkeypatch.delenv("DISPLAY")
    monkeypatch.setenv("XDG_RUNTIME_DIR", "/run/user/1000")
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    sockets.write_text(head + listening.format("/run/user/1000/wayland-0"))
    assert display_answers(sockets)


@needs_a_display
def test_a_real_display_that_is_killed_is_taken_up_again(display: Display, tmp_path: Path) -> None:
    pictures = tmp_path / "screens"
    find = partial(find_screen, pictures, (640, 400))
    first, missing = find()
    assert isinstance(first, WindowProcess), missing
    assert not pygame.display.get_init(), "nothing of it is in this process"
    assert display.has_a_window()
    screen = _steady(first, find, pictures)

    def on(page: Glance, enough: Callable[[], bool]) -> None:
        end = time.monotonic() + PATIENCE
        while not enough():
            assert time.monotonic() < end, screen.trouble
            screen.show(page)
            screen.keys()
            time.sleep(0.02)

    display.kill()
    on(MOVE, lambda: bool(screen.trouble))
    assert "the display is gone" in screen.trouble
    on(CUT, lambda: len(list(pictures.glob("*.png"))) == 2)
    assert screen.trouble
    display.start()
    on(CUT, lambda: not screen.trouble)
    assert display.has_a_window()
    screen.close()

"""A pedal is a key: the window tells when it goes down and when it is let go."""

from __future__ import annotations

from collections.abc import Iterator

import pygame
import pytest

from assistant.app.listening import PEDALS
from assistant.devices.screen import WindowScreen
from assistant.devices.screen.window import KEYS


@pytest.fixture
def window(monkeypatch: pytest.MonkeyPatch) -> Iterator[WindowScreen]:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    made = WindowScreen((800, 480))
    made.keys()
    yield made
    made.close()


def key(kind: int, code: int, text: str = "") -> None:
    pygame.event.post(pygame.event.Event(kind, key=code, unicode=text, mod=0))


def test_press_and_release_are_told(window: WindowScreen) -> None:
    key(pygame.KEYDOWN, pygame.K_F9)
    assert list(window.keys()) == ["f9"]
    key(pygame.KEYUP, pygame.K_F9)
    key(pygame.KEYDOWN, pygame.K_b, "b")
    key(pygame.KEYUP, pygame.K_b)
    assert list(window.keys()) == ["f9 released", "b", "b released"]


def test_a_release_without_a_press_is_none(window: WindowScreen) -> None:
    """As of a key that was held when the window came up."""
    key(pygame.KEYUP, pygame.K_F9)
    assert list(window.keys()) == []


def test_every_pedal_of_the_settings_is_a_key_of_the_window() -> None:
    assert {pedal for pedal in PEDALS if len(pedal) > 1} <= set(KEYS.values())
    assert not {"escape", "f1", "f11"} & set(PEDALS)

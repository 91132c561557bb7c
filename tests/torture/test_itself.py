"""A short version of `scripts/torture --only itself`: its own voice before its own microphone."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.errors import DeviceMissing
from tests.devices.virtual_sound import VirtualSound, sound, sound_server
from tests.torture.itself import Alone, alone

__all__ = ["sound", "sound_server"]

SECONDS = 20.0
"""Of one job's first sentences."""


def said(kind: str, *, kept_back: bool) -> Alone:
    try:
        return alone(kind, SECONDS, Path(), jobs=["keyseat-inch"], kept_back=kept_back)
    except DeviceMissing as missing:
        pytest.skip(str(missing))


@pytest.mark.parametrize("kind", ["loudspeaker", "headset"])
def test_nothing_comes_of_its_own_voice(sound: VirtualSound, kind: str) -> None:
    found = said(kind, kept_back=True)
    assert found.spoken > SECONDS / 3
    assert found.acted.total() == 0, found.examples


def test_without_what_keeps_it_back_the_ear_hears_it(sound: VirtualSound) -> None:
    """Or the test above holds nothing."""
    assert said("loudspeaker", kept_back=False).begun.total() > 0

"""The sound cards of this computer, as the microphone and the speaker share them.

PortAudio lists the cards once, when it starts; one that is plugged in later is only seen after it
is started anew, and that ends every stream of the process. So whoever opens a stream registers
here: `rescan` asks all of them to let go first, and each opens its stream again by itself.
PortAudio is not safe to use from two threads at once: streams are opened and closed under `LOCK`.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from assistant.errors import DeviceMissing

Way = Literal["input", "output"]

LOCK = threading.RLock()
"""Held while streams are opened, closed and listed."""

_holders: list[Callable[[], None]] = []


@dataclass(frozen=True, slots=True)
class Card:
    """One sound card, one way."""

    index: int
    """PortAudio's number, good until the next `rescan`."""
    name: str
    channels: int
    rate: int
    """The rate it runs at by itself, in Hz."""


def portaudio(device: str = "sound card", cost: str = "") -> Any:
    """The module `sounddevice`. Raises `DeviceMissing` where PortAudio isn't installed."""
    try:
        import sounddevice
    except (OSError, ImportError) as error:
        raise DeviceMissing(
            device, f"PortAudio is not installed ({error}): install libportaudio2", cost
        ) from error
    return sounddevice


def cards(way: Way) -> list[Card]:
    """Every card that can be used that way; empty where there is none."""
    sd = portaudio()
    with LOCK:
        return [
            Card(number, about["name"], about[f"max_{way}_channels"],
                 round(about["default_samplerate"]))
            for number, about in enumerate(sd.query_devices())
            if about[f"max_{way}_channels"] > 0
        ]  # fmt: skip


def find_card(way: Way, name: str | None, device: str, cost: str) -> Card:
    """The card whose name contains `name`, in any case; the default one where `name` is None.

    Raises `DeviceMissing` for `device`, saying what there is instead.
    """
    sd = portaudio(device, cost)
    found = cards(way)
    if not found:
        raise DeviceMissing(device, f"the sound system lists no card with {way}", cost)
    if name is None:
        with LOCK:
            default = sd.default.device[0 if way == "input" else 1]
        return next((card for card in found if card.index == default), found[0])
    # A sound server that lists a card under its own name comes before the bare hardware.
    fitting = [card for card in found if name.casefold() in card.name.casefold()]
    if not fitting:
        listed = ", ".join(card.name for card in found)
        raise DeviceMissing(device, f"no card is named like {name!r}; there is {listed}", cost)
    return min(fitting, key=lambda card: len(card.name))


def hold(release: Callable[[], None]) -> None:
    """Register a stream: `release` closes it, from any thread, when the cards are listed anew."""
    with LOCK:
        _holders.append(release)


def let_go(release: Callable[[], None]) -> None:
    """The stream registered with `release` is closed."""
    with LOCK:
        if release in _holders:
            _holders.remove(release)


def rescan() -> None:
    """List the cards anew. Streams that are open are closed first; their owners reopen them."""
    sd = portaudio()
    with LOCK:
        for release in tuple(_holders):
            release()
        sd._terminate()
        sd._initialize()

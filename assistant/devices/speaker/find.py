"""Which voice there is: a sound card, else sound files, else print; and what each costs."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Literal

from assistant.devices.speaker.card import CardPlayer
from assistant.devices.speaker.players import FolderPlayer, Player
from assistant.devices.speaker.queued import QueuedSpeaker, Report, no_report
from assistant.devices.speaker.silent import PrintedSpeaker
from assistant.devices.speaker.steady_voice import SteadyVoice
from assistant.devices.speaker.voice import Engine, Voice
from assistant.errors import DeviceMissing
from assistant.ports import USUAL_RATE

CLEAR, SYSTEM = "clear", "system"
"""The voices by name."""
LESS_CLEAR = "The system's voice speaks, which is understood less in noise"

Mode = Literal["auto", "card", "files", "print"]
"""`auto`: the best there is; the others: that one, also where there is a better one."""


def find_speaker(
    folder: Path,
    *,
    mode: Mode = "auto",
    card: str | None = None,
    voice: str | None = None,
    network: Path | None = None,
    rate: float = USUAL_RATE,
    volume: float = 1.0,
    shape: float = 1.0,
    tell: Callable[[str], None] = print,
    report: Report = no_report,
) -> QueuedSpeaker | PrintedSpeaker:
    """The best voice of this computer; its `notices` say what is missing and what that costs.

    `voice` is `clear` (or None), `system`, or the name of one of the system's voices; `network` is
    a file for the clear one, in place of its package's. `folder`
    takes the sound files where there is no sound card; `tell` prints a line. Raises
    `DeviceMissing` only where `mode` asks for a card or files and they can't be had.
    """
    if mode == "print":
        return PrintedSpeaker(tell)
    engine = voice_of(voice, network)
    try:
        engine.start()
        player, notices = _player(folder, mode, card, tell)
    except DeviceMissing as missing:
        engine.close()
        if mode != "auto":
            raise
        return PrintedSpeaker(tell, (f"{missing}.",))
    if isinstance(engine, SteadyVoice) and engine.standing_in:
        notices = (*notices, f"{LESS_CLEAR}: {engine.standing_in}.")
    return QueuedSpeaker(
        engine, player, rate=rate, volume=volume, shape=shape, notices=notices, report=report
    )


def voice_of(name: str | None, network: Path | None = None) -> Engine:
    """The engine that goes by that name in the settings, not started yet."""
    if name in (None, CLEAR):
        return SteadyVoice(Voice(kind="clear", network=network), Voice())
    return Voice(None if name == SYSTEM else name)


def _player(
    folder: Path, mode: Mode, card: str | None, tell: Callable[[str], None]
) -> tuple[Player, tuple[str, ...]]:
    if mode != "files":
        real = CardPlayer(card)
        try:
            real.open()
        except DeviceMissing as missing:
            if mode == "card":
                raise
            notices: tuple[str, ...] = (
                f"No speaker: {missing.why}. Sentences are printed and written as sound files"
                f" in {folder}.",
            )
        else:
            return real, ()
    else:
        notices = (f"Sentences are written as sound files in {folder}.",)
    try:
        return FolderPlayer(folder, tell), notices
    except OSError as error:
        raise DeviceMissing(
            "speaker", f"sound files can't be written: {error}", "sentences are only printed"
        ) from error

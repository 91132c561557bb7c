"""`wheelcall check`: each device tried for real, a verdict, and what to do."""

from __future__ import annotations

import json
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np

from assistant.app.cli import EXIT_UNFINISHED
from assistant.app.settings import Settings, load_settings, settings_path, with_options
from assistant.app.wiring import choose_ear, vosk_models
from assistant.devices.journal import default_path, open_journal
from assistant.devices.microphone import find_microphone
from assistant.devices.screen import display_missing, legibility, viewing_here
from assistant.devices.screen.find import desktop_pixels
from assistant.devices.screen.legible import SOURCE
from assistant.devices.speaker import find_speaker
from assistant.errors import WheelcallError
from assistant.ports import RATE
from assistant.spoken import Sentence

QUIET, LOUD = -50.0, -6.0
"""Peak levels in dB under full scale between which a microphone is well set."""


@dataclass(frozen=True)
class Verdict:
    """One line of the check."""

    device: str
    ok: bool
    found: str
    advice: str = ""


def check_devices(seconds: float, journal: Path | None, *, as_json: bool) -> int:
    """Try every device; 0 where all are there."""
    settings = with_options(load_settings(), journal=journal)
    verdicts = []
    for verdict in _checks(settings, seconds):
        verdicts.append(verdict)
        if not as_json:
            print(f"{'ok     ' if verdict.ok else 'MISSING'}  {verdict.device}: {verdict.found}")
            if verdict.advice:
                print(f"         {verdict.advice}")
    if as_json:
        print(json.dumps([asdict(verdict) for verdict in verdicts], indent=1))
    else:
        print(f"\nSettings: {settings_path()}")
    return 0 if all(verdict.ok for verdict in verdicts) else EXIT_UNFINISHED


def _checks(settings: Settings, seconds: float) -> Iterator[Verdict]:
    tried: tuple[tuple[str, Callable[[], Verdict]], ...] = (
        ("microphone", lambda: _microphone(settings, seconds)),
        ("ear", lambda: _ear(settings)),
        ("voice", lambda: _voice(settings)),
        ("screen", lambda: _screen(settings)),
        ("journal", lambda: _journal(settings)),
    )
    for name, check in tried:
        try:
            yield check()
        except WheelcallError as error:
            yield Verdict(name, False, str(error), _ADVICE[name])


_ADVICE = {
    "microphone": "Plug in a stand or headset microphone (no cord near a spindle); name it in the "
    "settings. Until then commands are typed.",
    "ear": "Install the project again with scripts/run.",
    "voice": "Install libespeak-ng1. Until then sentences are only shown.",
    "screen": "Until then each changed screen is saved as a picture.",
    "journal": "Choose a folder that can be written, with --journal or in the settings.",
}


def _microphone(settings: Settings, seconds: float) -> Verdict:
    microphone = find_microphone(settings.microphone)
    started = time.monotonic()
    blocks = []
    for block in microphone.chunks():
        blocks.append(block)
        if time.monotonic() - started > seconds:
            break
    microphone.close()
    sound = np.concatenate(blocks) if blocks else np.zeros(RATE, np.float32)
    peak = 20 * float(np.log10(np.max(np.abs(sound)) + 1e-9))
    found = f"{microphone.name}, peak {peak:.0f} dB under full scale in {seconds:g} s"
    if peak < QUIET:
        return Verdict("microphone", False, found, "Very quiet: turn it up, or come nearer.")
    if peak > LOUD:
        return Verdict("microphone", True, found, "Near clipping: turn it down a little.")
    return Verdict("microphone", True, found)


def _ear(settings: Settings) -> Verdict:
    make, line = choose_ear(settings)
    started = time.monotonic()
    make().close()
    models = vosk_models(settings)
    also = (
        f"; Vosk models: {', '.join(m.path.name for m in models)}" if models else "; no Vosk model"
    )
    return Verdict("ear", True, f"{line} Loaded in {time.monotonic() - started:.1f} s{also}")


def _voice(settings: Settings) -> Verdict:
    with tempfile.TemporaryDirectory() as folder:
        speaker = find_speaker(Path(folder), voice=settings.voice, tell=lambda _line: None)
        speaker.say([Sentence("Knee up three. Under a turn.")])
        spoken = speaker.wait(10)
        speaker.close()
    missing = " ".join(speaker.notices)
    if not spoken:
        return Verdict("voice", False, "nothing was spoken in 10 s", _ADVICE["voice"])
    return Verdict("voice", not missing, missing or speaker.name)


def _screen(settings: Settings) -> Verdict:
    """Whether there is a display, and whether what it shows can be read from where you stand."""
    why = display_missing()
    view, known = viewing_here(settings.distance, settings.screen_width)
    if why:
        return Verdict("screen", False, why, _ADVICE["screen"])
    pixels = desktop_pixels() or (1920, 1080)
    seen = legibility(pixels, view)
    found = (
        f"{pixels[0]} x {pixels[1]}, {known}; from {settings.distance:~} full screen {seen.verdict}"
        f" (smallest type {seen.smallest:.0f}). {SOURCE}"
    )
    return Verdict("screen", seen.readable, found, "" if seen.readable else _NEARER)


_NEARER = "Set distance and screen_width in the settings to what they are."


def _journal(settings: Settings) -> Verdict:
    path = settings.journal or default_path()
    kept = open_journal(path)
    count = len(kept.jobs())
    notices = " ".join(kept.notices)
    kept.close()
    return Verdict("journal", True, f"{path}, {count} jobs. {notices}".strip())

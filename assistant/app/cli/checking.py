"""`wheelcall check`: each device tried for real, a verdict, and what to do."""

from __future__ import annotations

import json
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path

import numpy as np

from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.cli.learn import describe
from assistant.app.cli.sound import LISTENS
from assistant.app.listening import Mode
from assistant.app.own_voice import load_voice
from assistant.app.paths import own_models, user_configs
from assistant.app.settings import Settings, load_settings, settings_path, with_options
from assistant.app.wiring import (
    choose_ear,
    ear_notices,
    listening_of,
    speaker_of,
    vosk_models,
    with_second,
)
from assistant.audio.advice import advise
from assistant.audio.levels import measure
from assistant.devices.ear import EarApart, ScriptedEar
from assistant.devices.journal import default_path, open_journal
from assistant.devices.microphone import find_microphone
from assistant.devices.screen import display_missing, legibility, viewing_here
from assistant.devices.screen.find import desktop_pixels
from assistant.devices.screen.legible import SOURCE
from assistant.errors import WheelcallError
from assistant.intact import read_again
from assistant.jobs.operations import OPERATIONS
from assistant.phrases.book import load_book
from assistant.ports import RATE, Samples
from assistant.spoken import Sentence, WordAutomaton

METER_BLOCKS = 5
"""Chunks of 20 ms between two looks at the meter."""
SECOND_SECONDS = 30.0


@dataclass(frozen=True)
class Verdict:
    """One line of the check."""

    device: str
    ok: bool
    found: str
    advice: str = ""


def check_devices(
    seconds: float, journal: Path | None, *, as_json: bool, settings: Path | None = None
) -> int:
    """Try every device; 0 where all are there."""
    chosen = with_options(load_settings(settings), journal=journal)
    meter = _Meter() if sys.stdout.isatty() and not as_json else None
    verdicts = []
    for verdict in _checks(chosen, seconds, meter):
        verdicts.append(verdict)
        if not as_json:
            print(f"{'ok     ' if verdict.ok else 'MISSING'}  {verdict.device}: {verdict.found}")
            for line in filter(None, verdict.advice.split("\n")):
                print(f"         {line}")
    if as_json:
        print(json.dumps([asdict(verdict) for verdict in verdicts], indent=1))
    else:
        print(f"\nSettings: {settings or settings_path()}")
        print(f"Your own machines, jobs and settings: {user_configs()} (machines/, jobs/)")
        print(f"Your own Vosk models: {own_models()}")
    return 0 if all(verdict.ok for verdict in verdicts) else EXIT_UNFINISHED


def check_all(settings: Settings, seconds: float) -> list[Verdict]:
    """Every device tried, without a word of it printed."""
    return list(_checks(settings, seconds, None))


def _checks(settings: Settings, seconds: float, meter: _Meter | None) -> Iterator[Verdict]:
    tried: tuple[tuple[str, Callable[[], Verdict]], ...] = (
        ("microphone", lambda: _microphone(settings, seconds, meter)),
        ("ear", lambda: _ear(settings)),
        ("second ear", lambda: _second(settings)),
        ("listening", lambda: _listening(settings)),
        ("own voice", lambda: _own_voice(settings)),
        ("voice", lambda: _voice(settings)),
        ("screen", lambda: _screen(settings)),
        ("journal", lambda: _journal(settings)),
    )
    for name, check in tried:
        try:
            yield check()
        except WheelcallError as error:
            yield Verdict(name, False, str(error), _ADVICE[name])
    for why in OPERATIONS.broken.values():
        yield Verdict("operations", False, why, "All else goes on without it.")


_ADVICE = {
    "microphone": "Plug in a stand or headset microphone (no cord near a spindle); name it in the "
    "settings. Until then commands are typed.",
    "ear": "Install Wheelcall again.",
    "second ear": "Numbers are checked by one ear alone until then.",
    "listening": 'Choose another word in the settings, or listening = "open".',
    "own voice": "wheelcall learn --delete removes the file; wheelcall learn learns it anew.",
    "voice": "Install libespeak-ng1. Until then sentences are only shown.",
    "screen": "Until then each changed screen is saved as a picture.",
    "journal": "Choose a folder that can be written, with --journal or in the settings.",
}


class _Meter:
    """The level on a line of the terminal, while the microphone is tried."""

    WIDTH = 40

    def show(self, samples: Samples) -> None:
        """Draw it anew."""
        level = measure(samples)
        full = round(level.bar * self.WIDTH)
        bar = "#" * full + "." * (self.WIDTH - full)
        clipped = " clipped!" if level.clipped else ""
        print(f"\r  say something [{bar}] {level.rms_db:4.0f} dB{clipped:9}", end="", flush=True)

    def end(self) -> None:
        """Clear the line."""
        print("\r" + " " * (self.WIDTH + 45) + "\r", end="", flush=True)


def _microphone(settings: Settings, seconds: float, meter: _Meter | None) -> Verdict:
    microphone = find_microphone(settings.microphone)
    started = time.monotonic()
    blocks: list[Samples] = []
    shown = 0
    for block in microphone.chunks():
        blocks.append(block)
        if meter is not None and len(blocks) - shown >= METER_BLOCKS:
            meter.show(np.concatenate(blocks[shown:]))
            shown = len(blocks)
        if time.monotonic() - started > seconds:
            break
    microphone.close()
    if meter is not None:
        meter.end()
    sound = np.concatenate(blocks) if blocks else np.zeros(RATE, np.float32)
    level = measure(sound)
    found = f"{microphone.name}, peak {level.peak_db:.0f} dB under full scale in {seconds:g} s"
    faults = advise(sound)
    if not faults:
        return Verdict("microphone", True, f"{found}; speech is clear")
    found = "; ".join((found, *(fault.found for fault in faults)))
    advice = "\n".join(fault.do for fault in faults)
    return Verdict("microphone", not any(fault.serious for fault in faults), found, advice)


def _ear(settings: Settings) -> Verdict:
    read_again()
    make, line = choose_ear(settings)
    started = time.monotonic()
    EarApart(make).close()
    models = vosk_models(settings)
    also = (
        f"; Vosk models: {', '.join(m.path.name for m in models)}" if models else "; no Vosk model"
    )
    found = f"{line} Loaded in {time.monotonic() - started:.1f} s{also}"
    return Verdict("ear", True, found, "\n".join(ear_notices(settings)))


def _second(settings: Settings) -> Verdict:
    """The second ear hears a second of silence, in its process as at work."""
    first = partial(ScriptedEar, ["yes"] * 9999)
    make, line = with_second(settings, first)
    if make is first:
        return Verdict("second ear", True, line)
    ear = make()
    grammar = WordAutomaton("yes", ({"yes": 1}, {}), frozenset({1}))
    try:
        end = time.monotonic() + SECOND_SECONDS
        while time.monotonic() < end and not getattr(ear, "trouble", ""):
            ear.begin(grammar)
            ear.feed(np.zeros(RATE, np.float32))
            if ear.finish().opinion is not None:
                return Verdict("second ear", True, line)
            time.sleep(0.1)
        return Verdict("second ear", False, getattr(ear, "trouble", "") or "it gives no answer")
    finally:
        ear.close()


def _listening(settings: Settings) -> Verdict:
    book = load_book()
    way = listening_of(settings, book)
    found = LISTENS[way.mode].format(word=way.attention, key=way.pedal)
    if way.mode is Mode.PEDAL and display_missing():
        advice = "Without a window no key is seen: it would hear stop alone, and typed lines."
        return Verdict("listening", False, found, advice)
    return Verdict("listening", True, found)


def _own_voice(settings: Settings) -> Verdict:
    voice = load_voice()
    if voice is None:
        return Verdict("own voice", True, "none is known; wheelcall learn learns it")
    unused = "" if settings.own_voice else " Not used (own_voice = false)."
    return Verdict("own voice", True, describe(voice) + unused)


def _voice(settings: Settings) -> Verdict:
    with tempfile.TemporaryDirectory() as folder:
        speaker = speaker_of(settings, Path(folder), tell=lambda _line: None)
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
    seen = legibility(pixels, view, settings.leads)
    away = settings.distance.to("m")
    found = (
        f"{pixels[0]} x {pixels[1]}, {known}; from {away:~} full screen {seen.verdict}. {SOURCE}"
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

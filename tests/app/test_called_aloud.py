"""A job called by its attention word, by microphone, with both ears: the way that it is worked."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import numpy as np

from assistant.app.listening import Listening, Mode
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.opinion import with_second_opinion
from assistant.devices.vosk import VoskEar
from assistant.devices.wav import SoundFile
from assistant.present.glance import Ear
from tests.app.test_barge_in import Talking
from tests.devices.virtual_sound import VirtualSound, sound, sound_server

__all__ = ["sound", "sound_server"]

ROOT = Path(__file__).resolve().parents[2]
MODEL = ROOT / "voice_models" / "wheelcall-en-small"
CALLS = ROOT / "tests" / "audio" / "called"


def clip(name: str) -> np.ndarray:
    samples = np.concatenate(list(SoundFile(CALLS / f"{name}-rms.flac").chunks()))
    return np.pad(samples, 4000).astype(np.float32)


def test_it_does_what_it_is_called_for_and_nothing_else(sound: VirtualSound, tmp_path: Path):
    make = partial(
        with_second_opinion, MoonshineEar, partial(VoskEar, MODEL), strange=("clipboard", "[unk]")
    )
    listening = Listening(Mode.CALLED, "clipboard")
    at = Talking(tmp_path, headset=False, make=make, listening=listening)
    try:
        assert at.until(lambda: at.ear.ready and at.assistant.ear is Ear.WAITING)
        sound.play(clip("touched"))  # not called: as if somebody else had said it
        at.until(lambda: False, 2.0)
        assert not any("touched" in line for line in at.told)
        sound.play(clip("clipboard"))
        assert at.until(lambda: at.assistant.ear is Ear.LISTENING)
        assert at.assistant.last_heard == "clipboard"
        sound.play(clip("stop"))
        assert at.until(lambda: at.assistant.state.stopped)
        assert at.until(lambda: at.assistant.ear is Ear.WAITING)
    finally:
        at.close()

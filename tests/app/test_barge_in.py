"""With a headset the operator may cut in: "say again" ends what is being said and begins anew."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest

from assistant.app.assistant import Assistant, Devices
from assistant.app.listening import Listening
from assistant.app.manner import Manner
from assistant.app.paths import configs_folder
from assistant.app.run_live import Live, _pump
from assistant.app.transcript import Transcript
from assistant.devices.clock import SystemClock
from assistant.devices.ear import EarProcess
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.microphone import Microphone
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.speaker import QueuedSpeaker, find_speaker
from assistant.devices.wav import SoundFile
from assistant.errors import DeviceMissing
from assistant.phrases.book import load_book
from assistant.ports import Recogniser
from assistant.spoken import Sentence
from tests.devices.virtual_sound import VirtualSound, sound, sound_server
from tests.factories import Job

__all__ = ["sound", "sound_server"]

CLIP = Path(__file__).parents[1] / "audio" / "corrections" / "say_again-rms.flac"
LONG = "Then saddle in, four turns and one forty and a half, and lock it before you go on."
LASTS = 4.0
"""Seconds, and more: the voice isn't asked, for the speaker's thread alone may use it."""
SILENCE = 2.0
"""Seconds before it speaks on: what comes from its own earphone is held against a silence."""
PATIENCE = 60.0


def test_say_again_cuts_short_and_says_all_anew():
    """By any microphone's or key's "say again", while sentences still wait to be said."""
    job = Job()
    job.say("what now")
    last = job.state.last_reply
    before = job.speaker.hushed
    job.say("say again")
    assert job.speaker.hushed == before + 1
    again = [one.text for one in Manner().spoken(map(Sentence, last), job.state, again=True)]
    assert job.speaker.texts[-len(again) :] == again
    job.say("what now")
    assert job.speaker.hushed == before + 1, "other answers are said after what is being said"


class Talking:
    """A live job on the card of software, saying four long sentences."""

    def __init__(
        self,
        folder: Path,
        headset: bool,
        make: Callable[[], Recogniser] = MoonshineEar,
        listening: Listening | None = None,
    ) -> None:
        try:
            speaker = find_speaker(folder / "spoken", mode="card")
        except DeviceMissing as missing:
            pytest.skip(str(missing))
        assert isinstance(speaker, QueuedSpeaker)
        self.speaker = speaker
        self.told: list[str] = []
        devices = Devices(MemoryJournal(), speaker, HiddenScreen(), SystemClock())
        self.assistant = Assistant(load_book(), devices, Transcript(self.told.append))
        self.assistant.begin(configs_folder() / "jobs" / "keyseat-inch.toml")
        self.ear = EarProcess(make)
        self.live = Live(self.assistant, self.ear, headset=headset, listening=listening)
        self.microphone = Microphone()
        self.ear.start()
        self.pump = threading.Thread(
            target=_pump, args=(self.microphone, self.ear, self.live.gate), daemon=True
        )
        self.pump.start()

    def until(self, enough: Callable[[], bool], seconds: float = PATIENCE) -> bool:
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self.live.step()
            if enough():
                return True
            time.sleep(0.01)
        return False

    def close(self) -> None:
        self.live.gate.closing.set()
        self.microphone.close()
        self.ear.close()
        self.pump.join(timeout=2)
        self.speaker.close()


@contextmanager
def talking(folder: Path, headset: bool) -> Iterator[Talking]:
    made = Talking(folder, headset)
    try:
        assert made.until(lambda: made.ear.ready and not made.speaker.speaking)
        made.until(lambda: False, SILENCE)
        made.speaker.say([Sentence(LONG)] * 4)
        assert made.until(lambda: made.speaker.speaking)
        yield made
    finally:
        made.close()


def samples() -> np.ndarray:
    clip = np.concatenate(list(SoundFile(CLIP).chunks()))
    return np.pad(clip, 4000).astype(np.float32)


def test_into_a_headset_it_is_heard_while_the_assistant_speaks(sound: VirtualSound, tmp_path: Path):
    with talking(tmp_path, headset=True) as at:
        lasts = 4 * LASTS
        began = time.monotonic()
        sound.play(samples(), wait=False)
        assert at.until(lambda: any("say again" in line for line in at.told))
        assert time.monotonic() - began < lasts, "it was heard amid the sentences"
        # what is left is the answer that was asked for again, not the sentences that waited
        assert at.until(lambda: not at.speaker.speaking)
        assert at.assistant.last_heard == "say again"


def test_into_a_stand_microphone_it_is_not(sound: VirtualSound, tmp_path: Path):
    """Half duplex: what comes back from the loudspeaker must not be taken for a command."""
    with talking(tmp_path, headset=False) as at:
        sound.play(samples(), wait=False)
        at.until(lambda: not at.speaker.speaking)
        assert not any("say again" in line for line in at.told)

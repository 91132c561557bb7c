"""`check --ear` and the ears' trial: real ears on recorded phrases, and what is kept of it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from assistant.app.asking import Asker
from assistant.app.ear_trial import Trial, try_ears
from assistant.app.keep_setting import keep_setting
from assistant.app.prompts import (
    DOZEN,
    TWENTY,
    Take,
    Verdict,
    from_files,
    from_microphone,
    grammar_of,
    judge,
)
from assistant.app.settings import load_settings
from assistant.devices.ear import ScriptedEar
from assistant.devices.hidden import HiddenScreen
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.scripted import ScriptedSound
from assistant.devices.speaker import SilentSpeaker
from assistant.errors import BadFile, BadInput, DeviceFailed, DeviceMissing
from assistant.phrases.book import load_book
from assistant.ports import RATE, Recogniser, Samples
from assistant.present.glance import Ear, Glance
from assistant.spoken import Heard

ROOT = Path(__file__).resolve().parents[2]
CLIPS = ROOT / "assistant" / "demo" / "keyseat-inch"
BOOK = load_book()


def missing_ear() -> Recogniser:
    raise DeviceMissing("an ear", "it is not there")


def crashing_ear() -> Recogniser:
    os._exit(5)


def test_every_phrase_is_one_of_the_book_and_means_something() -> None:
    grammar = grammar_of(BOOK)
    assert len(DOZEN) == 12
    assert len(set(TWENTY)) == 20
    for phrase in TWENTY:
        assert grammar.accepts(phrase.split())
        assert judge(BOOK, phrase, Heard(phrase, 1.0)) is Verdict.RIGHT


@pytest.mark.parametrize(
    ("said", "heard", "sure", "verdict"),
    [
        ("measured one point five", "measure one point five", 0.9, Verdict.RIGHT),
        ("measured one point five", "one point five oh oh", 0.9, Verdict.RIGHT),
        ("measured one point five", "measured one point nine", 0.9, Verdict.WRONG),
        ("measured one point five", "measured one point nine", 0.55, Verdict.ASKED),
        ("touched", "touched", 0.55, Verdict.RIGHT),  # a command needs less than a size
        ("touched", "touched", 0.4, Verdict.ASKED),
        ("touched", "touched", 0.1, Verdict.UNHEARD),
        ("touched", "", 0.0, Verdict.UNHEARD),
        ("touched", "that's through", 0.9, Verdict.WRONG),
    ],
)
def test_what_became_of_a_phrase(said: str, heard: str, sure: float, verdict: Verdict) -> None:
    assert judge(BOOK, said, Heard(heard, sure)) is verdict


def test_phrases_are_read_from_files_named_after_them(tmp_path: Path) -> None:
    takes = from_files(CLIPS, DOZEN)
    assert [take.phrase for take in takes] == list(DOZEN)
    assert all(take.sound.size > RATE / 4 for take in takes)
    with pytest.raises(BadInput, match=r"only 0 of 12.*im_set") as raised:
        from_files(tmp_path, DOZEN)
    assert "--from" in str(raised.value)


def test_phrases_are_taken_from_the_microphone_one_by_one() -> None:
    takes = from_files(CLIPS, DOZEN[:3])
    quiet = np.zeros(RATE, np.float32)
    source = ScriptedSound([part for take in takes for part in (quiet, take.sound, quiet)])
    told: list[str] = []
    got = from_microphone(source, DOZEN[:3], Asker(told.append))
    assert [take.phrase for take in got] == list(DOZEN[:3])
    assert told == [
        *(f'{n} of 3. Say: "{phrase}"' for n, phrase in enumerate(DOZEN[:3], 1)),
        "That's all.",
    ]
    for one, other in zip(got, takes, strict=True):
        assert one.sound.size == pytest.approx(other.sound.size, abs=RATE)


def test_silence_is_asked_again_and_then_given_up() -> None:
    told: list[str] = []
    now = iter(range(10_000))
    source = ScriptedSound([np.zeros(20 * RATE, np.float32)])
    with pytest.raises(DeviceFailed, match="only 0 of 2"):
        from_microphone(source, DOZEN[:2], Asker(told.append), clock=lambda: next(now) / 50)
    assert told.count("I heard nothing.") == 4


SOME_VOICE = from_files(CLIPS, DOZEN)[DOZEN.index("how much left")].sound


def likeness(sound: Samples, part: Samples) -> float:
    """How much of `part` is in `sound`: the largest correlation, 1 where it is there whole."""
    size = 1 << (sound.size + part.size).bit_length()
    both = np.fft.rfft(sound, size) * np.conj(np.fft.rfft(part, size))
    energy = np.cumsum(np.concatenate([[0.0], sound.astype(float) ** 2]))
    most = float(np.abs(np.fft.irfft(both)).max())
    return most / float(np.sqrt(energy[-1] * (part.astype(float) ** 2).sum()))


class Room:
    """A microphone, and a speaker that is heard in it: each phrase of the speaker's takes some of
    the microphone's time, and then the operator says it after a short while."""

    name, live = "room", True

    def __init__(self, says: Mapping[str, Samples]) -> None:
        self.speaker = SilentSpeaker(holds=True)
        self.screen = HiddenScreen()
        self.seconds = 0.0
        self._says = says
        self.own = SOME_VOICE

    def clock(self) -> float:
        return self.seconds

    def chunks(self) -> Iterator[Samples]:
        while True:
            parts = [np.zeros(RATE, np.float32)]
            asked = self.speaker.texts[-1] if self.speaker.speaking else ""
            if asked:
                yield from self._pass(self.own)
                self.speaker.finish()
                phrase = asked.removeprefix("Say: ").rstrip(".").casefold()
                parts = [parts[0], self._says.get(phrase, parts[0]), parts[0]]
            yield from self._pass(np.concatenate(parts))

    def _pass(self, sound: Samples) -> Iterator[Samples]:
        for start in range(0, sound.size, 320):
            self.seconds += 0.02
            yield sound[start : start + 320]

    def close(self) -> None:
        """Nothing to give back."""


def test_phrases_are_asked_for_aloud_and_its_own_voice_is_not_taken_for_one() -> None:
    said = {take.phrase: take.sound for take in from_files(CLIPS, DOZEN[2:6])}
    room = Room(said)
    asker = Asker(lambda _line: None, room.speaker, room.screen, room.clock)
    room.speaker.wait = lambda timeout=None: True  # type: ignore[method-assign]
    got = from_microphone(room, DOZEN[2:6], asker, room.clock)
    assert [take.phrase for take in got] == list(said)
    for take in got:
        assert likeness(take.sound, said[take.phrase]) > 0.9
        assert likeness(take.sound, room.own) < 0.5, "its own voice is not in it"
    assert room.speaker.texts == [
        "Say: touched.", "Say: checked.", "Say: I'm set.", "Say: that's through.", "That's all.",
    ]  # fmt: skip
    pages = room.screen.shown
    assert next(page.instruction for page in pages if page.ear is Ear.SPEAKING) == "touched"
    assert {Ear.SPEAKING, Ear.LISTENING, Ear.HEARING} <= {page.ear for page in pages}
    assert pages[-1].instruction == "That's all."


def test_who_says_nothing_is_told_so_aloud_and_on_the_screen() -> None:
    room = Room({"anything": np.zeros(RATE, np.float32)})
    asker = Asker(lambda _line: None, room.speaker, room.screen, room.clock)
    with pytest.raises(DeviceFailed, match="only 0 of 1"):
        from_microphone(room, DOZEN[:1], asker, room.clock)
    assert room.speaker.texts[:3] == ["Say: yes.", "I heard nothing.", "Say: yes."]
    assert any(page.detail == ("I heard nothing.",) for page in room.screen.shown)


def test_a_window_that_goes_or_is_closed(tmp_path: Path) -> None:
    class Going(HiddenScreen):
        def show(self, glance: Glance) -> None:
            raise DeviceFailed("display", "the display is gone")

    told: list[str] = []
    asker = Asker(told.append, None, Going())
    asker.ask("touched", 1, 12)
    asker.show(Ear.LISTENING)
    asker.show(Ear.LISTENING)
    assert len(told) == 2
    assert "the display is gone" in told[1]
    closed = HiddenScreen()
    closed.pressed.append("quit")
    with pytest.raises(KeyboardInterrupt):
        Asker(told.append, None, closed).show(Ear.LISTENING)


def test_ears_are_tried_each_in_its_process_and_the_best_comes_first() -> None:
    takes = from_files(CLIPS, DOZEN)[:6]
    deaf = ("deaf", "", partial(ScriptedEar, []))
    liar = ("liar", "", partial(ScriptedEar, ["that's through"] * 99))
    trials = try_ears(
        [("missing", "", missing_ear), ("crashing", "", crashing_ear), liar, deaf,
         ("moonshine", "", MoonshineEar)],
        takes,
    )  # fmt: skip
    assert [trial.ear for trial in trials] == ["moonshine", "deaf", "liar", "missing", "crashing"]
    best, silent, wrong, missing, crashing = trials
    assert best.count(Verdict.RIGHT) == 6
    assert 0 < best.real_time_factor < 5
    assert 100 < best.megabytes < 1000
    assert silent.count(Verdict.UNHEARD) == 6
    assert wrong.count(Verdict.WRONG) == 5
    assert missing.trouble == "it is not there"
    assert "crash" in crashing.trouble


def test_a_wrong_one_weighs_more_than_many_asked_back() -> None:
    def trial(*verdicts: Verdict, work: float = 0.1) -> Trial:
        return Trial("x", "", verdicts, (), work, 100)

    right, asked, wrong = Verdict.RIGHT, Verdict.ASKED, Verdict.WRONG
    assert trial(right, asked, asked).rank < trial(right, right, wrong).rank
    assert trial(right, right, asked).rank < trial(right, asked, asked).rank
    assert trial(right, work=0.01).rank < trial(right, work=0.1).rank


class TestKeeping:
    def test_a_line_is_changed_and_nothing_else(self, tmp_path: Path) -> None:
        path = tmp_path / "own" / "settings.toml"
        keep_setting("ear", "vosk", path)
        before = (ROOT / "configs" / "settings.toml").read_text()
        after = path.read_text()
        changed = [
            (old, new)
            for old, new in zip(before.splitlines(), after.splitlines(), strict=True)
            if old != new
        ]
        ((old, new),) = changed
        assert old.startswith('ear = "auto"')
        assert new.startswith('ear = "vosk"')
        assert new.endswith(old.partition("#")[2])
        assert load_settings(path).ear == "vosk"

    def test_a_line_that_is_commented_out_comes_into_force(self, tmp_path: Path) -> None:
        path = tmp_path / "settings.toml"
        keep_setting("model", 'a "b" c', path)
        assert str(load_settings(path).model) == 'a "b" c'
        keep_setting("model", "other", path)
        assert str(load_settings(path).model) == "other"
        assert path.read_text().count("\nmodel =") == 1
        keep_setting("model", None, path)
        assert load_settings(path).model is None

    def test_a_key_that_is_not_there_is_added(self, tmp_path: Path) -> None:
        path = tmp_path / "settings.toml"
        path.write_text("rate = 200")
        keep_setting("ear", "moonshine", path)
        assert path.read_text() == 'rate = 200\near = "moonshine"\n'

    def test_a_broken_file_and_a_wrong_value_change_nothing(self, tmp_path: Path) -> None:
        path = tmp_path / "settings.toml"
        path.write_text("rate = 9000\n")
        with pytest.raises(BadFile, match="rate"):
            keep_setting("ear", "vosk", path)
        assert path.read_text() == "rate = 9000\n"
        path.write_text("rate = 200\n")
        with pytest.raises(BadFile, match="ear"):
            keep_setting("ear", "third", path)
        assert path.read_text() == "rate = 200\n"
        assert list(tmp_path.iterdir()) == [path]


def run(*arguments: str, home: Path, text: str = "") -> subprocess.CompletedProcess[str]:
    env = dict(os.environ, XDG_CONFIG_HOME=str(home), XDG_DATA_HOME=str(home))
    return subprocess.run(
        [sys.executable, "-m", "assistant", "check", "--ear", "--from", str(CLIPS), *arguments],
        capture_output=True, text=True, input=text, cwd=ROOT, env=env, timeout=300, check=False,
    )  # fmt: skip


def test_the_command_reports_every_ear_and_keeps_what_it_is_told_to(tmp_path: Path) -> None:
    own = tmp_path / "wheelcall" / "settings.toml"
    done = run("--json", "--dry-run", home=tmp_path)
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert {"moonshine", "vosk"} <= {one["ear"] for one in told}
    for one in told:
        assert sum(one[verdict] for verdict in Verdict) == 12
        assert one["megabytes"] > 50
    assert told[0]["wrong"] == 0
    assert not own.exists()
    done = run(home=tmp_path, text="n\n")
    assert done.returncode == 0, done.stderr
    assert "Best here: " in done.stdout
    assert not own.exists()
    done = run(home=tmp_path, text="")
    assert done.returncode == 0, done.stderr
    assert "Nothing is kept: nobody answered" in done.stderr
    assert not own.exists()
    done = run("--yes", home=tmp_path)
    assert done.returncode == 0, done.stderr
    assert load_settings(own).ear == told[0]["ear"]


def test_a_take_is_sound_in_memory_only() -> None:
    assert set(Take.__dataclass_fields__) == {"phrase", "sound"}

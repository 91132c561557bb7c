"""The voice: its queue, its engine that may hang, and what there is without a card."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.audio import cards
from assistant.devices.speaker import (
    FolderPlayer,
    PrintedSpeaker,
    QueuedSpeaker,
    Sound,
    Voice,
    find_speaker,
)
from assistant.devices.speaker import queued as queued_module
from assistant.devices.speaker.sentences import Sentences
from assistant.devices.speaker.voice import shortest
from assistant.errors import BadInput, DeviceFailed, DeviceMissing
from assistant.spoken import Sentence, Urgency
from tests.devices.engines import (
    Write,
    ends,
    ends_at_once,
    has_no_engine,
    is_in_trouble,
    writes_half,
    writes_nothing,
)
from tests.devices.voices import Reports, ScriptedPlayer, ScriptedVoice, engine


def status(text: str) -> Sentence:
    return Sentence(text, Urgency.STATUS)


def caution(text: str) -> Sentence:
    return Sentence(text, Urgency.CAUTION)


# -- the order of sentences -----------------------------------------------------------------------


def texts(queue: Sentences) -> list[str]:
    return [sentence.text for sentence in iter(queue.next, None)]


def test_only_waiting_status_is_dropped_for_something_newer() -> None:
    queue = Sentences()
    queue.add([status("Pass two of four."), Sentence("Up six."), caution("Spindle off first.")])
    dropped = queue.add([Sentence("Lock it."), status("Step nine.")])
    assert [sentence.text for sentence in dropped] == ["Pass two of four."]
    assert texts(queue) == ["Spindle off first.", "Up six.", "Lock it.", "Step nine."]


def test_nothing_newer_drops_nothing() -> None:
    queue = Sentences()
    queue.add([status("Pass two of four.")])
    assert queue.add([]) == []
    assert queue.add([Sentence(" ")]) == []
    assert texts(queue) == ["Pass two of four."]


def test_cautions_come_first_and_in_their_order() -> None:
    queue = Sentences()
    queue.add([Sentence("Up six."), caution("Spindle off.")])
    queue.add([caution("Chips by brush."), Sentence("Lock it.")])
    assert texts(queue) == ["Spindle off.", "Chips by brush.", "Up six.", "Lock it."]


# -- the speaker's thread -------------------------------------------------------------------------


@pytest.fixture
def player() -> ScriptedPlayer:
    return ScriptedPlayer()


@pytest.fixture
def voice() -> ScriptedVoice:
    return ScriptedVoice()


@pytest.fixture
def reports() -> Reports:
    return Reports()


@pytest.fixture
def speaker(
    voice: ScriptedVoice,
    player: ScriptedPlayer,
    reports: Reports,
    monkeypatch: pytest.MonkeyPatch,
) -> Iterator[QueuedSpeaker]:
    monkeypatch.setattr(queued_module, "PAUSES", (0.01,))
    monkeypatch.setattr(queued_module, "WATCH_SECONDS", 0.02)
    made = QueuedSpeaker(voice, player, report=reports)
    yield made
    player.go.set()
    made.close()


def test_saying_returns_at_once_and_speaking_tells(
    speaker: QueuedSpeaker, player: ScriptedPlayer
) -> None:
    player.hold()
    speaker.say([Sentence("Zero the saddle."), Sentence("Lock it.")])
    assert speaker.speaking
    assert not speaker.wait(0.05)
    player.go.set()
    assert speaker.wait(5)
    assert not speaker.speaking


def test_hushing_cuts_the_sentence_and_forgets_the_rest(
    speaker: QueuedSpeaker, player: ScriptedPlayer
) -> None:
    player.hold()
    speaker.say([Sentence("Zero the saddle."), caution("Spindle off."), Sentence("Lock it.")])
    assert player.begun.wait(5)
    speaker.hush()
    assert speaker.wait(5)
    assert player.cut == ["Spindle off."]
    player.go.set()
    speaker.say([Sentence("Knee up three.")])
    assert speaker.wait(5)
    assert player.played == ["Knee up three."]


def test_what_was_foreseen_for_another_step_is_thrown_away(
    speaker: QueuedSpeaker, voice: ScriptedVoice, player: ScriptedPlayer
) -> None:
    """What isn't made yet never is, and what is made is played by nobody who didn't ask for it."""
    player.go.clear()
    speaker.say([Sentence("Lock it.")])
    assert player.begun.wait(5), "while it speaks nothing is made ahead"
    speaker.foresee(["Knee up fifteen.", "Knee up, once more."])
    speaker.foresee(["Saddle in fifty."])
    player.go.set()
    assert speaker.wait(5)
    end = time.monotonic() + 5
    while len(voice.asked) < 2 and time.monotonic() < end:
        time.sleep(0.01)
    speaker.say([Sentence("Clear?")])
    assert speaker.wait(5)
    assert [text for text, _ in voice.asked] == ["Lock it.", "Saddle in fifty.", "Clear?"]
    assert player.played == ["Lock it.", "Clear?"]


def test_status_that_waits_is_dropped_and_answers_are_not(
    speaker: QueuedSpeaker, player: ScriptedPlayer
) -> None:
    player.hold()
    speaker.say([Sentence("One six six six: two over the limit.")])
    assert player.begun.wait(5)
    speaker.say([status("Step nine."), Sentence("Up six, to seventeen.")])
    speaker.say([Sentence("Lock it.")])
    player.go.set()
    assert speaker.wait(5)
    assert player.played == [
        "One six six six: two over the limit.",
        "Up six, to seventeen.",
        "Lock it.",
    ]


def test_rate_and_volume_count_from_the_next_sentence(
    speaker: QueuedSpeaker, player: ScriptedPlayer, voice: ScriptedVoice
) -> None:
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(5)
    speaker.adjust(rate=120, volume=0.25)
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(5)
    assert voice.asked == [("Lock it.", 190), ("Lock it.", 120)]
    assert player.volumes == [1.0, 0.25]
    for wrong in ({"rate": 20}, {"rate": 1000}, {"volume": -0.1}, {"volume": 1.1}):
        with pytest.raises(BadInput, match=next(iter(wrong))):
            speaker.adjust(**wrong)
    with pytest.raises(BadInput):
        speaker.adjust(volume=float("nan"))


def test_one_failure_is_told_and_the_sentence_is_said_all_the_same(
    speaker: QueuedSpeaker, player: ScriptedPlayer, voice: ScriptedVoice, reports: Reports
) -> None:
    player.hold()
    speaker.say([Sentence("Lock it.")])
    assert player.begun.wait(5)
    player.failing = "unplugged"
    real_probe = player.probe

    def plugged_in() -> None:
        player.failing = ""
        real_probe()

    player.probe = plugged_in  # type: ignore[method-assign]
    player.go.set()
    assert reports.wait_for("unplugged")
    assert reports.wait_for("")
    assert speaker.wait(5)
    assert player.played == ["Lock it."]
    assert reports.all == [("unplugged", []), ("", [])]


def test_a_text_refused_at_the_second_try_does_not_lose_the_voice(
    speaker: QueuedSpeaker, player: ScriptedPlayer, voice: ScriptedVoice, reports: Reports
) -> None:
    player.hold()
    speaker.say([Sentence("Lock it."), Sentence("Up six.")])
    assert player.begun.wait(5)
    player.failing = "unplugged"
    real_probe = player.probe

    def plugged_in() -> None:
        player.failing = ""
        voice.refused.add("Lock it.")
        real_probe()

    player.probe = plugged_in  # type: ignore[method-assign]
    player.go.set()
    assert reports.wait_for("can't say this", ["Lock it."])
    assert speaker.wait(5)
    assert speaker.trouble == ""
    assert player.played == ["Up six."]
    assert [report for report in reports.all if report != ("", [])] == [
        ("unplugged", []),
        ("can't say this", ["Lock it."]),
    ]


def test_without_a_voice_nothing_stale_is_said_but_the_cautions(
    speaker: QueuedSpeaker, player: ScriptedPlayer, reports: Reports
) -> None:
    player.failing = "unplugged"
    player.hold()
    speaker.say([caution("Spindle off."), Sentence("Up six."), status("Step nine.")])
    assert player.begun.wait(5)
    player.go.set()
    assert reports.wait_for("unplugged", ["Up six.", "Step nine."])
    assert speaker.trouble == "unplugged"
    assert not speaker.speaking, "the ear must not be held shut by a voice that is gone"
    assert not speaker.wait(5)
    speaker.say([Sentence("Up four."), caution("Chips by brush.")])
    assert reports.wait_for("unplugged", ["Up four."])
    player.failing = ""
    assert reports.wait_for("")
    assert speaker.wait(5)
    assert player.played == ["Spindle off.", "Chips by brush."]
    assert speaker.trouble == ""
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(5)
    assert player.played[-1] == "Lock it."


def test_a_card_that_goes_while_nothing_is_said_is_noticed(
    speaker: QueuedSpeaker, player: ScriptedPlayer, reports: Reports
) -> None:
    player.failing = "unplugged"
    assert reports.wait_for("unplugged")
    player.failing = ""
    assert reports.wait_for("")


def test_a_voice_in_trouble_can_be_hushed_and_closed(
    speaker: QueuedSpeaker, player: ScriptedPlayer, reports: Reports
) -> None:
    player.failing = "unplugged"
    speaker.say([caution("Spindle off.")])
    assert reports.wait_for("unplugged")
    speaker.hush()
    player.failing = ""
    assert reports.wait_for("")
    assert speaker.wait(5)
    player.failing = "unplugged again"
    assert reports.wait_for("unplugged again")
    speaker.close()
    assert "speaker" not in {thread.name for thread in threading.enumerate()}


# -- the engine -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def real() -> Iterator[Voice]:
    try:
        voice = engine()
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    yield voice
    voice.close()


def test_the_engine_makes_sound_of_words(real: Voice) -> None:
    sound = real.sound("Then saddle in, four turns and one-forty and a half.", 190)
    assert 2 < sound.seconds < 6
    assert 0.05 < float(np.abs(sound.samples).max()) <= 1
    assert real.sound("Then saddle in, four turns.", 90).seconds > 1.4 * (
        real.sound("Then saddle in, four turns.", 190).seconds
    )


def test_no_sentence_gets_another_s_sound(real: Voice) -> None:
    """The engine drops one in a hundred, and might play the end of the one before."""
    sentences = ["Lock it.", "Measured one point one oh nine.", "Spindle off.", "Zero the saddle."]
    fresh = Voice(kept_bytes=0)
    lengths: dict[str, list[float]] = {}
    for number in range(80):
        text = sentences[number * 7 % 4]
        lengths.setdefault(text, []).append(fresh.sound(text, 190).seconds)
    fresh.close()
    for text, all_lengths in lengths.items():
        expected = real.sound(text, 190).seconds
        assert all(abs(one - expected) < 0.15 for one in all_lengths), text


def test_what_was_said_is_kept_up_to_a_limit(real: Voice) -> None:
    first = real.sound("Knee up three for a witness.", 190)
    assert real.sound("Knee up three for a witness.", 190) is first
    assert real.sound("Knee up three for a witness.", 191) is not first
    small = Voice(kept_bytes=first.samples.nbytes + 1000)
    kept = small.sound("Knee up three for a witness.", 190)
    small.sound("Lock it.", 190)
    assert small.sound("Knee up three for a witness.", 190) is not kept
    small.close()


def test_an_engine_that_hangs_is_ended_and_started_anew() -> None:
    voice = Voice(answer_seconds=0.3)
    try:
        voice.start()
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    child = voice._child
    assert child is not None
    os.kill(child.pid, signal.SIGSTOP)
    with pytest.raises(DeviceFailed, match=r"no answer in 0\.3 s"):
        voice.sound("Lock it.", 190)
    assert not child.pid
    assert voice.sound("Lock it.", 190).seconds > 0.3
    voice.close()


def test_an_engine_that_crashes_is_started_anew(real: Voice) -> None:
    assert real._child is not None
    os.kill(real._child.pid, signal.SIGKILL)
    with contextlib.suppress(DeviceFailed):  # it is noticed on asking, or when the pipe breaks
        real.sound("A new sentence.", 190)
    assert real.sound("A new sentence.", 190).seconds > 0.3


@pytest.mark.parametrize(
    ("load", "why"),
    [(ends_at_once, r"stopped \(exit code 3\)"), (has_no_engine, "no libespeak")],
)
def test_no_engine_is_said(load: Callable[[], Write], why: str) -> None:
    voice = Voice(load=load)
    with pytest.raises(DeviceMissing, match=why) as raised:
        voice.start()
    assert "only written" in raised.value.cost
    voice.close()


@pytest.mark.parametrize(
    ("load", "why"),
    [
        (ends, "stopped"),
        (is_in_trouble, "says no voice"),
        (writes_nothing, "wav"),
        (writes_half, "broke off in 'Measured one"),
    ],
)
def test_an_engine_that_does_not_do_its_work_is_told(load: Callable[[], Write], why: str) -> None:
    voice = Voice(load=load)
    with pytest.raises(DeviceFailed, match=why):
        voice.sound("Measured one point one oh nine.", 190)
    voice.close()


def test_half_a_sentence_is_known_by_its_length() -> None:
    assert shortest("Measured one point one oh nine.", 190) == pytest.approx(0.379, abs=0.001)
    assert shortest("...", 190) == 0


# -- without a card -------------------------------------------------------------------------------


def test_sentences_become_numbered_files(tmp_path: Path) -> None:
    lines: list[str] = []
    player = FolderPlayer(tmp_path / "spoken", lines.append)
    sound = Sound(np.full(2205, 0.5, np.float32), 22_050)
    player.play(sound, "Lock it. Read it again?", 0.5, threading.Event())
    player.play(sound, "140½", 1.0, threading.Event())
    names = sorted(file.name for file in (tmp_path / "spoken").iterdir())
    assert names == ["0001-lock-it-read-it-again.wav", "0002-140.wav"]
    samples, rate = soundfile.read(tmp_path / "spoken" / names[0])
    assert (len(samples), rate, round(samples[0], 2)) == (2205, 22_050, 0.25)
    assert lines[0] == "says: Lock it. Read it again?  [0001-lock-it-read-it-again.wav]"
    again = FolderPlayer(tmp_path / "spoken", lines.append)
    again.play(sound, "Lock it.", 1.0, threading.Event())
    assert (tmp_path / "spoken" / "0003-lock-it.wav").exists()


def test_a_folder_that_vanishes_is_made_again(tmp_path: Path) -> None:
    player = FolderPlayer(tmp_path / "spoken", lambda _: None)
    (tmp_path / "spoken").rmdir()
    sound = Sound(np.zeros(10, np.float32), 22_050)
    with pytest.raises(DeviceFailed, match="spoken"):
        player.play(sound, "Lock it.", 1.0, threading.Event())
    player.probe()
    assert player.play(sound, "Lock it.", 1.0, threading.Event())


@pytest.fixture
def no_card(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(way: str, name: str | None, device: str, cost: str) -> cards.Card:
        raise DeviceMissing(device, f"the sound system lists no card with {way}", cost)

    monkeypatch.setattr(cards, "find_card", missing)


@pytest.mark.usefixtures("no_card", "real")
def test_without_a_card_files_are_written_and_it_is_said(tmp_path: Path) -> None:
    lines: list[str] = []
    speaker = find_speaker(tmp_path / "spoken", tell=lines.append)
    (notice,) = speaker.notices
    assert "No speaker: the sound system lists no card with output" in notice
    assert str(tmp_path / "spoken") in notice
    speaker.say([Sentence("Lock it.")])
    assert speaker.wait(10)
    speaker.close()
    assert [line.split("  [")[0] for line in lines] == ["says: Lock it."]
    with pytest.raises(DeviceMissing, match="speaker"):
        find_speaker(tmp_path, mode="card")


def test_without_an_engine_sentences_are_printed_and_it_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def missing(self: Voice, patience: float = 0.0) -> bool:
        raise DeviceMissing("voice", "no libespeak", "sentences are only written, not spoken")

    monkeypatch.setattr(Voice, "ready", missing)
    speaker = find_speaker(tmp_path)
    assert isinstance(speaker, PrintedSpeaker)
    assert speaker.notices == ("no voice: no libespeak; sentences are only written, not spoken.",)
    with pytest.raises(DeviceMissing, match="voice"):
        find_speaker(tmp_path, mode="files")


def test_print_can_be_asked_for(tmp_path: Path) -> None:
    assert isinstance(find_speaker(tmp_path, mode="print"), PrintedSpeaker)


@pytest.mark.usefixtures("real")
def test_a_folder_that_cannot_be_made_leaves_print(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(DeviceMissing, match="can't be written"):
        find_speaker(tmp_path / "file" / "spoken", mode="files")

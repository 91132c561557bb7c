"""What every speaker must do: with a real engine and files, with print alone, and the fakes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.devices.speaker import FolderPlayer, PrintedSpeaker, QueuedSpeaker, SilentSpeaker
from assistant.errors import DeviceMissing
from assistant.ports import Speaker
from assistant.spoken import Sentence, Urgency
from tests.devices.voices import ScriptedPlayer, ScriptedVoice, engine


@dataclass
class Tried:
    """A speaker and what it has said so far."""

    speaker: Speaker
    said: Callable[[], list[str]]


def silent(_: Path) -> Tried:
    speaker = SilentSpeaker()
    return Tried(speaker, lambda: speaker.texts)


def printed(_: Path) -> Tried:
    lines: list[str] = []
    return Tried(PrintedSpeaker(lines.append), lambda: [line[6:] for line in lines])


def queued(_: Path) -> Tried:
    player = ScriptedPlayer()
    return Tried(QueuedSpeaker(ScriptedVoice(), player), lambda: player.played)


def files(folder: Path) -> Tried:
    lines: list[str] = []
    try:
        voice = engine()
    except DeviceMissing as missing:
        pytest.skip(str(missing))
    speaker = QueuedSpeaker(voice, FolderPlayer(folder / "spoken", lines.append))
    return Tried(speaker, lambda: [re.sub(r"^says: | *\[.*\]$", "", line) for line in lines])


@pytest.fixture(params=[silent, printed, queued, files], ids=lambda make: make.__name__)
def tried(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Tried]:
    made = request.param(tmp_path)
    yield made
    made.speaker.close()


def test_sentences_are_said_in_their_order(tried: Tried) -> None:
    tried.speaker.say([Sentence("Zero the saddle."), Sentence("Lock it.")])
    tried.speaker.say([Sentence("Knee up three.")])
    assert tried.speaker.wait(20)
    assert tried.said() == ["Zero the saddle.", "Lock it.", "Knee up three."]
    assert not tried.speaker.speaking


def test_what_has_no_words_is_left_out(tried: Tried) -> None:
    tried.speaker.say([Sentence(""), Sentence("  \n")])
    tried.speaker.say([])
    assert tried.speaker.wait(20)
    assert tried.said() == []
    assert not tried.speaker.speaking


def test_odd_text_is_said_like_any_other(tried: Tried) -> None:
    odd = ['"140½" – <b>&amp;</b> \\ 🙂 \x07', "...", "a" * 300]
    tried.speaker.say([Sentence(text) for text in odd])
    assert tried.speaker.wait(30)
    assert len(tried.said()) == 3


def test_it_can_be_hushed_adjusted_and_closed_at_any_time(tried: Tried) -> None:
    tried.speaker.hush()
    tried.speaker.adjust(rate=120, volume=0.4)
    tried.speaker.adjust()
    tried.speaker.say([Sentence("Lock it.", urgency) for urgency in Urgency])
    tried.speaker.hush()
    assert tried.speaker.wait(20)
    tried.speaker.close()
    tried.speaker.close()
    tried.speaker.hush()


def test_it_says_what_it_is(tried: Tried) -> None:
    assert tried.speaker.name
    assert tried.speaker.trouble == ""  # type: ignore[attr-defined]
    assert tried.speaker.notices == ()  # type: ignore[attr-defined]

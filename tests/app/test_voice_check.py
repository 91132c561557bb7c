"""`wheelcall check --voice`: both voices heard, one of them kept."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from assistant.app.cli.checking import _voice
from assistant.app.cli.voice_check import check_voices
from assistant.app.settings import Settings, load_settings
from assistant.devices.speaker import PrintedSpeaker


class Heard:
    """What was played."""

    def __init__(self) -> None:
        self.voices: list[str] = []

    def __call__(self, voice: str, settings: Settings) -> None:
        self.voices.append(voice)


@pytest.fixture
def heard() -> Heard:
    return Heard()


def asked(
    monkeypatch: pytest.MonkeyPatch, typed: str, heard: Heard, path: Path, **more: bool
) -> int:
    monkeypatch.setattr("sys.stdin", io.StringIO(typed))
    return check_voices(
        dry_run=more.get("dry_run", False), settings=path, say=heard, order=["system", "clear"]
    )


@pytest.fixture
def settings(tmp_path: Path) -> Path:
    path = tmp_path / "settings.toml"
    path.write_text('voice = "clear"  # as it came\nrate = 170\n', encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("typed", "kept"), [("1\n", "system"), ("2\n", "clear"), ("One\n", "system")]
)
def test_the_choice_is_kept(
    monkeypatch: pytest.MonkeyPatch, heard: Heard, settings: Path, typed: str, kept: str
) -> None:
    assert asked(monkeypatch, typed, heard, settings) == 0
    assert heard.voices == ["system", "clear"]
    found = load_settings(settings)
    assert found.voice == kept
    assert found.rate == 170


def test_it_is_played_again_where_the_answer_is_none(
    monkeypatch: pytest.MonkeyPatch, heard: Heard, settings: Path
) -> None:
    assert asked(monkeypatch, "again\nwhat?\n2\n", heard, settings) == 0
    assert len(heard.voices) == 6


def test_nobody_answers(
    monkeypatch: pytest.MonkeyPatch,
    heard: Heard,
    settings: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = settings.read_text(encoding="utf-8")
    assert asked(monkeypatch, "", heard, settings) != 0
    assert settings.read_text(encoding="utf-8") == before
    assert "Nothing is kept" in capsys.readouterr().err


def test_a_dry_run_keeps_nothing(
    monkeypatch: pytest.MonkeyPatch,
    heard: Heard,
    settings: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert asked(monkeypatch, "1\n", heard, settings, dry_run=True) == 0
    assert load_settings(settings).voice == "clear"
    assert "system voice" in capsys.readouterr().out


def test_a_check_tries_the_loudspeaker_and_the_voice_that_are_set(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: dict[str, object] = {}

    def find(_folder: Path, **how: object) -> PrintedSpeaker:
        asked.update(how)
        return PrintedSpeaker(lambda _line: None)

    monkeypatch.setattr("assistant.app.wiring.find_speaker", find)
    _voice(Settings(speaker="shelf", voice="system", rate=150, volume=0.5, shaping=1.2))
    how = {name: asked[name] for name in ("card", "voice", "rate", "volume", "shape")}
    assert how == {"card": "shelf", "voice": "system", "rate": 150, "volume": 0.5, "shape": 1.2}

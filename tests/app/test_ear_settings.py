"""Which ears, which way to listen: by the settings, and by the command line above them."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest

from assistant.app.listening import Mode
from assistant.app.settings import Settings, load_settings, with_options
from assistant.app.wiring import (
    choose_ear,
    ear_notices,
    every_ear,
    listening_of,
    vosk_models,
    with_second,
)
from assistant.devices.ear import ScriptedEar
from assistant.errors import BadFile, BadInput
from assistant.phrases.book import load_book

ROOT = Path(__file__).resolve().parents[2]
MODEL = ROOT / "voice_models" / "wheelcall-en-small"
BOOK = load_book()


def settings(folder: Path, *lines: str) -> Settings:
    path = folder / "settings.toml"
    path.write_text("\n".join(lines) + "\n")
    return load_settings(path)


def test_the_project_s_own_file_says_what_is_usual() -> None:
    own = load_settings(ROOT / "configs" / "settings.toml")
    usual = Settings()
    for key in ("ear", "second_opinion", "own_voice", "listening", "attention", "pedal", "headset"):
        assert getattr(own, key) == getattr(usual, key), key


def test_what_can_be_set(tmp_path: Path) -> None:
    chosen = settings(
        tmp_path, 'listening = "called"', 'attention = "clipboard"', "second_opinion = false",
        "own_voice = false", 'pedal = "page down"',
    )  # fmt: skip
    assert chosen.listening is Mode.CALLED
    assert (chosen.attention, chosen.pedal) == ("clipboard", "page down")
    assert not chosen.second_opinion
    assert not chosen.own_voice


@pytest.mark.parametrize(
    ("line", "want"),
    [
        ('listening = "sometimes"', '"open" or "called" or "pedal"'),
        ('pedal = "escape"', "f2 to f10"),
        ("second_opinion = 1", "true or false"),
        ('listening = "called"', "wanted a word"),
        ("attention = 3", "wanted a word"),
    ],
)
def test_what_cannot(tmp_path: Path, line: str, want: str) -> None:
    with pytest.raises(BadFile, match=r"settings\.toml") as raised:
        settings(tmp_path, line)
    assert want in str(raised.value)
    assert line.split()[0] in str(raised.value) or "attention" in str(raised.value)


def test_the_command_line_comes_first() -> None:
    usual = Settings(listening=Mode.PEDAL, pedal="b")
    assert with_options(usual).listening is Mode.PEDAL
    assert with_options(usual, listening="open").listening is Mode.OPEN
    called = with_options(usual, attention="teapot")
    assert (called.listening, called.attention) == (Mode.CALLED, "teapot")
    pressed = with_options(Settings(), pedal="space")
    assert (pressed.listening, pressed.pedal) == (Mode.PEDAL, "space")
    with pytest.raises(BadInput, match="--attention"):
        with_options(usual, listening="called")
    with pytest.raises(BadInput, match="--listening"):
        with_options(usual, listening="always")
    with pytest.raises(BadInput, match="--pedal"):
        with_options(usual, pedal="f11")


def test_a_word_that_would_be_mistaken_is_refused_at_the_start() -> None:
    with pytest.raises(BadInput, match="said in commands"):
        listening_of(Settings(listening=Mode.CALLED, attention="measured"), BOOK)
    assert listening_of(Settings(attention="measured"), BOOK).mode is Mode.OPEN
    way = listening_of(Settings(listening=Mode.CALLED, attention="Coffee Cup"), BOOK)
    assert way.attention == "coffee cup"


def test_a_word_that_the_model_does_not_know_is_refused_for_it_and_stood_in_for_beside_it() -> None:
    called = Settings(listening=Mode.CALLED, attention="clipboard", model=MODEL)
    with pytest.raises(BadInput, match="wheelcall-en-small doesn't know it"):
        listening_of(replace(called, ear="vosk"), BOOK)
    make, _ = with_second(called, partial(ScriptedEar, []), "clipboard")
    assert isinstance(make, partial)
    assert make.keywords["strange"] == ("clipboard", "[unk]")
    make, _ = with_second(called, partial(ScriptedEar, []))
    assert isinstance(make, partial)
    assert make.keywords["strange"] is None


def test_the_ear_that_listens_is_checked_by_the_other() -> None:
    first = partial(ScriptedEar, [])
    make, line = with_second(Settings(), first)
    assert make is not first
    assert "Vosk, model" in line
    make, line = with_second(Settings(ear="vosk"), first)
    assert isinstance(make, partial)
    assert make.keywords["better"] is True
    assert "built-in" in line
    make, line = with_second(Settings(second_opinion=False), first)
    assert make is first
    assert "one ear alone" in line


def test_the_model_named_in_the_settings_comes_first_and_once(tmp_path: Path) -> None:
    shutil.copytree(MODEL, tmp_path / "mine")
    assert vosk_models(Settings(model=tmp_path / "mine"))[0].path == tmp_path / "mine"
    named = vosk_models(Settings(model=MODEL))
    assert [model.path.resolve() for model in named].count(MODEL.resolve()) == 1
    assert [name for name, _, _ in every_ear(Settings())][:2] == ["moonshine", "vosk"]
    assert "It knows your voice" not in choose_ear(Settings(own_voice=False))[1]


def test_a_model_that_is_none_and_one_that_is_loosely_held_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("assistant.app.wiring.model_folders", lambda: (tmp_path / "models",))
    broken = tmp_path / "models" / "half-fetched" / "am"
    broken.mkdir(parents=True)
    (line,) = ear_notices(Settings())
    assert "half-fetched" in line
    assert "final.mdl" in line
    loose = tmp_path / "loose"
    shutil.copytree(MODEL, loose, ignore=shutil.ignore_patterns("SHA256SUMS"))
    # without words.txt it can only be told which words may follow which
    (loose / "graph" / "words.txt").unlink()
    lines = ear_notices(Settings(ear="vosk", model=loose))
    assert any("only told which words" in line for line in lines)


def check(folder: Path, *lines: str) -> dict[str, dict[str, object]]:
    path = folder / "settings.toml"
    path.write_text("\n".join(lines) + "\n")
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "check", "--json", "--seconds", "0.2",
         "--settings", str(path), "--journal", str(folder / "journal.sqlite")],
        capture_output=True, text=True, cwd=ROOT, timeout=180, check=False,
        env=dict(os.environ, XDG_DATA_HOME=str(folder), SDL_VIDEODRIVER="dummy"),
    )  # fmt: skip
    assert done.stdout, done.stderr
    return {one["device"]: one for one in json.loads(done.stdout)}


def test_check_tries_the_second_ear_and_the_way_to_listen(tmp_path: Path) -> None:
    found = check(tmp_path, 'listening = "called"', 'attention = "clipboard"')
    assert found["second ear"]["ok"] is True
    assert "Vosk" in str(found["second ear"]["found"])
    assert found["listening"]["ok"] is True
    assert "clipboard" in str(found["listening"]["found"])
    assert "none is known" in str(found["own voice"]["found"])


def test_check_refuses_a_word_that_would_be_mistaken(tmp_path: Path) -> None:
    found = check(
        tmp_path, 'listening = "called"', 'attention = "pepper"', "second_opinion = false"
    )
    assert found["listening"]["ok"] is False
    assert "paper" in str(found["listening"]["found"])
    assert "another word" in str(found["listening"]["advice"])
    assert "second_opinion = false" in str(found["second ear"]["found"])


def test_hear_tells_what_the_second_ear_heard() -> None:
    clip = ROOT / "assistant" / "demo" / "keyseat-inch" / "checked.flac"
    done = subprocess.run(
        [sys.executable, "-m", "assistant", "hear", "--second", "--json", "--job", "keyseat-inch",
         str(clip)],
        capture_output=True, text=True, cwd=ROOT, timeout=180, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert told["words"] == told["second"] == "checked"
    assert (told["engine"], told["second_engine"]) == ("moonshine", "vosk")
    assert told["verdict"] == "accepted"

"""The operator's own voice: what is learned, where it is kept, that it helps and does no harm."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

import pytest

from assistant.app.learn_voice import _lean, candidates, learn
from assistant.app.own_voice import OwnVoice, delete_voice, load_voice, save_voice
from assistant.app.prompts import Take, from_files
from assistant.app.settings import Settings
from assistant.app.wiring import ear_notices, own_tuning
from assistant.devices.ear import hear
from assistant.devices.moonshine import MoonshineEar, Tuning
from assistant.errors import BadFile
from assistant.phrases.book import load_book
from assistant.ports import Samples
from assistant.spoken import Heard, WordAutomaton
from tests.automata import automaton_of

ROOT = Path(__file__).resolve().parents[2]
CLIPS = ROOT / "assistant" / "demo" / "keyseat-inch"
NOW = datetime(2026, 1, 5, 9, 0, tzinfo=UTC)
BOOK = load_book()
VOICE = OwnVoice(NOW, 20, 15, 18, 0.4, {"wall": ("while",), "i'm set": ("him sad", "I'm sent")})


class TestTheFile:
    def test_what_is_kept_comes_back(self, tmp_path: Path) -> None:
        path = tmp_path / "data" / "voice.json"
        assert load_voice(path) is None
        assert save_voice(VOICE, path) == path
        assert load_voice(path) == VOICE
        assert path.stat().st_size < 2000, "one small file, and no sound"
        assert delete_voice(path)
        assert not delete_voice(path)
        assert load_voice(path) is None

    @pytest.mark.parametrize(
        "damage",
        [
            "no json",
            "[]",
            '{"version": 2}',
            {"lean": 3},
            {"lean": True},
            {"sounds": {"wall": []}},
            {"sounds": {"wall": ["x" * 99]}},
            {"sounds": ["wall"]},
            {"made": "yesterday"},
            {"phrases": None},
        ],
    )
    def test_a_damaged_file_is_named_and_the_ear_goes_on_without_it(
        self, tmp_path: Path, damage: object, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("assistant.app.own_voice.data_folder", lambda: tmp_path)
        path = save_voice(VOICE)
        if isinstance(damage, dict):
            path.write_text(json.dumps(json.loads(path.read_text()) | damage))
        else:
            path.write_text(str(damage))
        with pytest.raises(BadFile, match=r"voice\.json"):
            load_voice()
        assert own_tuning(Settings()) is None
        assert any("--delete" in line for line in ear_notices(Settings()))

    def test_it_is_used_unless_the_settings_say_no(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("assistant.app.own_voice.data_folder", lambda: tmp_path)
        assert own_tuning(Settings()) is None
        save_voice(VOICE)
        assert own_tuning(Settings()) == Tuning(VOICE.sounds, VOICE.lean)
        assert own_tuning(Settings(own_voice=False)) is None


class TestTuning:
    def test_it_moves_the_floor(self) -> None:
        assert Tuning(lean=0).floor == 0.5
        assert Tuning(lean=0.7).floor < 0.5 < Tuning(lean=-0.5).floor
        tuning = Tuning(lean=0.5)
        assert tuning.weigh("touched", tuning.floor) == pytest.approx(0.5)
        assert Tuning().weigh("touched", 0.3) == 0.3
        assert tuning.weigh("", 0.0) == 0.0

    def test_a_number_is_never_believed_more_easily(self) -> None:
        assert Tuning(lean=0.5).weigh("measured one point five", 0.5) == 0.5
        assert Tuning(lean=-0.5).weigh("measured one point five", 0.5) < 0.5

    def test_a_spelling_reaches_the_real_ear(self) -> None:
        """What is written for "touched" counts for another word once that is spelled so."""
        grammar = automaton_of("clipboard", "why")
        (take,) = from_files(CLIPS, ["touched"])
        plain = MoonshineEar()
        without = hear(plain, take.sound, grammar)
        free = hear(plain, take.sound, automaton_of("touched")).free.strip(" .").lower()
        plain.close()
        ear = MoonshineEar(tuning=Tuning({"clipboard": (free,)}))
        with_it = hear(ear, take.sound, grammar)
        ear.close()
        assert without.words != "clipboard" or without.confidence < 0.3
        assert with_it.words == "clipboard"
        assert with_it.confidence > without.confidence


KNOWN = frozenset(["measured", "one", "two", "touched", "set", "wall", "front", "i'm", "five"])


@pytest.mark.parametrize(
    ("phrase", "free", "found"),
    [
        ("front wall five", "Front while five.", [("wall", "while")]),
        ("i'm set", "Him sad.", [("i'm set", "him sad")]),
        ("touched", "Touched.", []),
        ("front wall", "Front five.", []),  # another word of the book
        ("touched", "2.", []),  # a number
        ("touched", "Worse.", []),  # nothing like it
        ("touched", "To", []),  # too short to mean anything
        ("touched", "I never said anything like it", []),
        ("touched", "", []),
    ],
)
def test_what_may_be_a_spelling(phrase: str, free: str, found: list[tuple[str, str]]) -> None:
    assert list(candidates(phrase, free, KNOWN)) == found


class FakeEar:
    """Hears by what the tuning spells: `touched` is only heard where it is spelled `tuft`."""

    name = "fake"

    def __init__(self, tuning: Tuning, harm: bool = False) -> None:
        self._spelled = "tuft" in tuning.sounds.get("touched", ())
        self._harm = harm
        self._sound: list[Samples] = []
        self._grammar: WordAutomaton | None = None

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        return ()

    def begin(self, grammar: WordAutomaton) -> None:
        self._grammar, self._sound = grammar, []

    def feed(self, samples: Samples) -> str:
        self._sound.append(samples)
        return ""

    def finish(self) -> Heard:
        assert self._grammar is not None
        if not self._grammar.accepts(["touched"]):
            return Heard("", 0.05)
        if self._spelled:
            return Heard("touched", 0.3 if self._harm else 0.8, free="Tuft.")
        return Heard("touched", 0.35, free="Tuft.")

    def close(self) -> None:
        pass


def test_a_spelling_that_helps_is_kept_and_one_that_harms_is_not() -> None:
    (take,) = from_files(CLIPS, ["touched"])
    learned = learn(BOOK, [take], NOW, FakeEar)
    assert learned.voice.sounds == {"touched": ("tuft",)}
    assert (learned.voice.right_before, learned.voice.right_after) == (0, 1)
    harmed = learn(BOOK, [take], NOW, lambda tuning: FakeEar(tuning, harm=True))
    assert harmed.voice.sounds == {}
    assert harmed.voice.lean > 0, "an unsure voice is believed more easily, within bounds"


@pytest.mark.parametrize(
    ("right", "impostors", "lean"),
    [
        ([0.99] * 10, [0.1], 0.0),  # nothing needs doing
        ([0.5] * 10, [0.1], 0.619),  # as far as nine in ten need it: ln(0.65 / 0.35)
        ([0.2] * 10, [0.1], 0.7),  # and no further than is good
        ([0.5] * 10, [0.38], 0.084),  # what wasn't said must not pass: ln(0.4/0.6) - ln(0.38/0.62)
        ([0.99] * 10, [0.45], -0.205),  # nor be let pass as before
        ([0.99] * 10, [0.9], -0.3),
        ([], [], 0.0),
    ],
)
def test_how_far_the_floor_moves(right: list[float], impostors: list[float], lean: float) -> None:
    assert _lean(right, impostors) == pytest.approx(lean, abs=0.001)


def test_the_real_ear_learns_from_recordings_and_is_no_worse() -> None:
    takes: list[Take] = from_files(CLIPS, ["touched", "i'm set", "why", "measured one point five"])
    learned = learn(BOOK, takes, NOW)
    assert learned.voice.phrases == 4
    assert learned.voice.right_after >= learned.voice.right_before
    assert -0.3 <= learned.voice.lean <= 0.7


def test_the_command_shows_and_forgets(tmp_path: Path) -> None:
    def run(*arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-m", "assistant", "learn", *arguments],
            capture_output=True, text=True, cwd=ROOT, timeout=120, check=False,
            env=dict(os.environ, XDG_DATA_HOME=str(tmp_path)),
        )  # fmt: skip

    assert run("--show").returncode == 1
    save_voice(VOICE, tmp_path / "wheelcall" / "voice.json")
    shown = run("--show")
    assert shown.returncode == 0
    assert "wall: while" in shown.stdout
    assert json.loads(run("--show", "--json").stdout)["floor"] == 0.401
    assert run("--delete").returncode == 0
    assert run("--delete").returncode == 1
    assert run("--show").returncode == 1

"""scripts/recording: phrase lists, how words are written for each voice, and the clips."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.demo import clip_name, clip_path
from assistant.errors import BadFile, DeviceMissing
from recording.clips import AFTER, BEFORE, LEVEL, PEAK, RATE, is_made, levelled, record, trimmed
from recording.errors import VoiceMissing
from recording.lists import PhraseList
from recording.voices import VOICES
from recording.words import for_flite, for_hibari, for_piper, sentence


@pytest.mark.parametrize(
    ("phrase", "written"),
    [
        ("touched", "Touched."),
        ("i'm set", "I'm set."),
        ("where did i touch", "Where did I touch?"),
        ("how much left", "How much left?"),
    ],
)
def test_a_phrase_is_written_as_a_sentence(phrase: str, written: str) -> None:
    assert sentence(phrase) == written


def test_thou_is_said_as_in_the_shop() -> None:
    phrase = "cut forty thou this pass"
    assert for_flite(phrase) == "Cut forty thow this pass."
    assert for_hibari(phrase) == "Cut forty [thou](/θˈW/) this pass."
    assert for_piper(phrase) == "Cut forty [[ ˈθaʊ ]] this pass."
    assert "thousand" in for_flite("one thousand")


@pytest.mark.parametrize(
    ("words", "name"),
    [("touched", "touched.flac"), ("I'm set", "im_set.flac"), ("three  thou", "three_thou.flac")],
)
def test_a_clip_is_named_after_its_words(words: str, name: str) -> None:
    assert clip_name(words) == name


def test_a_missing_clip_is_named() -> None:
    with pytest.raises(DeviceMissing, match="recording of 'open sesame' for keyseat"):
        clip_path("keyseat", "open sesame")


def listed(folder: Path, text: str) -> PhraseList:
    path = folder / "inch.toml"
    path.write_text(text, encoding="utf-8")
    return PhraseList.read(path)


def test_a_list_is_read(tmp_path: Path) -> None:
    found = listed(tmp_path, 'voice = "slt"\npace = 0.9\nphrases = ["touched", "i\'m set"]')
    assert found == PhraseList("inch", "slt", 0.9, 1, ("touched", "i'm set"))


def test_the_lines_of_a_demo_operator_are_recorded_once(tmp_path: Path) -> None:
    text = """
        job = "keyseat"
        phrases = ["yes", "no"]
        [[line]]
        say = "touched"
        until = "Paper"
        [[line]]
        say = "three thou"
        [[line]]
        say = "touched"
    """
    assert listed(tmp_path, text).phrases == ("yes", "no", "touched", "three thou")


@pytest.mark.parametrize(
    ("text", "key", "want"),
    [
        ('voice = "nobody"\nphrases = ["yes"]', "voice", "must be one of rms"),
        ('phrases = ["Yes"]', "phrases.0", "lower case words"),
        ('phrases = ["cut 40"]', "phrases.0", "numbers in words"),
        ("phrases = []", "phrases", "must hold what is to be said"),
        ('[[line]]\nsay = "Yes"', "line.0.say", "lower case words"),
        ('[[line]]\nuntil = "x"', "line.0.say", "required"),
        ('phrases = ["yes"]\npace = 9', "pace", "less than or equal to 2"),
        ('phrases = ["yes"]\nspeed = 1', "speed", "not permitted"),
        ('phrases = ["its even", "it\'s even"]', "phrases", "overwrite the clip of 'its even'"),
        ("phrases = [", "file", "must be TOML"),
    ],
)
def test_a_bad_list_names_file_key_and_cure(tmp_path: Path, text: str, key: str, want: str) -> None:
    with pytest.raises(BadFile, match=r"inch\.toml") as caught:
        listed(tmp_path, text)
    assert caught.value.key == key
    assert want in caught.value.want


def test_every_list_of_the_demos_is_right_and_recorded(root: Path) -> None:
    for script in sorted((root / "configs" / "demo").glob("*.toml")):
        phrases = PhraseList.read(script)
        for phrase in phrases.phrases:
            path = clip_path(phrases.name, phrase)
            assert is_made(VOICES[phrases.voice], path, pace=phrases.pace, seed=phrases.seed)
            clip = soundfile.info(path)
            assert (clip.samplerate, clip.channels, clip.subtype) == (RATE, 1, "PCM_16")


def test_silence_is_cut_to_size() -> None:
    speech = np.full(RATE, 0.2, dtype=np.float32)
    silence = np.zeros(RATE, dtype=np.float32)
    clip = trimmed(np.concatenate([silence, speech, silence]))
    assert len(clip) == RATE + round((BEFORE + AFTER) * RATE)
    assert clip[: round(BEFORE * RATE)].max() == 0
    with pytest.raises(ValueError, match="nothing was said"):
        trimmed(silence)


def test_speech_is_levelled_without_its_pauses() -> None:
    speech = 0.02 * np.sin(np.arange(RATE, dtype=np.float32))
    silence = np.zeros(RATE, dtype=np.float32)
    out = levelled(np.concatenate([speech, silence]))[:RATE]
    assert np.sqrt(np.mean(out**2)) == pytest.approx(LEVEL, rel=0.01)
    click = speech.copy()
    click[100] = 1.0
    assert np.abs(levelled(click)).max() == pytest.approx(PEAK, abs=0.01)


def test_the_same_phrase_gives_the_same_clip(tmp_path: Path) -> None:
    if not shutil.which("flite"):
        pytest.skip("flite is not installed; scripts/test installs it")
    said = []
    for name in ("one.flac", "two.flac"):
        seconds = record(VOICES["slt"], "three thou", tmp_path / name, pace=1, seed=1)
        samples, rate = soundfile.read(tmp_path / name)
        assert (rate, len(samples)) == (RATE, round(seconds * RATE))
        said.append(samples)
    assert np.array_equal(*said)
    slower = record(VOICES["slt"], "three thou", tmp_path / "slow.flac", pace=0.8, seed=1)
    assert slower > seconds * 1.1


def test_a_clip_is_kept_while_voice_and_manner_are_the_same(tmp_path: Path) -> None:
    if not shutil.which("flite"):
        pytest.skip("flite is not installed; scripts/test installs it")
    clip = tmp_path / "yes.flac"
    assert not is_made(VOICES["slt"], clip, pace=1, seed=1)
    record(VOICES["slt"], "yes", clip, pace=1, seed=1)
    assert is_made(VOICES["slt"], clip, pace=1.0, seed=1)
    assert not is_made(VOICES["rms"], clip, pace=1, seed=1)
    assert not is_made(VOICES["slt"], clip, pace=0.9, seed=1)
    assert b"Carnegie Mellon" in clip.read_bytes()[:2000]
    assert b"yes" not in clip.read_bytes()


def test_a_voice_that_is_not_there_says_what_it_needs(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("PATH", "")
    with pytest.raises(VoiceMissing, match="Debian package flite"):
        record(VOICES["rms"], "yes", tmp_path / "x.flac", pace=1, seed=1)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("american", "southern"),
    [
        ("fˈɔɹTi fˈɔɹ", "fˈɔːti fˈɔː"),
        ("wˌɛɹ ɑɹ wi?", "wˌɛːɹ ɑː wi?"),  # r is said where the next word begins with a vowel
        ("zˈɪɹO", "zˈɪəɹQ"),
        ("hˈæf ænd stˈɑp", "hˈɑːf and stˈɒp"),
        ("θˌɜɹtˈin", "θˌɜːtˈiːn"),
    ],
)
def test_british_sounds_follow_from_american_ones(american: str, southern: str) -> None:
    from recording.british import british

    assert british(american) == southern

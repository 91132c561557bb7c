"""The bench of the voice: its sentences, its places, and what counts as heard right."""

from __future__ import annotations

import numpy as np
import pytest
from voicebench.figures import figures, right
from voicebench.places import Place, pink
from voicebench.sentences import LOOK_ALIKES, sizes, spoken

from assistant.audio.levels import active_speech_level, measure
from assistant.phrases.book import load_book
from assistant.phrases.matcher import match
from assistant.present.by_figures import NUMBER
from assistant.spoken import Expected, Heard, Reason, Slot, SlotKind, Understood


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("Saddle in, four turns and one forty and a half.", "Saddle in 4 turns and 140.5"),
        ("Saddle in, four turns and one forty and a half.", "saddle in, four turns and 140 1/2."),
        ("Stop at one point oh six.", "Stop at 1.06."),
        ("Spindle speed, one eighty revs.", "Spindle speed 180 revs"),
        ("Spindle speed, twelve hundred revs.", "Spindle speed, 1,200 revs."),
        ("Spindle speed, twenty-three hundred revs.", "Spindle speed 2,300 revs."),
        ("Knee up two.", "Knee up to."),
        ("Three hundred and five deep.", "305 deep."),
        ("The width, point five millimetres.", "The width, 0.5 millimeters"),
    ],
)
def test_ways_to_write_the_same_number(said: str, heard: str) -> None:
    assert right(said, heard)


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("Knee up fifteen.", "Knee up 50."),
        ("Knee up fifteen.", "Knee up."),
        ("Stop at one point oh six.", "Stop at 1.6."),
        ("Saddle in, four turns and one forty.", "Saddle in for turns and 114."),
        ("One six six two.", "One six six two three."),
    ],
)
def test_another_number_is_wrong(said: str, heard: str) -> None:
    assert not right(said, heard)


def test_sentences_are_seeded_and_each_has_a_number() -> None:
    assert spoken(60) == spoken(60)
    assert spoken(60, seed=2) != spoken(60)
    for text in spoken(200):
        assert NUMBER.search(text)
        assert figures(text, heard=False) != {""}
        assert right(text, text)
    words = " ".join(spoken(400))
    assert all(f" {word}." in words for pair in LOOK_ALIKES for word in pair)


def test_sizes_are_phrases_of_the_book() -> None:
    expected = [Expected("measured", (Slot("size", SlotKind.LENGTH, "inch"),))]
    book = load_book()
    for words in sizes(60):
        said = match(book, expected, Heard(words, engine="test"))
        # some are asked back: two seventy-six may be an inch size of either kind
        assert isinstance(said, Understood) or said.reason is Reason.AMBIGUOUS, words


def test_noise_is_as_loud_as_it_is_called() -> None:
    rng = np.random.default_rng(1)
    speech = (0.05 * rng.standard_normal(32_000)).astype(np.float32)
    level, _ = active_speech_level(speech)
    noisy = Place("pink", 5).around(speech, noises=None, number=3)  # type: ignore[arg-type]
    noise = noisy - speech
    assert level - measure(noise).rms_db == pytest.approx(5, abs=0.2)
    assert Place().around(speech, None, 0) is speech  # type: ignore[arg-type]


def test_pink_noise_has_as_much_in_every_octave() -> None:
    power = np.abs(np.fft.rfft(pink())) ** 2
    hertz = np.fft.rfftfreq(pink().size, 1 / 16_000)
    octaves = [power[(hertz >= low) & (hertz < 2 * low)].sum() for low in (250, 500, 1000, 2000)]
    assert max(octaves) / min(octaves) < 1.3

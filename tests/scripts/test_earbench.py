"""The bench of the ear measures what it says: levels, intervals, counts."""

from __future__ import annotations

from dataclasses import asdict
from itertools import islice

import numpy as np
import pytest
from earbench.corpora import book, numbers_in_a_row, whole_book
from earbench.measure import Hit
from earbench.mixing import mixed
from earbench.rooms import reverberant
from earbench.score import FLOOR, Count, right, wilson
from earbench.sentences import book_phrases, number_sentences, talk_sentences
from earbench.stretches import machines
from earbench.table import weighed_anew

from assistant.audio.levels import active_speech_level, measure
from assistant.phrases.matcher import match
from assistant.ports import RATE, Samples
from assistant.spoken import Heard, Understood


def bursts() -> Samples:
    """Two seconds of a loud tone, in halves with as much silence between."""
    time = np.arange(RATE) / RATE
    tone = (0.1 * np.sin(2 * np.pi * 300 * time)).astype(np.float32)
    return np.concatenate([tone, np.zeros(RATE * 2, np.float32), tone])


@pytest.mark.parametrize("snr", [20.0, 5.0, 0.0])
def test_the_ratio_is_by_the_speech_while_it_is_spoken(snr: float) -> None:
    speech = bursts()
    noise = np.random.default_rng(1).normal(0, 0.03, RATE * 10).astype(np.float32)
    both = mixed(speech, noise, snr, seed=7)
    pause = both[RATE + 8000 : 2 * RATE + 8000]  # the noise alone
    level, _ = active_speech_level(speech)
    assert level - measure(pause).rms_db == pytest.approx(snr, abs=0.3)


def test_a_mixture_is_drawn_by_its_seed_and_never_clips() -> None:
    noise = np.random.default_rng(1).normal(0, 0.3, RATE * 10).astype(np.float32)
    one, same, other = (mixed(bursts(), noise, -10, seed) for seed in (1, 1, 2))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)
    assert np.abs(one).max() <= 0.99


def test_intervals_are_wilsons() -> None:
    # Newcombe 1998, table I, method 3 (from memory): 81 of 263, and 0 of 20
    assert wilson(81, 263) == pytest.approx((0.2553, 0.3662), abs=1e-4)
    assert wilson(0, 20) == pytest.approx((0.0, 0.1611), abs=1e-4)
    assert wilson(0, 0) == (0.0, 1.0)


@pytest.mark.parametrize(
    ("heard", "said", "is_right"),
    [
        ("measure six two five", "measured six twenty five", True),
        ("i am set", "i'm set", True),
        ("measured six fifteen", "measured six fifty", False),
        ("two under", "two over", False),
        ("", "touched", False),
    ],
)
def test_right_is_the_same_meaning(heard: str, said: str, is_right: bool) -> None:
    assert right(heard, said) is is_right


def test_an_utterance_is_taken_asked_back_refused_or_wrong() -> None:
    count = Count()
    fates = [
        count.add(Heard("touched", 0.9), "touched"),
        count.add(Heard("touched", 0.3), "touched"),
        count.add(Heard("touched", 0.1), "touched"),
        count.add(Heard("yes", 0.9), "touched"),
        count.add(Heard("yes", 0.3), "touched"),
        count.add(Heard("measured six fifty", 0.9), "measured six fifteen"),
        count.add(Heard("yes", 0.9), ""),
        count.add(Heard("", 0.0), ""),
    ]
    assert fates == [
        "taken", "asked", "refused", "wrong", "asked", "wrong", "wrong", "refused"
    ]  # fmt: skip
    assert (count.of, count.right, count.taken) == (8, 3, 1)
    assert (count.asked, count.asked_right, count.refused) == (2, 1, 2)
    assert (count.wrong, count.wrong_number) == (3, 1)


def test_what_was_heard_can_be_weighed_anew() -> None:
    evidence = {"words": "touched", "free": ["Touched.", "Touched."], "lead": 6.0,
                "shortfalls": [-1.0, -1.0], "seconds": 0.8, "clarity": 20.0}  # fmt: skip
    look = {"evidence": evidence, "others": [["yes", 6.0]]}
    sure = Hit("touched", "somebody", "touched", 0.4, "Touched.", look).weighed()
    assert sure.confidence > FLOOR
    cut = Hit("touched", "somebody", "touched", 0.2, "Touched.", look, cut=True).weighed()
    assert cut.confidence == 0.2
    other = Hit("touched", "somebody", "touched", 0.4, "")
    assert other.weighed() == other
    report = {"moonshine": {"talk": {"hits": [asdict(Hit("", "", "yes", 0.9, ""))]}}}
    assert weighed_anew(report)["moonshine"]["talk"]["taken"] == 1


def test_numbers_in_a_row() -> None:
    grammar = numbers_in_a_row("one two", 3, "yes")
    assert grammar.sentence_count == 2 + 4 + 8 + 1
    assert not grammar.accepts(["yes", "one"])


def test_sentences_are_drawn_by_their_seed_and_are_the_books() -> None:
    said = number_sentences(50, 1, whole_book())
    assert said == number_sentences(50, 1, whole_book())
    assert len(set(said)) == 50
    assert all(whole_book().accepts(each.split()) for each in said)
    assert not {*talk_sentences(400, 1, True)} & {*talk_sentences(400, 1, False)}
    assert "{" not in "".join(talk_sentences(400, 1, True))


def test_every_intent_that_can_be_heard_is_among_the_phrases() -> None:
    said = book_phrases(book(), whole_book())
    heard = [match(book(), book().expected(), Heard(each, 1.0)) for each in said]
    meant = [each.intent if isinstance(each, Understood) else each.candidate for each in heard]
    # a note is typed; a bare number stands for the number of a step
    assert {*book().intents} - {each.name for each in meant if each} <= {"note", "number"}


def test_machines_never_sound_the_same_twice() -> None:
    one, two, *_ = islice(machines(), 8)
    assert one.size == two.size == 30 * RATE
    assert not np.array_equal(one, two)
    assert np.array_equal(one, next(machines()))


def test_a_room_goes_on_sounding_and_keeps_the_level() -> None:
    pytest.importorskip("pyroomacoustics", reason="the extra `bench` is not installed")
    click = np.zeros(RATE, np.float32)
    click[100] = 1
    near, far = (reverberant(click, microphone) for microphone in ("near", "far"))
    assert np.sum(near**2) == pytest.approx(1, rel=1e-3)
    # of the far microphone's energy more comes after the first 5 ms
    assert np.sum(far[200:] ** 2) > 2 * np.sum(near[200:] ** 2)

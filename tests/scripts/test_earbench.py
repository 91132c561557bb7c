"""The bench of the ear measures what it says: levels, intervals, counts."""

from __future__ import annotations

import numpy as np
import pytest
from earbench.corpora import numbers_in_a_row
from earbench.mixing import mixed
from earbench.score import Count, right, wilson

from assistant.audio.levels import active_speech_level, measure
from assistant.ports import RATE, Samples
from assistant.spoken import Heard


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


def test_counts_tell_refused_from_wrongly_taken() -> None:
    count = Count()
    count.add(Heard("touched", 0.9), "touched")
    count.add(Heard("touched", 0.3), "touched")
    count.add(Heard("yes", 0.9), "touched")
    count.add(Heard("yes", 0.3), "touched")
    count.add(Heard("yes", 0.9), "")
    count.add(Heard("", 0.0), "")
    assert (count.of, count.right, count.refused, count.accepted_wrong) == (6, 2, 1, 2)


def test_numbers_in_a_row() -> None:
    grammar = numbers_in_a_row("one two", 3, "yes")
    assert grammar.sentence_count == 2 + 4 + 8 + 1
    assert not grammar.accepts(["yes", "one"])

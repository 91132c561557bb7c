"""The silence of a watched process: what counts of the time, and what ends it."""

from __future__ import annotations

import pytest

from assistant.silence import ON_TIME, Silence

TICK = 0.02


def test_silence_adds_up_from_look_to_look() -> None:
    silence = Silence(100.0)
    for tick in range(1, 51):
        seconds = silence.look(100.0 + tick * TICK)
    assert seconds == pytest.approx(1.0)


def test_time_in_which_nobody_could_look_counts_little() -> None:
    silence = Silence(100.0)
    silence.look(100.0 + TICK)
    assert silence.look(160.0) == pytest.approx(TICK + ON_TIME)


def test_a_sign_of_life_begins_it_anew() -> None:
    silence = Silence()
    silence.look(TICK)
    silence.broken()
    assert silence.look(2 * TICK) == pytest.approx(TICK)


def test_who_owes_nothing_may_be_silent() -> None:
    silence = Silence()
    silence.look(TICK)
    for tick in range(2, 100):
        assert silence.look(tick * TICK, counts=False) == pytest.approx(TICK)
    assert silence.look(100 * TICK) == pytest.approx(2 * TICK), "nor does it count afterwards"

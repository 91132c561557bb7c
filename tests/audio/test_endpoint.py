"""Where an utterance begins and ends."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.audio.endpoint import Endpoint, Limits, Phase, Signal

FRAME = 0.032
SPEECH, SILENCE = 0.9, 0.05


def run(frames: list[float], could_go_on: bool = True) -> list[tuple[float, Signal]]:
    """Time and kind of every signal that `frames` bring about."""
    endpoint, signals = Endpoint(), []
    for number, probability in enumerate(frames, 1):
        endpoint, signal = endpoint.hear(probability, FRAME, could_go_on)
        if signal is not None:
            signals.append((number * FRAME, signal))
    return signals


def frames(seconds: float, probability: float) -> list[float]:
    return [probability] * round(seconds / FRAME)


def test_quiet_brings_nothing_about() -> None:
    assert run(frames(60, SILENCE)) == []


def test_a_click_is_no_utterance() -> None:
    assert run([*frames(1, SILENCE), SPEECH, SPEECH, *frames(1, SILENCE)]) == []


@pytest.mark.parametrize(("could_go_on", "wait"), [(False, 0.3), (True, 0.7)])
def test_the_wait_is_long_only_while_the_words_could_go_on(could_go_on: bool, wait: float) -> None:
    signals = run([*frames(1, SPEECH), *frames(2, SILENCE)], could_go_on)
    assert [signal for _, signal in signals] == [Signal.STARTED, Signal.PAUSED, Signal.OVER]
    spoken = round(1 / FRAME) * FRAME
    assert signals[-1][0] - spoken == pytest.approx(wait, abs=FRAME)
    assert signals[-1][0] - spoken >= wait - 1e-9


def test_a_pause_inside_a_number_does_not_end_it() -> None:
    said = [*frames(0.6, SPEECH), *frames(0.5, SILENCE), *frames(0.6, SPEECH), *frames(1, SILENCE)]
    assert [signal for _, signal in run(said)] == [
        Signal.STARTED, Signal.PAUSED, Signal.RESUMED, Signal.PAUSED, Signal.OVER,
    ]  # fmt: skip


def test_endless_speech_is_cut_before_the_built_in_ear_breaks() -> None:
    signals = run(frames(9, SPEECH))
    assert [signal for _, signal in signals][:2] == [Signal.STARTED, Signal.CUT]
    # the exported decoder takes 9.2 s; the sound kept from before comes on top
    assert signals[1][0] + Limits().before <= 9.2


def test_a_doubtful_frame_continues_an_utterance_but_begins_none() -> None:
    doubtful = 0.4
    assert run(frames(2, doubtful)) == []
    signals = run([*frames(0.5, SPEECH), *frames(2, doubtful)])
    assert [signal for _, signal in signals] == [Signal.STARTED]


@given(
    st.lists(st.tuples(st.floats(0, 1), st.booleans()), max_size=600),
)
def test_signals_always_come_in_order(frames: list[tuple[float, bool]]) -> None:
    after: dict[Signal | None, set[Signal]] = {
        None: {Signal.STARTED},
        Signal.STARTED: {Signal.PAUSED, Signal.CUT},
        Signal.PAUSED: {Signal.RESUMED, Signal.OVER, Signal.CUT},
        Signal.RESUMED: {Signal.PAUSED, Signal.CUT},
        Signal.OVER: {Signal.STARTED},
        Signal.CUT: {Signal.STARTED},
    }
    endpoint, last = Endpoint(), None
    for probability, could_go_on in frames:
        endpoint, signal = endpoint.hear(probability, FRAME, could_go_on)
        if signal is not None:
            assert signal in after[last]
            last = signal
        assert endpoint.length <= Limits().longest
        assert (endpoint.phase is Phase.QUIET) == (last in (None, Signal.OVER, Signal.CUT))

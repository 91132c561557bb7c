"""The ear around a recogniser: utterances, times, grammars; on real sound."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.ear import (
    EarEvent,
    HeardEvent,
    Hearing,
    Level,
    Listener,
    Partial,
    ScriptedEar,
    SpeechStarted,
    hear,
)
from assistant.ports import RATE, Samples
from assistant.spoken import Heard
from tests.automata import automaton_of

CLIPS = Path(__file__).parents[1] / "audio" / "clips"
GRAMMAR = automaton_of("touched", "cut forty thou", "cut forty thou this pass", "yes")
OTHER = automaton_of("no", "touched")


def clip(name: str) -> Samples:
    samples, _ = soundfile.read(CLIPS / f"{name}.flac", dtype="float32")
    return samples


def silence(seconds: float) -> Samples:
    noise = np.random.default_rng(1).normal(0, 1e-4, round(seconds * RATE))
    return noise.astype(np.float32)


def spoken(samples: Samples) -> tuple[float, float]:
    """Seconds at which a clip without noise begins and ends to be loud."""
    loud = np.flatnonzero(np.abs(samples) > 0.02)
    return float(loud[0]) / RATE, float(loud[-1]) / RATE


class Sound:
    """An `AudioSource` of given sound."""

    name = "given"
    live = False
    behind = 0.0

    def __init__(self, *pieces: Samples) -> None:
        self._sound = np.concatenate(pieces)

    def chunks(self) -> Iterator[Samples]:
        for start in range(0, self._sound.size, 320):
            yield self._sound[start : start + 320]

    def close(self) -> None:
        pass


def events(hearing: Hearing, *pieces: Samples) -> list[EarEvent]:
    found: list[EarEvent] = []
    for chunk in Sound(*pieces).chunks():
        found += hearing.feed(chunk)
    return found


def heard(found: list[EarEvent]) -> list[Heard]:
    return [event.heard for event in found if isinstance(event, HeardEvent)]


def test_two_sentences_are_two_utterances_with_their_times() -> None:
    ear = ScriptedEar(["cut forty thou this pass", "touched"])
    first, second = clip("cut_forty_thou_this_pass"), clip("touched")
    said = Listener(ear).hear(
        Sound(silence(1), first, silence(1), second, silence(1)), lambda: GRAMMAR
    )
    one, two = said
    assert (one.words, two.words) == ("cut forty thou this pass", "touched")
    assert one.started == pytest.approx(1 + spoken(first)[0], abs=0.15)
    assert one.ended == pytest.approx(1 + spoken(first)[1], abs=0.25)
    assert two.started == pytest.approx(2 + first.size / RATE + spoken(second)[0], abs=0.15)
    assert one.started < one.ended < two.started < two.ended


def test_the_first_sound_is_not_clipped() -> None:
    ear = ScriptedEar(["touched"])
    hearing = Hearing(ear)
    hearing.listen_for(GRAMMAR)
    fed = 0
    for chunk in Sound(silence(1), clip("touched")).chunks():
        fed += chunk.size
        if any(isinstance(event, SpeechStarted) for event in list(hearing.feed(chunk))):
            break
    onset = 1 + spoken(clip("touched"))[0]
    assert (fed - ear.samples) / RATE < onset - 0.1


def test_a_sentence_that_cannot_go_on_is_answered_sooner() -> None:
    def wait(words: str) -> float:
        """Silence until it is decided."""
        hearing = Hearing(ScriptedEar([words]))
        hearing.listen_for(GRAMMAR)
        sound = clip("cut_forty_thou_this_pass")[: -RATE // 2]
        events(hearing, silence(1), sound)
        for number, chunk in enumerate(Sound(silence(2)).chunks(), 1):
            if heard(list(hearing.feed(chunk))):
                return number * 320 / RATE
        raise AssertionError("never decided")

    assert wait("cut forty thou") - wait("cut forty thou this pass") == pytest.approx(0.4, abs=0.05)


def test_an_utterance_keeps_the_grammar_that_it_began_with() -> None:
    hearing = Hearing(ScriptedEar(["cut forty thou this pass", "touched"]))
    hearing.listen_for(GRAMMAR)
    sound = clip("cut_forty_thou_this_pass")
    found = events(hearing, silence(1), sound[: sound.size // 2])
    hearing.listen_for(OTHER)
    found += events(hearing, sound[sound.size // 2 :], silence(1), clip("touched"), silence(1))
    assert [(each.words, each.grammar) for each in heard(found)] == [
        ("cut forty thou this pass", GRAMMAR.id),
        ("touched", OTHER.id),
    ]


def test_without_a_grammar_it_only_measures_the_level() -> None:
    found = events(Hearing(ScriptedEar(["yes"])), clip("touched"), silence(1))
    assert found
    assert all(isinstance(event, Level) for event in found)


def test_the_end_of_the_sound_decides() -> None:
    hearing = Hearing(ScriptedEar(["touched"]))
    hearing.listen_for(GRAMMAR)
    sound = clip("touched")
    assert not heard(events(hearing, sound[: -RATE // 2]))
    assert [each.words for each in heard(list(hearing.flush()))] == ["touched"]
    assert not list(hearing.flush())


def test_what_was_interrupted_is_forgotten() -> None:
    """The assistant began to speak: the rest of the number is missing."""
    hearing = Hearing(ScriptedEar(["cut forty thou", "touched"]))
    hearing.listen_for(GRAMMAR)
    sound = clip("cut_forty_thou_this_pass")
    events(hearing, silence(1), sound[: sound.size // 2])
    assert list(hearing.interrupt())
    found = events(hearing, silence(1), clip("touched"), silence(1))
    assert [each.words for each in heard(found)] == ["touched"]
    assert not list(hearing.interrupt())


def test_times_follow_the_clock_that_is_given() -> None:
    hearing = Hearing(ScriptedEar(["touched"]))
    hearing.listen_for(GRAMMAR)
    now, found = 1000.0, []
    for chunk in Sound(clip("touched"), silence(1)).chunks():
        now += chunk.size / RATE
        found += hearing.feed(chunk, now)
    (one,) = heard(found)
    assert one.started == pytest.approx(1000 + spoken(clip("touched"))[0], abs=0.15)


def test_words_so_far_are_shown() -> None:
    hearing = Hearing(ScriptedEar(["touched"]))
    hearing.listen_for(GRAMMAR)
    found = events(hearing, clip("touched"), silence(1))
    assert [event.words for event in found if isinstance(event, Partial)] == ["touched"]


def test_endless_talk_is_cut_and_not_trusted() -> None:
    hearing = Hearing(ScriptedEar(["cut forty thou"]))
    hearing.listen_for(GRAMMAR)
    talk = clip("oov_did_anybody_see_my_lunch_box")[4800:-8000]
    found = events(hearing, *[talk] * 8)
    first = heard(found)[0]
    assert first.confidence < 0.5


def test_machine_noise_is_no_utterance() -> None:
    rng = np.random.default_rng(3)
    noise = rng.normal(0, 0.1, RATE * 5).astype(np.float32)
    time = np.arange(noise.size) / RATE
    hum = (0.2 * np.sin(2 * np.pi * 100 * time)).astype(np.float32)
    hearing = Hearing(ScriptedEar(["yes"]))
    hearing.listen_for(GRAMMAR)
    found = events(hearing, noise, hum, noise + hum)
    assert all(isinstance(event, Level) for event in found)


def test_one_file_is_one_hearing_whatever_its_pauses() -> None:
    ear = ScriptedEar(["touched"])
    sound = np.concatenate([silence(3), clip("touched"), silence(2), clip("touched"), silence(3)])
    one = hear(ear, sound, GRAMMAR)
    assert one.words == "touched"
    assert 3 < one.started < 3.6
    assert ear.samples < sound.size - 4 * RATE


def test_a_file_without_speech_is_no_command() -> None:
    assert hear(ScriptedEar(["yes"]), silence(2), GRAMMAR).words == ""
    assert hear(ScriptedEar(["yes"]), silence(0), GRAMMAR).words == ""

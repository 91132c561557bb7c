"""The short version of the fuzzing: hypothesis feeds every reader, no error gets out that nobody
meant to raise. And sound files of every kind, true and lying."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.devices.wav import SoundFile
from assistant.errors import BadFile
from assistant.ports import RATE
from tests.torture.files import ODD
from tests.torture.fuzz import TARGETS, guided, installed, seeds
from tests.torture.headers import good_headers, odd_headers

EXAMPLES = {"job": 40, "machine": 40, "phrases": 25, "sound": 60, "journal": 10, "event": 150,
            "words": 80, "line": 15}  # fmt: skip


@st.composite
def spoilt(draw: st.DrawFn, good: list[bytes]) -> bytes:
    """A good input, with bytes changed, taken out or put in, or with one value replaced."""
    data = bytearray(draw(st.sampled_from(good)))
    rng = random.Random(draw(st.integers(0, 2**32)))
    for _ in range(draw(st.integers(1, 6))):
        place = rng.randrange(len(data) + 1)
        match draw(st.integers(0, 3)):
            case 0:
                data[place : place + 1] = draw(st.binary(min_size=1, max_size=1))
            case 1:
                del data[place : place + rng.randint(1, 40)]
            case 2:
                data[place:place] = draw(st.binary(max_size=12))
            case 3:
                end = data.find(b"\n", place)
                equals = data.rfind(b"=", 0, max(end, 0))
                if equals > 0:
                    data[equals + 1 : end] = draw(st.sampled_from(ODD)).encode()
    return bytes(data)


@pytest.mark.parametrize("target", TARGETS)
def test_whatever_is_fed_is_taken_or_refused_in_words(
    target: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    good = list(seeds(target))
    assert good
    for one in good:
        TARGETS[target](one)

    @settings(
        max_examples=EXAMPLES[target],
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
    )
    @given(st.one_of(spoilt(good), st.binary(max_size=200)))
    def feed(data: bytes) -> None:
        TARGETS[target](data)

    feed()


def test_the_fuzzing_by_coverage_runs_and_tries_something() -> None:
    if not installed():
        pytest.skip("atheris is not installed (extra `torture`): no fuzzing by coverage")
    found = guided("event", 3)
    assert found.tried > 100
    assert found.escaped == []


@pytest.mark.parametrize("number", range(len(list(good_headers()))))
def test_sound_of_every_usual_kind_is_read_whole(number: int, tmp_path: Path) -> None:
    path = tmp_path / "sound.wav"
    path.write_bytes(list(good_headers())[number])
    sound = sum(chunk.size for chunk in SoundFile(path).chunks())
    assert abs(sound - 0.1 * RATE) < 0.045 * RATE, "a tenth of a second, less what a filter holds"


@pytest.mark.parametrize(("kind", "data"), list(odd_headers()), ids=lambda part: str(part)[:30])
def test_sound_that_lies_is_read_or_refused_in_words(
    kind: str, data: bytes, tmp_path: Path
) -> None:
    path = tmp_path / "odd.wav"
    path.write_bytes(data)
    chunks, refused = [], ""
    try:
        chunks = list(SoundFile(path).chunks())
    except BadFile as error:
        refused = str(error)
    assert not refused or ("odd.wav" in refused and len(refused) > 20), kind
    # never more sound than there are bytes, whatever the header claims, and no odd numbers
    assert sum(chunk.size for chunk in chunks) <= max(4 * len(data) * 8, RATE)
    assert all(abs(chunk).max(initial=0.0) <= 1.0 for chunk in chunks)

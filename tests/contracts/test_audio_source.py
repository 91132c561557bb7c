"""What every source of sound must do. The microphone joins in `test_virtual_sound.py`."""

from __future__ import annotations

import io
from collections.abc import Callable
from itertools import islice
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.scripted import ScriptedSound
from assistant.devices.wav import Pipe, SoundFile
from assistant.errors import BadFile, BadInput, DeviceFailed
from assistant.ports import RATE, AudioSource, Samples

SECONDS, PITCH, LOUD = 1.0, 440, 0.5


def tone(rate: int, channels: int = 1, seconds: float = SECONDS) -> Samples:
    """A tone in all channels, as frames by channels."""
    t = np.arange(round(rate * seconds)) / rate
    wave = LOUD * np.sin(2 * np.pi * PITCH * t)
    return np.repeat(wave[:, None], channels, axis=1).astype(np.float32)


def file(rate: int, channels: int, ending: str, kind: str) -> Callable[[Path], AudioSource]:
    def make(folder: Path) -> AudioSource:
        path = folder / f"tone.{ending}"
        soundfile.write(path, tone(rate, channels), rate, subtype=kind)
        return SoundFile(path)

    return make


def pipe(rate: int, channels: int) -> Callable[[Path], AudioSource]:
    data = (tone(rate, channels) * 32767).astype("<i2").tobytes()
    return lambda _: Pipe(io.BytesIO(data + b"\x01"), rate, channels)


SOURCES: dict[str, Callable[[Path], AudioSource]] = {
    "wav 16 kHz": file(16_000, 1, "wav", "PCM_16"),
    "wav 8 kHz": file(8_000, 1, "wav", "PCM_16"),
    "wav 8 kHz, 8 bits": file(8_000, 1, "wav", "ULAW"),
    "wav 44.1 kHz stereo": file(44_100, 2, "wav", "PCM_24"),
    "wav 48 kHz, 6 channels": file(48_000, 6, "wav", "FLOAT"),
    "wav 96 kHz": file(96_000, 1, "wav", "DOUBLE"),
    "flac 22.05 kHz": file(22_050, 2, "flac", "PCM_16"),
    "pipe 16 kHz": pipe(16_000, 1),
    "pipe 48 kHz stereo, last frame cut": pipe(48_000, 2),
    "script": lambda _: ScriptedSound([tone(RATE)[:, 0]]),
}


@pytest.fixture(params=SOURCES)
def source(request: pytest.FixtureRequest, tmp_path: Path) -> AudioSource:
    return SOURCES[request.param](tmp_path)


def pitch_of(sound: Samples) -> float:
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(sound.size)))
    return float(np.argmax(spectrum) * RATE / sound.size)


def test_the_sound_comes_whole_as_16_khz_mono(source: AudioSource) -> None:
    chunks = list(source.chunks())
    assert source.name
    assert {chunk.dtype for chunk in chunks} == {np.dtype(np.float32)}
    assert {chunk.ndim for chunk in chunks} == {1}
    sound = np.concatenate(chunks)
    assert abs(sound.size - SECONDS * RATE) <= 2
    assert pitch_of(sound) == pytest.approx(PITCH, abs=1.5)
    assert float(np.abs(sound[2000:-2000]).max()) == pytest.approx(LOUD, abs=0.02)
    source.close()


def test_chunks_are_10_to_50_ms(source: AudioSource) -> None:
    *whole, last = (chunk.size for chunk in source.chunks())
    assert all(160 <= size <= 800 for size in whole)
    assert 0 < last <= 800
    source.close()


def test_closing_ends_the_chunks_and_twice_does_no_harm(source: AudioSource) -> None:
    chunks = source.chunks()
    assert len(list(islice(chunks, 3))) == 3
    source.close()
    assert len(list(chunks)) <= 10
    source.close()


def test_a_live_file_takes_the_time_of_speech(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "tone.wav"
    soundfile.write(path, tone(RATE), RATE)
    now = [100.0]
    monkeypatch.setattr("assistant.devices.wav.time.monotonic", lambda: now[0])
    monkeypatch.setattr(
        "assistant.devices.wav.time.sleep", lambda s: now.__setitem__(0, now[0] + s)
    )
    assert len(list(SoundFile(path, live=True).chunks())) == 50
    assert now[0] == pytest.approx(101.0)


BROKEN: dict[str, bytes] = {
    "empty": b"",
    "no sound": b"this is a shopping list",
    "half a header": b"RIFF\x24\x00\x00\x00WAVEfm",
    "a header of lies": b"RIFF\xff\xff\xff\xffWAVEfmt \x10\x00\x00\x00" + b"\xff" * 40,
    "no channels": b"RIFF\x24\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x00\x00\x80>\x00\x00"
                   b"\x00}\x00\x00\x02\x00\x10\x00data\x00\x00\x00\x00",
}  # fmt: skip


@pytest.mark.parametrize("what", BROKEN)
def test_a_file_that_is_no_sound_is_named(tmp_path: Path, what: str) -> None:
    path = tmp_path / "odd.wav"
    path.write_bytes(BROKEN[what])
    with pytest.raises(BadFile, match=r"odd\.wav: .*wanted a sound file"):
        list(SoundFile(path).chunks())


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    for path in (tmp_path / "none.wav", tmp_path):
        with pytest.raises(BadFile, match="not there"):
            SoundFile(path)


def test_a_file_without_a_sample_is_silent(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "empty.wav", np.zeros(0), RATE)
    assert list(SoundFile(tmp_path / "empty.wav").chunks()) == []


def test_a_file_cut_short_gives_what_is_there(tmp_path: Path) -> None:
    path = tmp_path / "cut.wav"
    soundfile.write(path, tone(RATE), RATE)
    path.write_bytes(path.read_bytes()[:10_044])
    assert sum(chunk.size for chunk in SoundFile(path).chunks()) == 5_000


def test_numbers_that_are_none_are_silence(tmp_path: Path) -> None:
    samples = tone(RATE)[:, 0]
    samples[5000:5100] = np.nan
    samples[6000] = np.inf
    soundfile.write(tmp_path / "odd.wav", samples, RATE, subtype="FLOAT")
    sound = np.concatenate(list(SoundFile(tmp_path / "odd.wav").chunks()))
    assert np.isfinite(sound).all()
    assert np.abs(sound).max() <= 1
    assert not sound[5000:5100].any()


def test_a_rate_that_is_none_is_refused(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "slow.wav", np.zeros(100), 1_000)
    with pytest.raises(BadFile, match="1000 Hz"):
        SoundFile(tmp_path / "slow.wav")
    for rate, channels in ((0, 1), (16_000, 0), (16_000, 65)):
        with pytest.raises(BadInput):
            Pipe(io.BytesIO(), rate, channels)


def test_a_script_goes_on_after_its_error() -> None:
    quiet = np.zeros(640, np.float32)
    source = ScriptedSound([quiet, DeviceFailed("microphone", "unplugged"), quiet])
    chunks = source.chunks()
    assert len([next(chunks), next(chunks)]) == 2
    with pytest.raises(DeviceFailed, match="unplugged"):
        next(chunks)
    assert len(list(source.chunks())) == 2

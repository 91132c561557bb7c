"""What is wrong with the sound of a microphone, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from assistant.audio.activity import FRAME_SECONDS, SpeechDetector
from assistant.audio.levels import FLOOR_DB, active_speech_level, measure
from assistant.ports import RATE, Samples

DEAD_DB = -90.0
"""Peak below which no converter is at work: even a muted one's own noise is louder."""
CLIPPED = 0.0005
"""Share of samples at full scale from which on it is heard as distortion."""
NEAR_CLIPPING_DB = -3.0
QUIET_DB = -45.0
"""Level of speech while it is spoken: below it the noise of cheap converters comes near."""
NOISE_DB = 12.0
"""Speech should stand so far above the noise; at less the ear begins to mishear."""
SPEECH_SECONDS = 0.3
"""So much speech is somebody speaking."""
HUM_DB = -65.0
"""Weaker hum disturbs nothing."""
HUM_SHARE = 0.5
"""Share of all sound in a pause that hum has to have."""
MAINS = (50, 60)
HARMONICS = 8
WINDOW = RATE
"""One second: enough to tell 50 from 60 Hz."""


class Fault(StrEnum):
    """What may be wrong."""

    NO_SOUND = "no sound"
    CLIPPING = "clipping"
    LOUD = "near clipping"
    QUIET = "too quiet"
    NOBODY = "nobody spoke"
    HUM = "mains hum"
    NOISE = "noise"


@dataclass(frozen=True, slots=True)
class Advice:
    """One fault, as it was measured, and what to do."""

    fault: Fault
    found: str
    do: str

    @property
    def serious(self) -> bool:
        """Whether commands will be misheard or not heard at all."""
        return self.fault in (Fault.NO_SOUND, Fault.CLIPPING, Fault.QUIET)


def advise(sound: Samples) -> tuple[Advice, ...]:
    """What is wrong with `sound` of a microphone into which somebody spoke, the worst first.

    16 kHz mono, two seconds or more; nothing where all is well.
    """
    level = measure(sound)
    if level.peak_db <= DEAD_DB:
        return (
            Advice(
                Fault.NO_SOUND,
                "no sound at all",
                "It is muted, or another input is the default one: look at the sound settings, "
                "and at the switch on its cord.",
            ),
        )
    found = []
    if level.clipped > CLIPPED:
        found.append(
            Advice(
                Fault.CLIPPING,
                f"{level.clipped:.1%} of the sound is clipped",
                "Turn the input down, or speak from further away: what is clipped can't be mended.",
            )
        )
    elif level.peak_db > NEAR_CLIPPING_DB:
        found.append(
            Advice(
                Fault.LOUD,
                f"peak {level.peak_db:.0f} dB under full scale",
                "Turn it down a little.",
            )
        )
    found += _speech(sound)
    hum = mains_hum(sound)
    if hum is not None:
        hertz, hum_db = hum
        found.append(
            Advice(
                Fault.HUM,
                f"hum of {hertz} Hz mains at {hum_db:.0f} dB",
                "Keep its cable away from motors and supplies; try another socket, or a battery. "
                "If it is the machine's own motor, nothing needs doing.",
            )
        )
    order = list(Fault)
    return tuple(sorted(found, key=lambda advice: order.index(advice.fault)))


def _speech(sound: Samples) -> list[Advice]:
    detector = SpeechDetector()
    frames = [*detector.feed(sound), *detector.flush()]
    spoken = [frame for frame, probability in frames if probability >= 0.5]
    if len(spoken) * FRAME_SECONDS < SPEECH_SECONDS:
        return [
            Advice(
                Fault.NOBODY,
                "no speech was heard",
                "Run it again and say something meanwhile, from where you stand at the machine.",
            )
        ]
    speech = np.concatenate(spoken)
    speech_db, _ = active_speech_level(speech)
    quiet = [frame for frame, probability in frames if probability < 0.1]
    noise_db = measure(np.concatenate(quiet)).rms_db if quiet else FLOOR_DB
    if speech_db < QUIET_DB:
        return [
            Advice(
                Fault.QUIET,
                f"speech at {speech_db:.0f} dB under full scale",
                "Turn the input up, or bring the microphone nearer.",
            )
        ]
    if speech_db - noise_db < NOISE_DB:
        return [
            Advice(
                Fault.NOISE,
                f"speech stands only {max(0.0, speech_db - noise_db):.0f} dB above the noise",
                "Bring the microphone nearer to your mouth, or wear one.",
            )
        ]
    return []


def mains_hum(sound: Samples) -> tuple[int, float] | None:
    """Mains frequency (50 or 60 Hz) and level in dB of the hum in the quietest second; None where
    there is none that matters."""
    if sound.size < WINDOW:
        return None
    starts = range(0, sound.size - WINDOW + 1, WINDOW // 4)
    quietest = min(
        (sound[at : at + WINDOW] for at in starts), key=lambda part: measure(part).rms_db
    )
    centred = quietest - quietest.mean()
    window = np.hanning(WINDOW)
    power = np.abs(np.fft.rfft(centred * window)) ** 2 * (2 / (WINDOW * np.sum(window**2)))
    total = float(power[20:4000].sum())
    best = (0, 0.0)
    for hertz in MAINS:
        # A Hann window spreads a tone over three bins of 1 Hz.
        lines = [hertz * k for k in range(1, HARMONICS + 1)]
        humming = sum(_line(power, line) for line in lines)
        if humming > best[1]:
            best = (hertz, humming)
    hertz, humming = best
    level = 10 * np.log10(humming) if humming > 0 else FLOOR_DB
    if level < HUM_DB or humming < HUM_SHARE * total:
        return None
    return hertz, float(level)


def _line(power: np.ndarray[tuple[int], np.dtype[np.float64]], line: int) -> float:
    """Power of a tone at `line` Hz that stands out of its neighbours; 0 where none does."""
    tone = float(power[line - 2 : line + 3].sum())
    beside = [*power[line - 9 : line - 3], *power[line + 4 : line + 10]]
    return tone if tone > 20 * 5 * float(np.median(beside)) else 0.0

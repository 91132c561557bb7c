"""What is spoken can be heard: moves and sizes of a job, as sound files, through an ear that gets
only the sound and may take a number for any that sounds like it."""

from __future__ import annotations

from pathlib import Path

import soundfile
import soxr

from assistant.devices.moonshine import MoonshineEar
from assistant.devices.speaker import find_speaker
from assistant.spoken import Sentence
from tests.app.decoding import any_of, decode, words_of
from tests.factories import Job

LOOKALIKES = {
    "thirty": "thirteen", "forty": "fourteen", "fifty": "fifteen", "sixty": "sixteen",
    "seventy": "seventeen", "eighty": "eighteen", "ninety": "nineteen", "five": "nine",
    "four": "forty", "six": "sixty", "three": "thirty", "zero": "four", "up": "down",
    "half": "quarter", "in": "out",
}  # fmt: skip


def lookalikes(text: str) -> list[str]:
    """The sentence with one word taken for one that sounds like it, for each such word."""
    words = words_of(text)
    return [
        " ".join([*words[:place], LOOKALIKES[word], *words[place + 1 :]])
        for place, word in enumerate(words)
        if word in LOOKALIKES
    ]


def test_every_number_is_spoken_as_it_is_meant(tmp_path: Path):
    job = Job()
    job.to_step("deburr")
    said = dict.fromkeys(sentence.text for sentence in job.speaker.said)
    starts = ("Knee up", "Saddle in", "Up ", "Then saddle", "Half the")
    numbers = [text for text in said if text.startswith(starts) or "left" in text]
    assert len(numbers) > 8
    speaker = find_speaker(tmp_path, mode="files", rate=170, tell=lambda _line: None)
    ear = MoonshineEar()
    wrong = []
    for text in numbers:
        before = set(tmp_path.glob("*.wav"))
        speaker.say([Sentence(text)])
        assert speaker.wait(20)
        (made,) = set(tmp_path.glob("*.wav")) - before
        sound, rate = soundfile.read(made, dtype="float32")
        grammar = any_of([*numbers, *lookalikes(text)])
        heard = decode(ear, soxr.resample(sound, rate, 16_000), grammar).words
        if heard != " ".join(words_of(text)):
            wrong.append((text, heard))
    speaker.close()
    ear.close()
    # the system's speech engine is hard for any ear: one in ten may be lost
    assert len(wrong) <= len(numbers) // 10, wrong

"""How long every sentence of every demo job lasts, as the clear voice says it at the usual pace."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.app.paths import configs_folder
from assistant.devices.voice.clear import ClearVoice
from assistant.devices.voice.shaped import RATE
from assistant.present.move_words import LONGEST
from tests.factories import Job, expected_words

ASKED = ("what now", "say again", "why", "how much left")
"""At every step, beside what finishes it; "say again" tells the numbers figure by figure."""
MOST_STEPS = 900


def sentences(*only: str) -> Iterator[tuple[str, str]]:
    """The name of each demo (or of some), and each sentence as the voice is given it, once."""
    known: set[str] = set()
    for name in only or sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml")):
        job = Job(name)
        for _ in range(MOST_STEPS):
            if job.state.finished:
                break
            for words in ASKED if job.state.question is None else ():
                job.try_saying(words)
            job.try_saying(expected_words(job.state))
        fresh = dict.fromkeys(job.speaker.texts).keys() - known
        known |= fresh
        yield from ((name, text) for text in sorted(fresh))


def length_table() -> None:
    """Print what takes longer than four seconds, and how many don't."""
    voice = ClearVoice()  # in this process: on a busy computer the other would be given up
    count, longest = 0, 0.0
    for job, text in sentences():
        lasts = voice.sound(text).size / RATE
        count, longest = count + 1, max(longest, lasts)
        if lasts > LONGEST:
            print(f"{lasts:.2f} s  {job}: {text}", flush=True)
    print(f"{count} sentences, the longest {longest:.2f} s")

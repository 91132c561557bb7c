"""What the second ear costs and gives in use: `python -m earbench.second_cost [--most N]`.

Sentences with a number come in at the pace of speech, as from a microphone, to the built-in ear
alone and with the second ear beside it. Counted: seconds from the decision that the sentence is
over to its words, how often the opinion was in time, the memory of its process; and how soon words
are shown, the first one after the beginning of speech and all of them after its end.
"""

from __future__ import annotations

import argparse
import re
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np

from assistant.devices.ear import HeardEvent, Hearing, Partial, hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.opinion import SecondOpinion, with_second_opinion
from assistant.devices.vosk import VoskEar
from assistant.ports import RATE, Recogniser
from assistant.spoken import Heard
from earbench import corpora
from earbench.second import MODEL, step_grammar

CHUNK = RATE // 50


@dataclass(frozen=True)
class Shown:
    """One sentence as it was heard. Times in seconds."""

    heard: Heard
    took: float
    """From the decision to the words."""
    first: float
    """From the beginning of speech to the first words that were shown."""
    whole: float
    """From the end of speech to all words."""


def paced(ear: Recogniser, utterances: list[corpora.Utterance]) -> list[Shown]:
    """What was heard of each, and when."""
    grammar = step_grammar()
    ear.prepare([grammar])
    hearing = Hearing(ear)
    hearing.listen_for(grammar)
    found = []
    position = 0.0
    for each in utterances:
        sound = np.concatenate([each.sound(), np.zeros(RATE, np.float32)])
        began = time.monotonic()
        told: dict[str, float] = {}
        for number, start in enumerate(range(0, sound.size, CHUNK)):
            wait = began + number * CHUNK / RATE - time.monotonic()
            if wait > 0:
                time.sleep(wait)
            for event in hearing.feed(sound[start : start + CHUNK]):
                now = position + time.monotonic() - began
                if isinstance(event, Partial):
                    told.setdefault(event.words, now)
                elif isinstance(event, HeardEvent):
                    heard = event.heard
                    first = min(told.values(), default=now) - heard.started
                    whole = told.get(heard.words, now) - heard.ended
                    found.append(Shown(heard, event.took, first, whole))
                    told = {}
        position += sound.size / RATE
    return found


def megabytes_of(pid: int) -> float:
    """Resident memory of a process."""
    match = re.search(r"VmRSS:\s+(\d+) kB", Path(f"/proc/{pid}/status").read_text())
    return int(match[1]) / 1024 if match else 0.0


def main() -> None:
    parser = argparse.ArgumentParser(description="What the second ear costs.")
    parser.add_argument("--most", type=int, default=15, help="sentences")
    options = parser.parse_args()
    utterances = corpora.drawn(corpora.synthetic("numbers", False), options.most)
    makes: dict[str, Callable[[], Recogniser]] = {
        "alone": partial(MoonshineEar, threads=1),
        "with the second ear": partial(
            with_second_opinion, partial(MoonshineEar, threads=1), partial(VoskEar, MODEL)
        ),
    }
    for name, make in makes.items():
        ear = make()
        for _ in range(2):  # the first of each pays for loading
            hear(ear, utterances[0].sound(), step_grammar())
        time.sleep(2)
        found = paced(ear, utterances)
        took = sorted(each.took for each in found)
        late = took[int(0.95 * (len(took) - 1))]
        line = f"{name}: {len(found)} sentences, median {statistics.median(took):.3f} s, "
        line += f"95 % {late:.3f} s after the decision; shown in the median: the first word "
        line += f"{statistics.median(each.first for each in found):.2f} s after speech began, all "
        line += f"{statistics.median(each.whole for each in found):.2f} s after it ended"
        if isinstance(ear, SecondOpinion):
            told = sum(each.heard.opinion is not None for each in found if each.heard.words)
            second = ear._second._child
            line += (
                f"; opinion in time for {told} of {sum(bool(each.heard.words) for each in found)}"
            )
            line += f"; {megabytes_of(second.pid):.0f} MB" if second is not None else ""
        print(line, flush=True)
        ear.close()


if __name__ == "__main__":
    main()

"""What the second ear costs in time and memory: `python -m earbench.second_cost [--most N]`.

Sentences with a number come in at the pace of speech, as from a microphone, to the built-in ear
alone and with the second ear beside it. Counted: seconds from the decision that the sentence is
over to its words, how often the opinion was in time, and the memory of its process.
"""

from __future__ import annotations

import argparse
import re
import statistics
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np

from assistant.devices.ear import HeardEvent, Hearing, hear
from assistant.devices.moonshine import MoonshineEar
from assistant.devices.opinion import SecondOpinion, with_second_opinion
from assistant.devices.vosk import VoskEar
from assistant.ports import RATE, Recogniser
from assistant.spoken import Heard
from earbench import corpora
from earbench.second import MODEL, step_grammar

CHUNK = RATE // 50


def paced(ear: Recogniser, utterances: list[corpora.Utterance]) -> list[tuple[Heard, float]]:
    """What was heard of each, and how long after the decision."""
    grammar = step_grammar()
    ear.prepare([grammar])
    hearing = Hearing(ear)
    hearing.listen_for(grammar)
    found = []
    for each in utterances:
        sound = np.concatenate([each.sound(), np.zeros(RATE, np.float32)])
        began = time.monotonic()
        for number, start in enumerate(range(0, sound.size, CHUNK)):
            wait = began + number * CHUNK / RATE - time.monotonic()
            if wait > 0:
                time.sleep(wait)
            found += [
                (event.heard, event.took)
                for event in hearing.feed(sound[start : start + CHUNK])
                if isinstance(event, HeardEvent)
            ]
    return found


def megabytes_of(pid: int) -> float:
    """Resident memory of a process."""
    match = re.search(r"VmRSS:\s+(\d+) kB", Path(f"/proc/{pid}/status").read_text())
    return int(match[1]) / 1024 if match else 0.0


def main() -> None:
    parser = argparse.ArgumentParser(description="What the second ear costs.")
    parser.add_argument("--most", type=int, default=15, help="sentences")
    options = parser.parse_args()
    utterances = corpora.drawn(corpora.synthetic("sizes_b", False), options.most)
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
        took = sorted(seconds for _, seconds in found)
        late = took[int(0.95 * (len(took) - 1))]
        line = f"{name}: {len(found)} sentences, median {statistics.median(took):.3f} s, "
        line += f"95 % {late:.3f} s after the decision"
        if isinstance(ear, SecondOpinion):
            told = sum(heard.opinion is not None for heard, _ in found if heard.words)
            process = ear._second._process
            line += f"; opinion in time for {told} of {sum(bool(h.words) for h, _ in found)}"
            line += f"; {megabytes_of(process.pid):.0f} MB" if process is not None else ""
        print(line, flush=True)
        ear.close()


if __name__ == "__main__":
    main()

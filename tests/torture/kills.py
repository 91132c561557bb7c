"""Kill a job at random moments, and see that nothing that was spoken is lost.

A child works a job with the real journal, and writes a line to a pipe after each answer, as the
speaker would speak it. The parent kills it with SIGKILL at a random moment, opens the journal and
replays it: every answer that was spoken has its event, none is lost or doubled, and the job
stands at the same step, the same dial and the same depth.
"""

from __future__ import annotations

import json
import os
import random
import signal
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.app.assistant import Assistant, Devices
from assistant.app.paths import configs_folder
from assistant.app.transcript import Transcript
from assistant.devices.clock import SystemClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import open_journal
from assistant.devices.speaker import SilentSpeaker
from assistant.ports import Journal
from assistant.session.begin import resume
from assistant.session.reduce import replay
from assistant.session.state import State
from assistant.spoken import Heard
from tests.factories import BOOK, expected_words

MOST_ANSWERS = 40
"""A child is let speak up to so many answers, about a whole job, before it is killed."""
LONGEST_ANSWER = 0.03
"""Seconds in which an answer is decided, kept and spoken: the kill comes somewhere in them."""
BEFORE_ANY = 0.1
"""Share of the children that are killed while the job is being begun."""


@dataclass
class Killed:
    """What many kills showed."""

    kills: int = 0
    answers: int = 0
    """Answers that had been spoken when the child was killed."""
    lost: int = 0
    """Spoken answers whose events are not in the journal."""
    gaps: int = 0
    """Journals with a missing or doubled sequence number."""
    elsewhere: int = 0
    """Jobs that replayed to another step, dial or depth than was spoken."""
    unspoken: int = 0
    """Journals with events after the last spoken answer: kept, and killed before it was told."""

    @property
    def ok(self) -> bool:
        """Whether nothing was lost, doubled or moved."""
        return not (self.lost or self.gaps or self.elsewhere)


def place(state: State) -> dict[str, Any]:
    """Where a job stands, as plain data."""
    return {
        "seq": state.seq,
        "step": state.step_id,
        "phase": state.phase.value,
        "dials": {name: str(axis.position) for name, axis in sorted(state.axes.items())},
        "number": None if state.figure is None else str(state.figure.value),
    }


def _child(journal: Path, job: str, pipe: int) -> None:
    """Works the job over and over; only returns by being killed."""
    kept = open_journal(journal)
    while True:
        _work(kept, job, lambda spoken: os.write(pipe, json.dumps(spoken).encode() + b"\n"))


def _work(kept: Journal, job: str, speak: Callable[[dict[str, Any]], object]) -> None:
    devices = Devices(kept, SilentSpeaker(), HiddenScreen(), SystemClock())
    assistant = Assistant(BOOK, devices, Transcript(lambda _line: None))
    assistant.begin(configs_folder() / "jobs" / f"{job}.toml")
    while not assistant.state.finished:
        assistant.hear(Heard(expected_words(assistant.state), engine="typed"))
        speak({"job": assistant.job_id, **place(assistant.state)})


def kill_many(
    folder: Path,
    count: int,
    seed: int = 1,
    job: str = "keyseat-inch",
    until: Callable[[], bool] = lambda: False,
) -> Killed:
    """Kill `count` children at random moments, in a journal each; fewer where `until` says so."""
    rng = random.Random(seed)
    result = Killed()
    # what is kept of plans and grammars is inherited by every child
    with tempfile.TemporaryDirectory() as warm:
        kept = open_journal(Path(warm) / "journal.sqlite")
        _work(kept, job, lambda _spoken: None)
        kept.close()
    for number in range(count):
        if until():
            break
        journal = folder / f"{number}.sqlite"
        _kill_one(journal, job, rng, result)
        for left in folder.glob(f"{number}.sqlite*"):
            left.unlink()
    return result


def _kill_one(journal: Path, job: str, rng: random.Random, result: Killed) -> None:
    read_end, write_end = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read_end)
        try:
            _child(journal, job, write_end)
        finally:
            os._exit(1)
    os.close(write_end)
    # The moment is counted in answers, so that a loaded machine is killed in mid-job as well.
    answers_wanted = 0 if rng.random() < BEFORE_ANY else rng.randint(1, MOST_ANSWERS)
    spoken = b""
    while spoken.count(b"\n") < answers_wanted:
        spoken += os.read(read_end, 65536)
    time.sleep(rng.uniform(0.0, LONGEST_ANSWER))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    while block := os.read(read_end, 65536):
        spoken += block
    os.close(read_end)
    result.kills += 1
    # a line that was cut off was not spoken to its end
    answers = [json.loads(line) for line in spoken.split(b"\n")[:-1]]
    result.answers += len(answers)
    if not answers:
        return
    kept = open_journal(journal)
    last = answers[-1]
    records = kept.read(last["job"])
    kept.close()
    if [record.seq for record in records] != list(range(1, len(records) + 1)):
        result.gaps += 1
    if not records or records[-1].seq < last["seq"]:
        result.lost += 1
        return
    result.unspoken += records[-1].seq > last["seq"]
    then = replay(record for record in records if record.seq <= last["seq"])
    if place(then) != {name: last[name] for name in place(then)}:
        result.elsewhere += 1
        return
    # and whatever was kept after that leads on from there, to a state that can be taken up
    resume(replay(records), SystemClock().now())

"""What benches share: figures from what was timed, and processes of their own."""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.factories import Job

ROOT = Path(__file__).resolve().parents[1]
CHILD = "--child"


def percentile(values: list[float], share: float) -> float:
    """The value that `share` of `values` don't exceed."""
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def spread(values: list[float]) -> dict[str, float]:
    """Median and 95th percentile."""
    return {"median": statistics.median(values), "p95": percentile(values, 0.95)}


@lru_cache(maxsize=1)
def compiled_files() -> tempfile.TemporaryDirectory[str]:
    """Where the processes of this run keep their compiled files; gone at its end."""
    return tempfile.TemporaryDirectory(prefix="bench-")


def started(*what: str, keep: bool = False) -> str:
    """What a process of its own prints; or nothing, where it isn't kept."""
    own = {**os.environ, "PYTHONPYCACHEPREFIX": compiled_files().name}
    own.pop("PYTHONDONTWRITEBYTECODE", None)
    command = [sys.executable, str(Path(sys.argv[0]).resolve()), CHILD, *what]
    made = subprocess.run(command, check=True, cwd=ROOT, capture_output=keep, text=True, env=own)
    return made.stdout if keep else ""


def bench_turn(job: str, rounds: int) -> dict[str, float]:
    """Milliseconds a turn, over whole typed jobs: of each turn the least of the rounds, which is
    what it takes where nothing else keeps the machine busy. What is kept of an earlier round's
    plans is let go before each: no operator tells the same sizes twice."""
    worked = [worked_job(job)[0] for _ in range(rounds)]
    return spread([min(each) for each in zip(*worked, strict=True)])


def worked_job(job: str) -> tuple[list[float], Job]:
    """The milliseconds of every turn of a typed job, and the job."""
    from assistant.app.turn import turn
    from assistant.jobs.to_size.infeed import forget
    from assistant.present.glance_of import glance
    from assistant.spoken import Heard
    from tests.factories import BOOK, NOW, Job, expected_words

    took: list[float] = []
    forget()
    bench = Job(job)
    while not bench.state.finished:
        state, asked = bench.state, ["how much left", expected_words(bench.state)]
        for words in asked if len(took) % 3 == 0 and not state.question else asked[1:]:
            started = time.thread_time()
            glance(turn(BOOK, state, Heard(words, engine="typed"), NOW).state)
            took.append((time.thread_time() - started) * 1000)
        bench.say(asked[1])
    return took, bench


def demo_names() -> list[str]:
    """Every demo job."""
    from assistant.app.paths import configs_folder

    return sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))


def bench_slowest_turn(rounds: int) -> dict[str, dict[str, float]]:
    """The demo whose turns take longest at the 95th percentile."""
    each = {name: bench_turn(name, rounds) for name in demo_names()}
    slowest = max(each, key=lambda name: each[name]["p95"])
    return {f"turn_ms {slowest}": each[slowest]}


def bench_journal(job: str) -> dict[str, float]:
    """Kilobytes of a job's journal worked from its beginning to its end, and its events."""
    from assistant.devices.journal import open_journal

    _, worked = worked_job(job)
    records = worked.journal.read(worked.assistant.job_id)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.sqlite"
        kept = open_journal(path)
        empty = path.stat().st_size
        kept.append("job", records)
        kept.close()
        size = path.stat().st_size - empty
    return {"kb": size / 1024, "events": float(len(records))}


def bench_memory(*setting: str) -> dict[str, float]:
    """Megabytes: this side of the pipe, and the processes of the ears and the voice."""
    found: dict[str, float] = json.loads(started("memory", *setting, keep=True).splitlines()[-1])
    return found


def child_memory(setting: str = "usual") -> None:
    """The ears and the voice, as `wheelcall run` makes them; a shared page counts in parts."""
    import psutil

    from assistant.app.ahead import grammars_ahead
    from assistant.app.ears import built_in
    from assistant.app.settings import Settings
    from assistant.app.wiring import with_second
    from assistant.devices.ear import EarProcess
    from assistant.devices.speaker import voice_of
    from tests.factories import BOOK, Job

    def mb(process: psutil.Process) -> float:
        return float(process.memory_full_info().pss) / 2**20

    job = Job()
    small = setting == "small"
    voice = voice_of("system" if small else None)
    voice.start()
    for sentence in ("Lock it.", "Saddle in, four turns and one forty and a half."):
        voice.sound(sentence, 190)
    me = psutil.Process()
    of_the_voice = {child.pid for child in me.children(recursive=True)}
    make, _ = with_second(Settings(second_opinion=not small), built_in)
    ear = EarProcess(make)
    ear.start()
    ear.prepare(list(grammars_ahead(BOOK, job.state)))
    ear.listen_for(job.assistant.ways.grammar)
    ear.wait_ready()
    time.sleep(2.0)
    found = {"program_mb": mb(me), "first_ear_mb": 0.0, "second_ear_mb": 0.0, "voice_mb": 0.0}
    for child in me.children(recursive=True):
        own = "first_ear_mb" if child.ppid() == me.pid else "second_ear_mb"  # the ear's own child
        found["voice_mb" if child.pid in of_the_voice else own] += mb(child)
    ear.close()
    voice.close()
    print(json.dumps(found | {"together_mb": sum(found.values())}))

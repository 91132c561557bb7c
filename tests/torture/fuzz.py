"""Fuzzing: whatever is fed to a reader of the program, it is taken or refused in words.

    python -m tests.torture.fuzz TARGET SECONDS        one target, guided by coverage (atheris)

A target is a function of bytes that raises only what its reader raises on purpose; anything else
is a finding. The short tests feed them by hypothesis (`test_fuzz.py`); `scripts/torture` by
atheris, which looks which branches of the program an input came to and goes on from there.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from unittest import mock

ROOT = Path(__file__).resolve().parents[2]
LONGEST_INPUT = 8192

Target = Callable[[bytes], None]


@dataclass
class Fuzzed:
    """What one target came to."""

    target: str
    tried: int = 0
    escaped: list[str] = field(default_factory=list)
    """Errors that nobody meant to raise: must be none."""


def _folder() -> Path:
    path = Path(tempfile.gettempdir()) / f"wheelcall-fuzz-{os.getpid()}"
    path.mkdir(exist_ok=True)
    return path


def _in_a_file(name: str, read: Callable[[Path], object]) -> Target:
    def target(data: bytes) -> None:
        from assistant.errors import WheelcallError

        path = _folder() / name
        path.write_bytes(data)
        with contextlib.suppress(WheelcallError), contextlib.redirect_stdout(io.StringIO()):
            read(path)

    return target


def _job(path: Path) -> object:
    from assistant.app.cli.sheet import planned

    return planned(str(path))


def _machine(path: Path) -> object:
    from assistant.machine import load_machine

    return load_machine(path)


def _phrases(path: Path) -> object:
    from assistant.phrases.book import load_book

    return load_book(path)


def _sound(path: Path) -> object:
    from assistant.devices.wav import SoundFile

    sound = SoundFile(path)
    total = sum(chunk.size for chunk in sound.chunks())
    sound.close()
    return total


def journal(data: bytes) -> None:
    """A journal file of these bytes: opened, listed, each job read and replayed."""
    from assistant.devices.journal import open_journal
    from assistant.errors import JournalError
    from assistant.session.reduce import replay

    folder = _folder() / "journal"
    folder.mkdir(exist_ok=True)
    (folder / "journal.sqlite").write_bytes(data)
    try:
        kept = open_journal(folder / "journal.sqlite")
        for job in kept.jobs():
            replay(kept.read(job.id))
        kept.close()
    except JournalError:
        pass
    finally:
        for left in folder.iterdir():
            left.unlink()


def event(data: bytes) -> None:
    """One event of a journal, as its line of JSON."""
    from assistant.errors import JournalError
    from assistant.session.codec import decode, encode

    with contextlib.suppress(JournalError):
        encode(decode(data.decode("utf-8", "replace")))


def words(data: bytes) -> None:
    """What is said or typed at some step of a job: first the step, then words of the phrase book
    by number, or any text."""
    from assistant.app.turn import turn
    from assistant.spoken import Heard
    from tests.factories import BOOK, NOW

    states, vocabulary = _steps()
    if len(data) < 2:
        return
    state = states[data[0] % len(states)]
    if data[1] % 2:
        said = data[2:].decode("utf-8", "replace")
    else:
        pairs = zip(data[2::2], data[3::2], strict=False)
        said = " ".join(vocabulary[(a * 256 + b) % len(vocabulary)] for a, b in pairs)
    for engine in ("typed", "moonshine"):
        turn(BOOK, state, Heard(said, 0.9, engine=engine), NOW)


_KEPT: dict[str, tuple[list, list[str]]] = {}


def _steps() -> tuple[list, list[str]]:
    if not _KEPT:
        from assistant.app.turn import ways
        from tests.factories import BOOK, Job, expected_words

        job = Job()
        states = [job.state]
        while not job.state.finished:
            job.say(expected_words(job.state))
            states.append(job.state)
        every = set().union(*(ways(BOOK, state, 0.0).grammar.vocabulary for state in states))
        _KEPT["steps"] = states, sorted(every)
    return _KEPT["steps"]


def line(data: bytes) -> None:
    """A command line: its words are separated by line feeds."""
    from assistant.app.cli import main
    from tests.torture.lines import COMMANDS

    given = data.decode("utf-8", "surrogateescape").split("\n")
    argv = [COMMANDS[len(given[0]) % len(COMMANDS)], *given[1:]]
    if argv[0] in ("jobs", "report", "watch"):
        argv += ["--journal", str(_folder() / "line.sqlite")]
    said = io.StringIO()
    with (
        contextlib.chdir(_folder()), contextlib.redirect_stdout(said),
        contextlib.redirect_stderr(said), contextlib.suppress(SystemExit),
        mock.patch.object(sys, "argv", ["wheelcall", *argv]),
    ):  # fmt: skip
        main()
    if "Traceback" in said.getvalue():
        raise AssertionError(said.getvalue()[-300:])


TARGETS: Mapping[str, Target] = {
    "job": _in_a_file("job.toml", _job),
    "machine": _in_a_file("machine.toml", _machine),
    "phrases": _in_a_file("phrases.toml", _phrases),
    "sound": _in_a_file("sound.wav", _sound),
    "journal": journal,
    "event": event,
    "words": words,
    "line": line,
}


def seeds(target: str) -> Iterator[bytes]:
    """Good inputs to begin with."""
    configs = ROOT / "configs"
    match target:
        case "job":
            yield from (path.read_bytes() for path in sorted((configs / "jobs").glob("*.toml")))
        case "machine":
            yield from (path.read_bytes() for path in sorted((configs / "machines").glob("*.toml")))
        case "phrases":
            text = (configs / "phrases.toml").read_bytes()
            yield text[:LONGEST_INPUT]
            # one phrase and the next: whole, the book is longer than what is fed at once
            yield from (part for part in text.split(b"\n\n") if len(part) < LONGEST_INPUT)
        case "sound":
            from tests.torture.headers import good_headers

            yield from good_headers()
        case "event":
            from assistant.session.codec import encode
            from tests.session.sample_events import EVENTS

            yield from (encode(one).encode() for one in EVENTS)
        case "journal":
            yield _small_journal()
        case "words":
            from tests.torture.lines import WORDS

            yield from (b"\x01\x01" + word.encode() for word in (*WORDS, "measured 1.109", "3/8"))
            yield from (bytes([step, 0, 1, 2, 3, 4, 5, 6]) for step in range(8))
        case "line":
            from tests.torture.files import ODD
            from tests.torture.lines import WORDS

            yield from (f"{'x' * n}\n{a}\n{b}".encode() for n, (a, b) in
                        enumerate(zip(WORDS, (*ODD, *WORDS), strict=False)))  # fmt: skip


def _small_journal() -> bytes:
    from assistant.devices.journal import open_journal
    from tests.factories import Job

    path = _folder() / "seed.sqlite"
    job = Job("drill-press")
    job.say("checked")
    kept = open_journal(path)
    kept.append("a", job.journal.read(job.assistant.job_id))
    kept.close()
    data = path.read_bytes()
    path.unlink()
    return data


def installed() -> bool:
    """Whether atheris is there."""
    import importlib.util

    return importlib.util.find_spec("atheris") is not None


def guided(target: str, seconds: float) -> Fuzzed:
    """Fuzz one target in a process of its own, guided by coverage, for so many seconds."""
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run(
            [sys.executable, "-m", "tests.torture.fuzz", target, f"{max(1, round(seconds))}"],
            cwd=ROOT, capture_output=True, text=True, errors="replace", check=False,
            env=dict(os.environ, TMPDIR=folder, SDL_VIDEODRIVER="dummy"),
        )  # fmt: skip
    result = Fuzzed(target)
    found = re.findall(r"number_of_executed_units:\s*(\d+)", done.stderr)
    result.tried = int(found[-1]) if found else 0
    if done.returncode:
        result.escaped.append(f"{target}: {(done.stdout + done.stderr)[-1500:]}")
    elif not result.tried:
        result.escaped.append(f"{target}: nothing was tried: {done.stderr[-500:]}")
    return result


def main() -> None:
    """Fuzz one target; ends by itself, with a status other than 0 where something got out."""
    import atheris

    name, seconds = sys.argv[1], int(sys.argv[2])
    with atheris.instrument_imports(include=["assistant", "tomllib"]):
        TARGETS[name](b"")  # whatever it imports
        for seed in seeds(name):
            TARGETS[name](seed)
    corpus = _folder() / "corpus"
    corpus.mkdir(exist_ok=True)
    for number, seed in enumerate(seeds(name)):
        (corpus / f"{number:03}").write_bytes(seed)
    found = _folder() / "found-"
    largest = max((path.stat().st_size for path in corpus.iterdir()), default=0)
    atheris.Setup(
        [sys.argv[0], str(corpus), f"-max_total_time={seconds}", "-print_final_stats=1",
         f"-max_len={max(LONGEST_INPUT, largest)}", f"-artifact_prefix={found}", "-timeout=30"],
        TARGETS[name],
    )  # fmt: skip
    atheris.Fuzz()


if __name__ == "__main__":
    main()

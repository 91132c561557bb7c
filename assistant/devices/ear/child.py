"""What runs in the ear's own process: commands in, events out."""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.queues import Queue
from typing import Any, Protocol, runtime_checkable

from assistant.audio.endpoint import Limits
from assistant.devices.ear.events import EarEvent, EarState, Helpless
from assistant.devices.ear.hearing import Hearing
from assistant.devices.ear.heart import Heart
from assistant.errors import WheelcallError
from assistant.log import get_log, start_log
from assistant.ports import Recogniser, Samples
from assistant.spoken import WordAutomaton


@dataclass(frozen=True, slots=True)
class Prepare:
    """Compile grammars ahead of need."""

    grammars: tuple[WordAutomaton, ...]


@dataclass(frozen=True, slots=True)
class ListenFor:
    """Hold what is said from now on to this grammar."""

    grammar: WordAutomaton


@dataclass(frozen=True, slots=True)
class Sound:
    """More sound, and the clock time of its end."""

    samples: Samples
    at: float


@dataclass(frozen=True, slots=True)
class Flush:
    """The sound has ended: decide now."""


@dataclass(frozen=True, slots=True)
class Interrupt:
    """Sound goes missing from here on."""


@dataclass(frozen=True, slots=True)
class Leave:
    """End the process."""


@dataclass(frozen=True, slots=True)
class Deaf:
    """Words that the recogniser can't hear."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Flushed:
    """The end of the sound was reached, and all that was heard before is reported."""


@dataclass(frozen=True, slots=True)
class Done:
    """One more command is worked off."""


@runtime_checkable
class Helped(Protocol):
    """A recogniser with a helper that may fail without it."""

    trouble: str
    """What of the help is missing; '' where nothing is."""


@dataclass(frozen=True, slots=True)
class Alive:
    """What it is at work on makes progress, however slowly."""


Command = Prepare | ListenFor | Sound | Flush | Interrupt | Leave
Report = EarEvent | Deaf | Flushed | Done | Alive


def run(
    make: Callable[[], Recogniser],
    limits: Limits,
    commands: Queue[Command],
    reports: Any,
) -> None:
    """Body of the child process. `reports` is the sending end of a pipe."""
    start_log(child=True)
    send = _Sender(reports).send
    with contextlib.suppress(BrokenPipeError):  # the parent is gone
        try:
            _work(make, limits, commands, send)
        except Exception as error:  # native code and models have their own kinds
            get_log("ear").exception("the ear's process fails")
            # Told at once: until a process has ended, seconds may pass on a busy machine.
            send(EarState("trouble", f"The ear failed ({type(error).__name__}: {error})"))


class _Sender:
    """The sending end, for the thread that works and the one that beats."""

    def __init__(self, reports: Any) -> None:
        self._reports = reports
        self._lock = threading.Lock()

    def send(self, report: Report) -> None:
        with self._lock:
            self._reports.send(report)


def _work(
    make: Callable[[], Recogniser],
    limits: Limits,
    commands: Queue[Command],
    send: Callable[[Report], None],
) -> None:
    heart = Heart(lambda: send(Alive()))
    try:
        recogniser = make()
        hearing = Hearing(recogniser, limits)
    except WheelcallError as error:
        send(EarState("trouble", str(error)))
        return
    send(EarState("listening"))
    trouble = ""
    while True:
        command = commands.get()
        heart.turn()
        match command:
            case Prepare(grammars):
                send(Deaf(recogniser.prepare(grammars)))
            case ListenFor(grammar):
                hearing.listen_for(grammar)
            case Sound(samples, at):
                for event in hearing.feed(samples, at):
                    send(event)
            case Flush():
                for event in hearing.flush():
                    send(event)
                send(Flushed())
            case Interrupt():
                for event in hearing.interrupt():
                    send(event)
            case Leave():
                recogniser.close()
                return
        if isinstance(recogniser, Helped) and recogniser.trouble != trouble:
            trouble = recogniser.trouble
            send(Helpless(trouble))
        send(Done())

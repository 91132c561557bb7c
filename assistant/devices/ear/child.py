"""What runs in the ear's own process: commands in, events out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

from assistant.audio.endpoint import Limits
from assistant.child import Parent, ParentMissing
from assistant.devices.ear.events import EarEvent, EarState, Helpless
from assistant.devices.ear.hearing import Hearing
from assistant.devices.ear.heart import Heart
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
class Deaf:
    """Words that the recogniser can't hear."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Flushed:
    """The end of the sound was reached, and all that was heard before is reported."""


@runtime_checkable
class Helped(Protocol):
    """A recogniser with a helper that may fail without it."""

    trouble: str
    """What of the help is missing; '' where nothing is."""


Command = Prepare | ListenFor | Sound | Flush | Interrupt
Report = EarEvent | Deaf | Flushed


def run(parent: Parent[Command, Report], make: Callable[[], Recogniser], limits: Limits) -> None:
    """Body of the child process."""
    heart = Heart(parent.beat)
    recogniser = make()
    hearing = Hearing(recogniser, limits)
    parent.ready()
    parent.send(EarState("listening"))
    trouble = ""
    try:
        while True:
            heart.rest()
            command = parent.take()
            heart.turn()
            _obey(command, recogniser, hearing, parent.send)
            if isinstance(recogniser, Helped) and recogniser.trouble != trouble:
                trouble = recogniser.trouble
                parent.send(Helpless(trouble))
    except ParentMissing:
        recogniser.close()
        raise


def _obey(
    command: Command, recogniser: Recogniser, hearing: Hearing, send: Callable[[Report], None]
) -> None:
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

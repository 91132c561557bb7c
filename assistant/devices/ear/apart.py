"""A recogniser in a process of its own, asked and waited for: one that crashes is told of, and
takes nothing along.

`EarProcess` is for a microphone; this one is for who hands over whole utterances.
"""

from __future__ import annotations

import multiprocessing
import signal
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Any

from assistant.errors import DeviceFailed, WheelcallError
from assistant.log import get_log, start_log
from assistant.ports import Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton

DEVICE = "ear"
LOOK_SECONDS = 0.5
"""Between two looks whether a process that owes an answer is still there."""


class EarApart:
    """A `Recogniser`. Every method raises `DeviceFailed` where the one in the process fails, or the
    process is gone."""

    def __init__(self, make: Callable[[], Recogniser]) -> None:
        """`make` must be importable. Starts the process, and waits until the ear is loaded."""
        context = multiprocessing.get_context("spawn")
        self._pipe, there = context.Pipe()
        self._process = context.Process(
            target=_serve, args=(make, there), name="ear apart", daemon=True
        )
        self._process.start()
        there.close()  # or its end would never be seen here
        try:
            self.name = self._answer()
        except DeviceFailed:
            self._end()
            raise

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Compile grammars ahead of need; the words of theirs that this ear can't hear."""
        deaf: tuple[str, ...] = self._ask("prepare", tuple(grammars))
        return deaf

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._ask("begin", grammar)

    def feed(self, samples: Samples) -> str:
        """More of the utterance; the words so far, where the ear can tell, else ''."""
        words: str = self._ask("feed", samples)
        return words

    def finish(self) -> Heard:
        """End of the utterance: its words, or `Heard('')` for sound that is no command."""
        heard: Heard = self._ask("finish")
        return heard

    def close(self) -> None:
        """End the process: gently, then by force."""
        with suppress(DeviceFailed):
            self._ask("close")
        self._end()

    def _end(self) -> None:
        self._pipe.close()
        self._process.join(1.0)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()

    def _ask(self, name: str, *what: object) -> Any:
        try:
            self._pipe.send((name, what))
        except (OSError, ValueError):
            raise self._gone() from None
        return self._answer()

    def _answer(self) -> Any:
        try:
            while not self._pipe.poll(LOOK_SECONDS):
                if not self._process.is_alive() and not self._pipe.poll():
                    raise self._gone()
            well, answer = self._pipe.recv()
        except (EOFError, OSError):
            raise self._gone() from None
        if not well:
            raise DeviceFailed(DEVICE, answer)
        return answer

    def _gone(self) -> DeviceFailed:
        self._process.join(1.0)
        return DeviceFailed(DEVICE, f"its process stopped (exit code {self._process.exitcode})")


def _serve(make: Callable[[], Recogniser], pipe: Any) -> None:
    """Body of the process: answers until the other end is gone."""
    # Ctrl-C goes to every process of the terminal; this one ends with its pipe.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    start_log(child=True)
    try:
        ear = make()
        pipe.send((True, ear.name))
        while True:
            name, what = pipe.recv()
            pipe.send((True, getattr(ear, name)(*what)))
            if name == "close":
                return
    except (EOFError, BrokenPipeError):
        pass
    except WheelcallError as error:
        pipe.send((False, str(error)))
    except Exception as error:  # native code and models have their own kinds
        get_log("ear").exception("the ear's process fails")
        pipe.send((False, f"{type(error).__name__}: {error}"))

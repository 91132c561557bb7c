"""The ear of the demo: the first of several that works, each in a process of its own.

What an ear is made of is native code, which may die on a machine that nobody tried. That takes its
own process along; it is told, and the other ear goes on with the same utterance.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from assistant.devices.ear import EarApart
from assistant.errors import DeviceFailed
from assistant.ports import Recogniser, Samples
from assistant.spoken import Heard, WordAutomaton


class DemoEar:
    """A `Recogniser`. `finish` raises `DeviceFailed` where no ear is left."""

    name = "demo"

    def __init__(
        self, makes: Sequence[Callable[[], Recogniser]], tell: Callable[[str], None]
    ) -> None:
        """`makes` are tried in this order; `tell` takes a line for each that fails."""
        self._left = list(makes)
        self._tell = tell
        self._ear: EarApart | None = None
        self._grammar: WordAutomaton | None = None
        self._sound: list[Samples] = []
        self._why = "there is none"

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        """Nothing ahead of need: a recording waits for its answer."""
        return ()

    def begin(self, grammar: WordAutomaton) -> None:
        """Start an utterance held to `grammar`."""
        self._grammar, self._sound = grammar, []

    def feed(self, samples: Samples) -> str:
        """More of the utterance. It is heard as a whole: returns ''."""
        self._sound.append(samples)
        return ""

    def finish(self) -> Heard:
        """The words of the utterance, by the first ear that can hear it."""
        if self._grammar is None:
            raise RuntimeError("finish before begin")
        while self._ear is not None or self._left:
            try:
                if self._ear is None:
                    self._ear = EarApart(self._left[0])
                self._ear.begin(self._grammar)
                self._ear.feed(np.concatenate([np.zeros(0, np.float32), *self._sound]))
                return self._ear.finish()
            except DeviceFailed as failed:
                self._lose(failed.why)
        raise DeviceFailed("ear", self._why)

    def close(self) -> None:
        """End the process."""
        if self._ear is not None:
            self._ear.close()
            self._ear = None

    def _lose(self, why: str) -> None:
        self.close()
        del self._left[0]
        self._why = why
        if self._left:
            self._tell(f"The ear failed: {why}. The other ear goes on.")

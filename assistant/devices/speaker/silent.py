"""Speakers without sound: one that prints, and one that tests look into."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence

from assistant.spoken import Sentence


class PrintedSpeaker:
    """Prints every sentence at once: what is left where there is no speech engine."""

    name = "printed sentences"
    trouble = ""
    speaking = False

    def __init__(self, tell: Callable[[str], None] = print, notices: tuple[str, ...] = ()) -> None:
        self.notices = notices
        self._tell = tell

    def say(self, sentences: Sequence[Sentence]) -> None:
        """Print them."""
        for sentence in sentences:
            if sentence.text.strip():
                self._tell(f"says: {sentence.text}")

    def hush(self) -> None:
        """Nothing waits."""

    def foresee(self, sentences: Sequence[str]) -> None:
        """Print needs no time."""

    def adjust(
        self,
        *,
        rate: float | None = None,
        volume: float | None = None,
        shape: float | None = None,
    ) -> None:
        """Print has none of them."""

    def wait(self, timeout: float | None = None) -> bool:
        """All is printed already."""
        return True

    def close(self) -> None:
        """Nothing to give back."""


class SilentSpeaker:
    """Keeps what it was asked to say, and is speaking until it is told that it has finished.

    For tests: `said` holds every sentence in order; with `holds=True` each `say` makes it speak
    until `finish()`, so that what happens meanwhile can be tried.
    """

    name = "silent"

    def __init__(self, *, holds: bool = False) -> None:
        self.said: list[Sentence] = []
        self.foreseen: list[str] = []
        self.hushed = 0
        self.settings: dict[str, float] = {}
        self.trouble = ""
        self.notices: tuple[str, ...] = ()
        self._holds = holds
        self._quiet = threading.Event()
        self._quiet.set()

    @property
    def texts(self) -> list[str]:
        """The words of all sentences so far."""
        return [sentence.text for sentence in self.said]

    @property
    def speaking(self) -> bool:
        """Between `say` and `finish` or `hush`, if it holds."""
        return not self._quiet.is_set()

    def say(self, sentences: Sequence[Sentence]) -> None:
        """Keep them."""
        self.said += [sentence for sentence in sentences if sentence.text.strip()]
        if self._holds and sentences:
            self._quiet.clear()

    def finish(self) -> None:
        """All is said."""
        self._quiet.set()

    def hush(self) -> None:
        """Count it and be quiet."""
        self.hushed += 1
        self._quiet.set()

    def foresee(self, sentences: Sequence[str]) -> None:
        """Keep them."""
        self.foreseen = list(sentences)

    def adjust(
        self,
        *,
        rate: float | None = None,
        volume: float | None = None,
        shape: float | None = None,
    ) -> None:
        """Keep the settings."""
        for name, value in (("rate", rate), ("volume", volume), ("shape", shape)):
            if value is not None:
                self.settings[name] = value

    def wait(self, timeout: float | None = None) -> bool:
        """Wait for `finish` where it holds."""
        return self._quiet.wait(timeout)

    def close(self) -> None:
        """Be quiet."""
        self._quiet.set()

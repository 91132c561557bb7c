"""What every conversation with the operator has at run time, but a job at work: a `Talker` that
asks and answers, with its page, its trouble and its voice."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from assistant.app.assistant import Troubled
from assistant.app.turn import Ways, understand
from assistant.log import get_log
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.ports import Clock, Screen, Speaker
from assistant.present.glance import Ear, Glance
from assistant.spoken import Expected, Heard, Refused, Understood, WordAutomaton


@dataclass(frozen=True)
class Edge:
    """The devices of a conversation."""

    speaker: Speaker
    screen: Screen
    clock: Clock


class Conversation:
    """Used from the main thread alone."""

    def __init__(self, book: PhraseBook, devices: Edge, tell: Callable[[str], None]) -> None:
        self.book, self.devices, self.tell = book, devices, tell
        self.ear = Ear.STARTING
        self.ear_waits_for = ""
        self.level = 0.0
        self.last_heard = ""
        self.trouble: tuple[str, ...] = ()
        self.keys_shown = False
        self._page: tuple[object, Glance] | None = None

    def expected(self) -> tuple[Expected, ...]:
        """What may be heard now."""
        raise NotImplementedError

    @property
    def stage(self) -> object:
        """Another object whenever something else may be heard, or is shown."""
        raise NotImplementedError

    def page(self) -> Glance:
        """What is shown, without the state of the ear."""
        raise NotImplementedError

    # -- as a Talker --------------------------------------------------------------------------

    @property
    def ways(self) -> Ways:
        """What may be heard now."""
        allowed = self.expected()
        return Ways(allowed, compile_grammar(self.book, allowed))

    def in_a_sum(self, at: float) -> bool:
        """There are none here."""
        return False

    def ahead(self) -> Iterator[WordAutomaton]:
        """Its grammars are small: none is made ahead."""
        return iter(())

    @property
    def listens(self) -> bool:
        """Always."""
        return True

    def understood(self, heard: Heard, earlier: Sequence[Expected]) -> Understood | Refused:
        """What was heard, and its line in the transcript."""
        said = understand(self.book, self.expected(), heard, earlier)
        if heard.words:
            self.last_heard = heard.words
            self.tell(f"heard       {heard.words}   ({heard.engine}, {heard.confidence:.2f})")
        return said

    def show(self) -> None:
        """Show the page, and what is wrong with any device."""
        for what, device in (("Voice", self.devices.speaker), ("Screen", self.devices.screen)):
            if isinstance(device, Troubled):
                self.note_trouble(what, device.trouble)
        if self._page is None or self._page[0] is not self.stage:
            self._page = (self.stage, self.page())
        shown = replace(
            self._page[1], ear=self.ear, waits_for=self.ear_waits_for, heard=self.last_heard,
            level=self.level, trouble=self.trouble,
        )  # fmt: skip
        self.devices.screen.show(shown)

    def note_trouble(self, what: str, why: str) -> None:
        """Show that a device fails, or that it is back."""
        others = tuple(line for line in self.trouble if not line.startswith(f"{what}: "))
        line = f"{what}: {why}" if why else ""
        if (line and line in self.trouble) or (not line and others == self.trouble):
            return
        self.trouble = (*others, *([line] if line else []))
        self.tell(line or f"{what} is back.")
        get_log("devices").warning("%s", line or f"{what} is back.")


def why(error: OSError) -> str:
    """What can't be written, and why."""
    return f"{error.filename or 'a file'}: {error.strerror or error}"

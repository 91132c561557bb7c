"""Free moves at run time: kept, spoken, shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from assistant.app.assistant import NOT_WRITTEN
from assistant.app.conversation import Conversation, Edge, why
from assistant.app.free_file import FreeFile
from assistant.app.manner import Manner
from assistant.app.paths import configs_folder
from assistant.errors import JournalError
from assistant.free.book import expected, load_free_book
from assistant.free.hear import hear
from assistant.free.page import page
from assistant.free.talk import Talk
from assistant.free.words import CAUTIONS, STOP, opening, question
from assistant.phrases.book import PhraseBook
from assistant.present.glance import Glance
from assistant.session.state import State
from assistant.spoken import Expected, Heard, Intent, Sentence, Understood, Urgency

FORWARD = "I'm there"
NO_STATE = State()
"""No job's: what is said of moves without one is in full."""


def free_book() -> PhraseBook:
    """What may be said."""
    return load_free_book(configs_folder() / "free.toml")


class FreeMoves(Conversation):
    """One conversation; a `Talker`. Used from the main thread alone."""

    def __init__(
        self,
        book: PhraseBook,
        devices: Edge,
        talk: Talk,
        file: FreeFile,
        tell: Callable[[str], None] = print,
        *,
        manner: Manner | None = None,
        first: Callable[[frozenset[str]], None] | None = None,
    ) -> None:
        """`first` is told which axes are moved or zeroed before that is said; it raises `OSError`
        or `JournalError` where it can't keep that."""
        super().__init__(book, devices, tell)
        self.talk = talk
        self._file, self._first, self._manner = file, first, manner or Manner()

    # -- as a Talker --------------------------------------------------------------------------

    def expected(self) -> tuple[Expected, ...]:
        """What may be heard now."""
        return expected(self.talk)

    def page(self) -> Glance:
        """The move in hand, or where everything stands."""
        return page(self.talk)

    @property
    def stage(self) -> object:
        """What was told so far."""
        return self.talk

    @property
    def course(self) -> object:
        """The same machine all along."""
        return self.talk.machine

    @property
    def asks(self) -> bool:
        """Whether a question is open."""
        return self.talk.asks

    @property
    def asked_back(self) -> bool:
        """The same: no is an answer to every one of them."""
        return self.talk.asks

    @property
    def forward(self) -> str:
        """The word that carries it on, while a move is in hand."""
        return FORWARD if self.talk.places.leg is not None and not self.asks else ""

    @property
    def over(self) -> bool:
        """Whether it was left."""
        return self.talk.over

    def begin(self) -> None:
        """Say what it is, what it doesn't know, and the move in hand where one is."""
        self._speak((*opening(self.talk), question(self.talk)))
        self.show()

    def hear(self, heard: Heard, earlier: Sequence[Expected] = ()) -> None:
        """One thing heard: kept first, then adopted, then spoken and shown.

        Where it can't be kept nothing is changed, and that is said.
        """
        said = self.understood(heard, earlier)
        after = hear(self.book, self.talk, said)
        if after is self.talk:
            self.show()
            return
        wrong = self._kept(after)
        self.note_trouble("Free moves", wrong)
        if wrong:
            after = replace(self.talk, answer=(NOT_WRITTEN,))
        self.talk = after
        if after.answer[:1] == (STOP,):  # then silence, and no question back
            self.devices.speaker.hush()
            self._speak((STOP,))
        else:
            again = isinstance(said, Understood) and said.intent.name == "say_again"
            self._say(after.answer, again=again)
        self.show()

    # -- its own ------------------------------------------------------------------------------

    def _kept(self, after: Talk) -> str:
        """What can't be written, and why; '' where all is on the disk."""
        try:
            new = after.moved - self.talk.moved
            if new and self._first is not None:
                self._first(new)
            if after.over and not after.job:
                self._file.remove()
            elif after.places != self.talk.places or after.history != self.talk.history:
                self._file.save(after)
        except OSError as error:
            return f"it can't be written: {why(error)}"
        except JournalError as error:
            return f"it can't be written: {error}"
        return ""

    def _say(self, texts: tuple[str, ...], *, again: bool = False) -> None:
        self.devices.speaker.hush()
        self._speak((*texts, question(self.talk)), again=again)
        self._foresee()

    def _speak(self, texts: tuple[str, ...], *, again: bool = False) -> None:
        said = [text for text in texts if text]
        if said:
            self.tell(f"says        {' '.join(said)}\n")
        self.devices.speaker.say(self._sentences(said, again=again))

    def _sentences(self, texts: Sequence[str], *, again: bool = False) -> list[Sentence]:
        urgent = (*CAUTIONS, STOP, NOT_WRITTEN)
        sentences = [
            Sentence(text, Urgency.CAUTION if text in urgent else Urgency.ANSWER) for text in texts
        ]
        return self._manner.spoken(sentences, NO_STATE, again=again)

    def _foresee(self) -> None:
        """Have the voice make what will be said once the move in hand is made."""
        if not self.forward:
            return
        after = hear(self.book, self.talk, Understood(Intent("there"), Heard(FORWARD)))
        coming = self._sentences([text for text in (*after.answer, question(after)) if text])
        self.devices.speaker.foresee([sentence.text for sentence in coming])

"""The questions that begin a job or tell a machine, at run time: asked aloud, shown large, each
answer kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from assistant.app.assistant import Troubled
from assistant.app.drafts import Draft
from assistant.app.turn import Ways, understand
from assistant.errors import BadFile
from assistant.filling.hear import STOP, hear
from assistant.filling.page import page
from assistant.filling.shop import NEW
from assistant.filling.talk import BEGIN, Talk, expected
from assistant.filling.words import foreseen, opening, question
from assistant.log import get_log
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.ports import Clock, Screen, Speaker
from assistant.present.glance import Ear, Glance
from assistant.present.rule_words import fractions_in_words
from assistant.spoken import Expected, Heard, Sentence, Urgency, WordAutomaton


@dataclass(frozen=True)
class Edge:
    """The devices of the questions."""

    speaker: Speaker
    screen: Screen
    clock: Clock


class FillingIn:
    """One conversation; a `Talker`. Used from the main thread alone."""

    def __init__(
        self,
        book: PhraseBook,
        devices: Edge,
        talk: Talk,
        draft: Draft,
        keep: Callable[[Talk], str],
        tell: Callable[[str], None] = print,
    ) -> None:
        """`keep` writes the file and gives its name; raises `OSError` where it can't."""
        self.book, self.devices, self.talk = book, devices, talk
        self.ear = Ear.STARTING
        self.ear_waits_for = ""
        self.level = 0.0
        self.last_heard = ""
        self.trouble: tuple[str, ...] = ()
        self.keys_shown = False
        self.tell = tell
        self.unkept = False
        """Whether the answers are nowhere but here."""
        self._draft, self._keep = draft, keep
        self._page: tuple[Talk, Glance] | None = None

    # -- as a Talker --------------------------------------------------------------------------

    @property
    def ways(self) -> Ways:
        """What may be heard now."""
        allowed = expected(self.talk)
        return Ways(allowed, compile_grammar(self.book, allowed))

    @property
    def stage(self) -> object:
        """What was told so far."""
        return self.talk

    @property
    def course(self) -> object:
        """The kind of work."""
        return self.talk.sheet.form

    def in_a_sum(self, at: float) -> bool:
        """There are none here."""
        return False

    def ahead(self) -> Iterator[WordAutomaton]:
        """Each question's grammar is small: none is made ahead."""
        return iter(())

    @property
    def asks(self) -> bool:
        """Always, until it is over."""
        return not self.over

    @property
    def asked_back(self) -> bool:
        """Whether what was heard is asked back."""
        return self.talk.doubt is not None

    @property
    def forward(self) -> str:
        """Enter answers nothing by itself: it has the question said again."""
        return ""

    @property
    def listens(self) -> bool:
        """Always."""
        return True

    @property
    def over(self) -> bool:
        """Whether it has come to an end."""
        return bool(self.talk.end)

    def begin(self) -> None:
        """Ask the first question."""
        self._kept()
        self._say(self.talk.answer or opening(self.talk))

    def hear(self, heard: Heard, earlier: Sequence[Expected] = ()) -> None:
        """One thing heard: kept, then spoken and shown."""
        said = understand(self.book, expected(self.talk), heard, earlier)
        after = hear(self.book, self.talk, said)
        if heard.words:
            self.last_heard = heard.words
            self.tell(f"heard       {heard.words}   ({heard.engine}, {heard.confidence:.2f})")
        if after is self.talk:
            self.show()
            return
        self.talk = self._taken_up(after)
        self._kept()
        if after.answer[:1] == (STOP,):  # then silence, and no question back
            self.devices.speaker.hush()
            self._speak((STOP,))
        elif not self.over:
            self._say(self.talk.answer)
        self.show()

    def show(self) -> None:
        """Show the question, and what is wrong with any device."""
        for what, device in (("Voice", self.devices.speaker), ("Screen", self.devices.screen)):
            if isinstance(device, Troubled):
                self.note_trouble(what, device.trouble)
        if self._page is None or self._page[0] is not self.talk:
            self._page = (self.talk, page(self.talk))
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

    # -- its own ------------------------------------------------------------------------------

    def _taken_up(self, after: Talk) -> Talk:
        """Where a new job was chosen, what was answered of one before goes on."""
        if self.talk.begun or after.begun != NEW or after.work:
            return after
        try:
            before = self._draft.load(after.shop)
        except BadFile as bad:
            self.tell(f"What was answered before is left out: {bad}")
            return after
        if before is None:
            return after
        return replace(before, order=(BEGIN.key, *before.order), answer=opening(before))

    def _kept(self) -> None:
        """The answers, and the file once all is told, on disk before a word is said of them."""
        talk = self.talk
        wrong = ""
        if talk.filling and talk.asking is None and not talk.kept:
            try:
                self.talk = replace(talk, kept=self._keep(talk))
            except OSError as error:
                wrong = f"the file can't be written: {_why(error)}"
                if talk.end == "run":
                    self.talk = replace(talk, end="")  # nor run, then
        self.unkept = False
        try:
            if self.talk.kept:
                self._draft.remove()
            elif talk.work and self._draft.save(self.talk):
                self.tell(f"What was answered before is in {self._draft.before}.")
        except OSError as error:
            self.unkept = True
            wrong = wrong or f"what is answered isn't kept, it can't be written: {_why(error)}"
        self.note_trouble("Answers", wrong)

    def _say(self, before: tuple[str, ...]) -> None:
        """What is said to what was heard, and the question."""
        self.devices.speaker.hush()
        self._speak((*before, *question(self.talk)))
        self.devices.speaker.foresee([fractions_in_words(each) for each in foreseen(self.talk)])

    def _speak(self, texts: tuple[str, ...]) -> None:
        said = [text for text in texts if text]
        self.tell(f"says        {' '.join(said)}\n")
        urgency = Urgency.CAUTION if said[:1] == [STOP] else Urgency.ANSWER
        self.devices.speaker.say([Sentence(fractions_in_words(text), urgency) for text in said])


def _why(error: OSError) -> str:
    return f"{error.filename or 'a file'}: {error.strerror or error}"

"""The questions that begin a job or tell a machine, at run time: asked aloud, shown large, each
answer kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from assistant.app.conversation import Conversation, Edge, why
from assistant.app.drafts import Draft
from assistant.errors import BadFile
from assistant.filling.hear import STOP, hear
from assistant.filling.page import page
from assistant.filling.shop import NEW
from assistant.filling.talk import BEGIN, Talk, expected
from assistant.filling.words import foreseen, opening, question
from assistant.phrases.book import PhraseBook
from assistant.present.glance import Glance
from assistant.present.rule_words import fractions_in_words
from assistant.spoken import Expected, Heard, Sentence, Urgency


class FillingIn(Conversation):
    """The questions; a `Talker`. Used from the main thread alone."""

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
        super().__init__(book, devices, tell)
        self.talk = talk
        self.unkept = False
        """Whether the answers are nowhere but here."""
        self._draft, self._keep = draft, keep

    # -- as a Talker --------------------------------------------------------------------------

    def expected(self) -> tuple[Expected, ...]:
        """What may be heard now."""
        return expected(self.talk)

    def page(self) -> Glance:
        """The question, large."""
        return page(self.talk)

    @property
    def stage(self) -> object:
        """What was told so far."""
        return self.talk

    @property
    def course(self) -> object:
        """The kind of work."""
        return self.talk.sheet.form

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
    def over(self) -> bool:
        """Whether it has come to an end."""
        return bool(self.talk.end)

    def begin(self) -> None:
        """Ask the first question."""
        self._kept()
        self._say(self.talk.answer or opening(self.talk))

    def hear(self, heard: Heard, earlier: Sequence[Expected] = ()) -> None:
        """One thing heard: kept, then spoken and shown."""
        after = hear(self.book, self.talk, self.understood(heard, earlier))
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
                wrong = f"the file can't be written: {why(error)}"
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
            wrong = wrong or f"what is answered isn't kept, it can't be written: {why(error)}"
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

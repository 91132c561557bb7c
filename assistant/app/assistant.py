"""One job at run time: its state, and the devices by which it is kept, spoken and shown."""

from __future__ import annotations

import time
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Protocol, runtime_checkable

from assistant.app.ahead import grammars_ahead
from assistant.app.first_words import FirstWords
from assistant.app.forward import foreseen, forward_words
from assistant.app.manner import Manner
from assistant.app.opening import begin_job, changed_since
from assistant.app.transcript import Transcript
from assistant.app.trouble_talk import TroubleTalk
from assistant.app.turn import Outcome, Ways, sum_is_open, turn, ways
from assistant.errors import JournalError
from assistant.jobs.steps import Cut
from assistant.log import get_log
from assistant.phrases.book import PhraseBook
from assistant.ports import Clock, Journal, Screen, Speaker
from assistant.present.answer_lines import answered
from assistant.present.glance import Ear, Glance
from assistant.present.glance_of import glance
from assistant.present.keys_page import keys_page
from assistant.present.sentences import reply_sentences
from assistant.session.begin import next_part, resume
from assistant.session.decide import Decision
from assistant.session.reduce import replay
from assistant.session.state import State
from assistant.spoken import Expected, Heard, Sentence, Understood, Urgency, WordAutomaton
from assistant.textfile import visible

NOT_WRITTEN = "I couldn't write that down. Nothing is changed."


def _new_id(stem: str) -> str:
    """The identity of a new job, which is printed: a file's name may hold anything."""
    return f"{visible(stem)}-{uuid.uuid4().hex[:8]}"


def _says_all_again(outcome: Outcome) -> bool:
    """Whether the whole answer begins anew: what is being said of it is cut short."""
    said = outcome.said
    return (
        isinstance(said, Understood) and said.intent.name == "say_again" and bool(outcome.sentences)
    )


@runtime_checkable
class Troubled(Protocol):
    """A device that can tell what is wrong with it."""

    trouble: str
    """In plain words; '' where nothing is."""


@dataclass
class Devices:
    """What stands at the edge of a running job."""

    journal: Journal
    speaker: Speaker
    screen: Screen
    clock: Clock


@dataclass
class Assistant:
    """Carries one job. Used from the main thread alone."""

    book: PhraseBook
    devices: Devices
    transcript: Transcript = field(default_factory=Transcript)
    trouble: tuple[str, ...] = ()
    """What is missing or broken, one plain line each; shown on the screen."""
    manner: Manner = field(default_factory=Manner)
    """How the shop wants to be spoken to."""
    first_words: FirstWords = field(default_factory=FirstWords)
    """Which words carry the job on, for one who is new at this."""

    def __post_init__(self) -> None:
        self.state = State()
        self.job_id = ""
        self.ear = Ear.STARTING
        self.ear_waits_for = ""
        """What has to come before the ear listens: an attention word, a pedal."""
        self.level = 0.0
        self.last_heard = ""
        self.answered: tuple[tuple[str, ...], str] = ((), "")
        """What was answered last, for the frame and the foot of the page."""
        self.keys_shown = False
        """Whether the page of keys covers the step."""
        self.turns: list[float] = []
        """Seconds from what was heard to what is kept of it, for the log."""
        self._trouble_talk = TroubleTalk()
        self._numbers = 0
        self._number = ""
        self._page: tuple[State, tuple[object, ...], Glance] | None = None

    # -- beginning --------------------------------------------------------------------------

    def begin(self, job: Path) -> tuple[Sentence, ...]:
        """Begin a job from its file.

        Raises `BadFile` or `BadInput` for a job that can't be planned, `JournalError` where it
        can't be kept.
        """
        return self._start(_new_id(job.stem), begin_job(job, self.devices.clock.now()))

    def resume(self, job_id: str, job: Path | None = None) -> tuple[Sentence, ...]:
        """Take up an open job at the very step it was left; that its file `job` was changed since
        is said first."""
        state = replay(self.devices.journal.read(job_id))
        first = changed_since(job, state) if job is not None else ""
        return self._start(job_id, resume(state, self.devices.clock.now()), first)

    def _start(self, job_id: str, decision: Decision, first: str = "") -> tuple[Sentence, ...]:
        self.devices.journal.append(job_id, decision.records)
        self.job_id = job_id
        reply = reply_sentences(decision.reply, decision.state, None)
        sentences = (*((Sentence(first),) if first else ()), *reply)
        self.state = replace(
            decision.state, last_reply=tuple(sentence.text for sentence in sentences)
        )
        self.manner.adjust(self.devices.speaker, self.state)
        self.answered = answered(decision.reply, self.state)
        said = self.first_words.added(sentences, None, self.state)
        self.devices.speaker.say(self.manner.spoken(said, self.state))
        shown = self.show()
        self.transcript.answer(tuple(sentence.text for sentence in sentences), shown)
        self._foresee()
        return sentences

    def take_in(self, decision: Decision, *, spoken: bool = False) -> None:
        """Keep and adopt what came of no word of the job's own; `spoken` where its answer is said.
        Raises `JournalError` where it can't be kept: nothing is then changed."""
        self.devices.journal.append(self.job_id, decision.records)
        before, self.state = self.state, decision.state
        if not spoken:
            return
        sentences = tuple(reply_sentences(decision.reply, self.state, before))
        texts = tuple(sentence.text for sentence in sentences)
        self.state = replace(self.state, last_reply=texts)
        self.answered = answered(decision.reply, self.state)
        said = self.first_words.added(sentences, before, self.state)
        self.devices.speaker.say(self.manner.spoken(said, self.state))
        self.transcript.answer(texts, self.show())
        self._foresee()

    # -- commands ---------------------------------------------------------------------------

    @property
    def ways(self) -> Ways:
        """What may be heard now."""
        return ways(self.book, self.state, self.devices.clock.monotonic())

    @property
    def stage(self) -> object:
        """Another one whenever something else may be heard, but for a quick sum."""
        return self.state

    @property
    def course(self) -> object:
        """What is heard later on goes by the plan."""
        return self.state.plan

    def in_a_sum(self, at: float) -> bool:
        """Whether a quick sum is open at that monotonic time, in seconds."""
        return sum_is_open(self.state, at)

    def ahead(self) -> Iterator[WordAutomaton]:
        """The grammars of the steps to come."""
        return grammars_ahead(self.book, self.state)

    @property
    def asks(self) -> bool:
        """Whether a question is open."""
        return self.state.question is not None

    @property
    def asked_back(self) -> bool:
        """The same: every question of a job asks something back."""
        return self.asks

    @property
    def forward(self) -> str:
        """The word that carries the job on; '' where a value is wanted."""
        return forward_words(self.state)

    @property
    def listens(self) -> bool:
        """Whether the operator wants to be heard."""
        return self.state.listening

    @property
    def over(self) -> bool:
        """Whether the job is finished."""
        return self.state.finished

    def tell(self, line: str) -> None:
        """A line for the transcript."""
        self.transcript.tell(line)

    def hear(self, heard: Heard, earlier: Sequence[Expected] = ()) -> Outcome:
        """One thing heard: kept first, then adopted, then spoken and shown.

        Where it can't be kept the state stays as it was, and that is said.
        """
        begun = time.perf_counter()
        outcome = turn(self.book, self.state, heard, self.devices.clock.now(), earlier=earlier)
        if outcome.records:
            try:
                self.devices.journal.append(self.job_id, outcome.records)
            except JournalError as error:
                get_log("devices").error("Journal: %s", error)
                self.trouble = (*self._troubles_but("Journal"), f"Journal: {error}")
                unsaid = (Sentence(NOT_WRITTEN, Urgency.CAUTION),)
                outcome = replace(outcome, records=(), state=self.state, sentences=unsaid)
            else:
                self.trouble = self._troubles_but("Journal")
        self.turns.append(time.perf_counter() - begun)
        before = self.state
        self.state = outcome.state
        if outcome.reply.hush or _says_all_again(outcome):
            self.devices.speaker.hush()
        if (before.rate, before.volume) != (self.state.rate, self.state.volume):
            self.manner.adjust(self.devices.speaker, self.state)
        if heard.words:
            self.last_heard = heard.words
            self.keys_shown = False
        if heard.words or outcome.sentences:
            self.answered = answered(outcome.reply, self.state)
        self.first_words.heard(outcome.said)
        if outcome.sentences:
            again = _says_all_again(outcome)
            said = self.first_words.added(outcome.sentences, before, self.state)
            self.devices.speaker.say(self.manner.spoken(said, self.state, again=again))
        shown = self.show()
        self.transcript.command(heard, outcome, shown)
        if outcome.records:
            self._foresee()
        if self._wants_next_part(outcome):
            stem = self.job_id.rsplit("-", 1)[0]
            sentences = self._start(_new_id(stem), next_part(self.state, self.devices.clock.now()))
            return replace(outcome, state=self.state, sentences=sentences)
        return outcome

    def _wants_next_part(self, outcome: Outcome) -> bool:
        said = outcome.said
        return (
            self.state.finished
            and isinstance(said, Understood)
            and said.intent.name in ("same_again", "next_part")
        )

    def _foresee(self) -> None:
        """Have the voice make what will probably be said next, while the operator works."""
        coming = [
            sentence.text
            for outcome in foreseen(self.book, self.state, self.devices.clock.now())
            for sentence in self.manner.spoken(
                self.first_words.added(outcome.sentences, self.state, outcome.state), outcome.state
            )
        ]
        self.devices.speaker.foresee(coming)

    # -- the screen -------------------------------------------------------------------------

    def show(self) -> Glance:
        """Show where the job is, and what is wrong with any device."""
        for what, device in (("Voice", self.devices.speaker), ("Screen", self.devices.screen)):
            if isinstance(device, Troubled):
                self.note_trouble(what, device.trouble)
        self._say_what_is_due()
        shown = self._glance()
        if shown.number != self._number:
            self._number = shown.number
            self._numbers += 1
        shown = replace(shown, changed=self._numbers)
        self.devices.screen.show(keys_page(shown) if self.keys_shown else shown)
        return shown

    def _glance(self) -> Glance:
        """The page; the same one as long as nothing that it shows has changed: the loop looks many
        times a second, and in idle that is all it does."""
        seen = (self.ear, self.ear_waits_for, self.last_heard, self.answered, self.level,
                self.trouble)  # fmt: skip
        if self._page is not None and self._page[0] is self.state and self._page[1] == seen:
            return self._page[2]
        shown = glance(
            self.state,
            ear=self.ear,
            waits_for=self.ear_waits_for,
            heard=self.last_heard,
            answer=self.answered[0],
            noted=self.answered[1],
            level=self.level,
            trouble=self.trouble,
        )
        self._page = (self.state, seen, shown)
        return shown

    # -- trouble ----------------------------------------------------------------------------

    def note_trouble(self, what: str, why: str) -> None:
        """Show that a device fails, or that it is back (`why` is ''), and say so on what remains,
        in its time: see `TroubleTalk`."""
        before = next((line for line in self.trouble if line.startswith(f"{what}: ")), "")
        line = f"{what}: {why}" if why else ""
        if line == before:
            return
        self.trouble = (*self._troubles_but(what), *([line] if line else []))
        self.transcript.tell(line or f"{what} is back.")
        get_log("devices").warning("%s", line or f"{what} is back.")
        now = self.devices.clock.monotonic()
        self._trouble_talk.note(what, failing=bool(line), now=now)
        self._say_what_is_due()

    def _say_what_is_due(self) -> None:
        """Of devices that fail, or are well again; after "stop" or "hang on" there is silence."""
        if self.state.stopped or self.state.waiting:
            return
        cut = self.state.step_id if isinstance(self.state.step, Cut) else ""
        due = list(self._trouble_talk.due(cut, self.state.last_reply))
        if due:
            self.devices.speaker.say(due)

    def _troubles_but(self, what: str) -> tuple[str, ...]:
        return tuple(line for line in self.trouble if not line.startswith(f"{what}: "))

    # -- the end ----------------------------------------------------------------------------

    @property
    def steps_done(self) -> tuple[int, int]:
        """Steps finished, of all."""
        plan = self.state.plan
        done = self.state.done
        return sum(step.id in done for step in plan.steps), len(plan.steps)

    def closing_line(self) -> str:
        """`finished: JOB, S of S steps, H commands heard, U understood`."""
        title = self.state.plan.title or "no job"
        return self.transcript.closing(title, *self.steps_done)

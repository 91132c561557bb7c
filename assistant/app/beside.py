"""A job with free moves beside it: one `Talker`, and whichever of the two is listened to."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from assistant.app.assistant import Assistant
from assistant.app.conversation import Edge
from assistant.app.free_file import FreeFile
from assistant.app.free_moves import FreeMoves
from assistant.app.turn import Ways
from assistant.errors import BadFile, JournalError
from assistant.free.of_job import from_job
from assistant.phrases.book import PhraseBook
from assistant.present.glance import Ear
from assistant.session.aside import not_now
from assistant.session.free import back, moved
from assistant.spoken import Expected, Heard, Understood, WordAutomaton

MINE = "Free moves: "
"""Begins a line of trouble that isn't the job's."""


class JobAndFreeMoves:
    """A `Talker`: the job, until free moves are asked for; then those, until the way back. Used
    from the main thread alone."""

    def __init__(
        self,
        job: Assistant,
        book: Callable[[], PhraseBook],
        file: Callable[[str], FreeFile] = FreeFile,
    ) -> None:
        """`book` gives the phrases of free moves, `file` where those of a job are kept."""
        self.job = job
        self.free: FreeMoves | None = None
        self._book, self._file = book, file

    def hear(self, heard: Heard, earlier: Sequence[Expected] = ()) -> None:
        """One thing heard, by whom it is for."""
        if self.free is not None:
            self.free.hear(heard, earlier)
            if self.free.over:
                self._back()
            return
        said = self.job.hear(heard, earlier).said
        asked = isinstance(said, Understood) and said.intent.name == "free_moves"
        if asked and self.job.state.question is None and not not_now(self.job.state):
            self._leave()

    def _leave(self) -> None:
        """The job stands; its axes are where it knows them."""
        job = self.job
        file = self._file(job.job_id)
        try:
            kept = file.load(job.state.machine, job.state.plan.title)
        except BadFile as bad:
            job.tell(f"What was kept of free moves is left out: {bad}")
            kept = None
        edge = Edge(job.devices.speaker, job.devices.screen, job.devices.clock)
        self.free = FreeMoves(
            self._book(), edge, from_job(job.state, kept), file, job.tell,
            manner=job.manner, first=self._moves,
        )  # fmt: skip
        self.free.ear, self.free.trouble, self.free.level = job.ear, job.trouble, job.level
        self.free.begin()

    def _moves(self, axes: frozenset[str]) -> None:
        """These axes are moved next: before that is said, the job doesn't know them any more."""
        self.job.take_in(moved(self.job.state, axes, self.job.devices.clock.now()))

    def _back(self) -> None:
        free, self.free = self.free, None
        assert free is not None
        job = self.job
        job.ear, job.level = free.ear, free.level
        job.trouble = tuple(line for line in free.trouble if not line.startswith(MINE))
        try:
            job.take_in(back(job.state, free.talk.moved, job.devices.clock.now()), spoken=True)
        except JournalError as error:  # the job stands as it stood, and says so when it is asked
            job.note_trouble("Journal", str(error))
        job.show()

    # -- as a Talker --------------------------------------------------------------------------

    @property
    def active(self) -> Assistant | FreeMoves:
        """Whom is listened to."""
        return self.free if self.free is not None else self.job

    @property
    def devices(self) -> Edge:
        """Voice, screen and clock."""
        devices = self.job.devices
        return Edge(devices.speaker, devices.screen, devices.clock)

    @property
    def ear(self) -> Ear:
        """State of the ear, to be shown."""
        return self.active.ear

    @ear.setter
    def ear(self, value: Ear) -> None:
        self.active.ear = value

    @property
    def ear_waits_for(self) -> str:
        """What has to come before the ear listens."""
        return self.active.ear_waits_for

    @ear_waits_for.setter
    def ear_waits_for(self, value: str) -> None:
        self.active.ear_waits_for = value

    @property
    def level(self) -> float:
        """Of the input."""
        return self.active.level

    @level.setter
    def level(self, value: float) -> None:
        self.active.level = value

    @property
    def last_heard(self) -> str:
        """The last thing heard."""
        return self.active.last_heard

    @last_heard.setter
    def last_heard(self, value: str) -> None:
        self.active.last_heard = value

    @property
    def trouble(self) -> tuple[str, ...]:
        """What is missing or broken."""
        return self.active.trouble

    @trouble.setter
    def trouble(self, value: tuple[str, ...]) -> None:
        self.active.trouble = value

    @property
    def keys_shown(self) -> bool:
        """Whether the page of keys covers the page."""
        return self.active.keys_shown

    @keys_shown.setter
    def keys_shown(self, value: bool) -> None:
        self.active.keys_shown = value

    @property
    def ways(self) -> Ways:
        """What may be heard now."""
        return self.active.ways

    @property
    def stage(self) -> object:
        """Another object whenever something else may be heard."""
        return self.active.stage

    @property
    def course(self) -> object:
        """Another object whenever something else may be heard later on."""
        return self.active.course

    def in_a_sum(self, at: float) -> bool:
        """Whether a quick sum is open at that monotonic time, in seconds."""
        return self.active.in_a_sum(at)

    def ahead(self) -> Iterator[WordAutomaton]:
        """The grammars that will be wanted by and by."""
        return self.active.ahead()

    @property
    def asks(self) -> bool:
        """Whether a question is open."""
        return self.active.asks

    @property
    def asked_back(self) -> bool:
        """Whether what was heard is asked back."""
        return self.active.asked_back

    @property
    def forward(self) -> str:
        """What Enter says."""
        return self.active.forward

    @property
    def listens(self) -> bool:
        """Whether the operator wants to be heard."""
        return self.active.listens

    @property
    def over(self) -> bool:
        """Whether the job is finished; never while free moves are open."""
        return self.free is None and self.job.over

    def tell(self, line: str) -> None:
        """A line for the transcript."""
        self.job.tell(line)

    def show(self) -> object:
        """Show where it stands."""
        return self.active.show()

    def note_trouble(self, what: str, why: str) -> None:
        """A device fails, or is back."""
        self.active.note_trouble(what, why)

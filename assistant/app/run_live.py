"""The live loop: microphone, ear, voice, window and keys around one job.

Threads: this one (main) owns window, inbox, state and journal. One thread pumps sound from the
microphone to the ear's process, which only queues; the speaker has its own; typed lines have one
that only queues.
"""

from __future__ import annotations

import math
import queue
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from assistant.app.earphone import EarphoneGate
from assistant.app.echo import USUAL, EchoTail
from assistant.app.keyboard import typed_lines
from assistant.app.keys import press
from assistant.app.listening import Listening
from assistant.app.talker import Talker
from assistant.app.turn import Ways
from assistant.audio.levels import meter
from assistant.devices.ear import (
    EarEvent,
    EarProcess,
    EarState,
    HeardEvent,
    Helpless,
    Level,
    Partial,
    SpeechStarted,
)
from assistant.errors import DeviceFailed
from assistant.ports import AudioSource, Recogniser
from assistant.present.glance import Ear
from assistant.spoken import Expected, Heard

TICK = 0.02
"""Seconds between looks at ear, keys and voice."""
LINGER = 60.0
"""Seconds after the end of a job in which "same again" is still heard."""
STALL_SECONDS = 1.8
"""A source that gives no sound for so long has stopped, whatever it says itself."""
PAUSES = (0.25, 0.5, 1.0, 2.0, 4.0)
"""Seconds before each new try at a source that fails in a way of its own."""


@dataclass
class _Gate:
    """Whether the microphone's sound goes to the ear; closed while the assistant speaks."""

    open: bool = True
    trouble: queue.Queue[str] = field(default_factory=queue.Queue)
    closing: threading.Event = field(default_factory=threading.Event)
    fed: float = 0.0
    """Clock time of the last sound of a live source; 0 before the first."""
    echo: EchoTail = field(default_factory=EchoTail)
    earphone: EarphoneGate | None = None
    """With a headset: then the gate stays open, and this keeps its own voice back."""
    voice: Callable[[], bool] = lambda: False
    """Whether the assistant speaks, by the speaker's own word."""
    tail: float = USUAL
    """Seconds after it in which the room still does, as `echo` measured it."""
    _voice_at: float = -math.inf

    def own_voice(self, now: float, behind: float) -> bool:
        """Whether its own voice may be in a chunk that was read now, `behind` seconds after it
        came. For the thread of the sound: the loop, which opens and closes the gate, may be late on
        a busy computer, and so may this thread."""
        if self.voice():
            self._voice_at = now
        return now - behind - self._voice_at < self.tail


def _pump(
    source: AudioSource, ear: EarProcess, gate: _Gate, clock: Callable[[], float] = time.monotonic
) -> None:
    """Runs in a thread of its own: only moves sound on, and says when it stops coming."""
    pauses = iter(PAUSES)
    lost = False
    while not gate.closing.is_set():
        try:
            for chunk in source.chunks():
                if gate.closing.is_set():
                    return
                if lost:
                    lost, pauses = False, iter(PAUSES)
                    gate.trouble.put("")
                if source.live:
                    gate.fed = clock()
                    gate.echo.hear(chunk, gate.fed)
                own = source.live and gate.own_voice(clock(), source.behind)
                if gate.earphone is not None:
                    for part in gate.earphone.through(chunk, own=own):
                        ear.feed(part)
                elif gate.open and not own:
                    ear.feed(chunk)
            if not source.live:
                return
        except DeviceFailed as failed:  # it has waited before, longer each time
            lost = True
            gate.trouble.put(failed.why)
        except Exception as error:  # or nobody would know that this thread is gone
            lost = True
            gate.trouble.put(str(error) or type(error).__name__)
            gate.closing.wait(next(pauses, PAUSES[-1]))


class Live:
    """One live job. `step()` is one look at everything, so that tests can drive it."""

    def __init__(
        self,
        assistant: Talker,
        ear: EarProcess,
        *,
        headset: bool = False,
        listening: Listening | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.assistant = assistant
        self.ear = ear
        self.gate = _Gate(earphone=EarphoneGate() if headset else None, voice=self._speaking)
        self.inbox: queue.Queue[Heard | None] = queue.Queue()
        self.listening = listening or Listening()
        self._clock = clock
        self._spoken_until = 0.0
        self._stage: object = None
        self._course: object = assistant.course
        self._ways: Ways | None = None
        self._held = ""
        """Id of the grammar that the ear is held to."""
        self._expected: dict[str, list[tuple[float, Sequence[Expected]]]] = {}
        """What the sentences of a grammar meant, and from when on: steps that admit the same
        sentences share a grammar, but not what is plausible."""
        self._ahead = assistant.ahead()
        self._hearing = False
        self._in_a_sum = False
        self._finished_at = 0.0
        self._stalled = False

    def step(self) -> bool:
        """One look; False when the job is over or the operator closed it."""
        self._listen_for_what_is_allowed()
        self._watch_voice()
        for event in self.ear.poll():
            self._take(event)
        while not self.gate.trouble.empty():
            self._microphone(self.gate.trouble.get())
        self._watch_sound()
        while not self.inbox.empty():
            typed = self.inbox.get()
            if typed is not None:
                self.assistant.hear(typed)
        for key in self.assistant.devices.screen.keys():  # noqa: SIM118  (a port, no mapping)
            if key == "quit":
                return False
            if not self.listening.key(key, self._clock()):
                press(self.assistant, key)
        self.assistant.ear = self._state_of_ear()
        waits = self.assistant.ear is Ear.WAITING
        self.assistant.ear_waits_for = self.listening.waits_for(self._clock()) if waits else ""
        self.assistant.show()
        return not self._over()

    # -- the ear ----------------------------------------------------------------------------

    def _listen_for_what_is_allowed(self) -> None:
        stage, now = self.assistant.stage, self._clock()
        in_a_sum = self.assistant.in_a_sum(now)
        if stage is self._stage and in_a_sum == self._in_a_sum and self._ways is not None:
            self._prepare_one_more()
        else:
            self._in_a_sum = in_a_sum
            if self._course is not self.assistant.course:
                self._course, self._ahead = self.assistant.course, self.assistant.ahead()
            self._stage = stage
            self._ways = self.assistant.ways
            if self._wants_an_answer:
                self.listening.asks(now)
            else:
                self.listening.answered()
        held = self.listening.held(self._ways.grammar, now)
        meant = self._expected.setdefault(held.id, [])
        if not meant or meant[-1][1] is not self._ways.expected:
            meant.append((now, self._ways.expected))
            del meant[:-2]
        if held.id != self._held:
            self._held = held.id
            self.ear.listen_for(held)

    @property
    def _wants_an_answer(self) -> bool:
        return self.assistant.asks or self._in_a_sum

    def _prepare_one_more(self) -> None:
        """While nothing happens the grammars of the steps to come are compiled, one a look."""
        grammar = next(self._ahead, None)
        if grammar is not None:
            self.ear.prepare(self.listening.ahead(grammar))

    def _take(self, event: EarEvent) -> None:
        match event:
            case SpeechStarted():
                self._hearing = True
            case Partial(words):
                self.assistant.last_heard = f"{words} ..."
            case Level(rms_db=rms):
                self.assistant.level = meter(rms)
            case EarState(doing="trouble", why=why):
                self._hearing = False
                self.assistant.note_trouble("Ear", why)
            case Helpless(why):
                self.assistant.note_trouble("Second ear", why)
            case EarState(doing=doing):
                self._hearing = doing in ("hearing", "working")
                if doing == "listening":
                    self.assistant.note_trouble("Ear", "")
            case HeardEvent(heard=heard):
                self._hearing = False
                self._heard(heard)

    def _heard(self, heard: Heard) -> None:
        if self.assistant.asks and heard.started < self._spoken_until:
            # an answer begun before the question ended does not count
            self.assistant.tell(f"too early  {heard.words}")
            return
        earlier = self._meant_by(heard)
        said = self.listening.take(heard, self._clock())
        if said is None:
            self.assistant.last_heard = heard.words
        else:
            self.assistant.hear(said, earlier)

    def _meant_by(self, heard: Heard) -> Sequence[Expected]:
        """What its grammar stood for when it was begun to be said."""
        meant = self._expected.get(heard.grammar, [])
        begun = [expected for since, expected in meant if since <= heard.started]
        return begun[-1] if begun else meant[0][1] if meant else ()

    def _state_of_ear(self) -> Ear:
        if any(line.startswith("Ear:") for line in self.assistant.trouble):
            return Ear.TROUBLE
        if any(line.startswith("Microphone:") for line in self.assistant.trouble):
            return Ear.NO_MICROPHONE
        if not self.ear.ready:
            return Ear.STARTING
        if not self.gate.open:
            return Ear.SPEAKING
        if not self.assistant.listens:
            return Ear.NOT_LISTENING
        if self._hearing:
            return Ear.HEARING
        return Ear.LISTENING if self.listening.awake(self._clock()) else Ear.WAITING

    # -- its own voice ----------------------------------------------------------------------

    def _speaking(self) -> bool:
        return self.assistant.devices.speaker.speaking

    def _watch_voice(self) -> None:
        now = self._clock()
        speaking = self._speaking()
        self.gate.echo.look(now, speaking=speaking)
        if speaking:
            self._spoken_until = now
            if self._wants_an_answer:
                self.listening.asks(now)
        self.gate.tail = self.gate.echo.seconds
        tail = now - self._spoken_until < self.gate.tail
        if self.gate.earphone is not None:
            return
        was_open, self.gate.open = self.gate.open, not tail
        if was_open and not self.gate.open:
            # what is said now will lack its rest, which might be that of a number
            self.ear.interrupt()

    # -- trouble ----------------------------------------------------------------------------

    def _microphone(self, why: str) -> None:
        """What is wrong with the microphone; '' once sound comes again."""
        if why and any(line.startswith("Microphone:") for line in self.assistant.trouble):
            return  # the first reason is the real one; the rest is looking for it
        text = f"{why.rstrip('.')}. I'm looking for it. Type, or use the keys." if why else ""
        self.assistant.note_trouble("Microphone", text)

    def _watch_sound(self) -> None:
        """A source may stop without a word: the loop looks for itself."""
        stalled = self.gate.fed > 0 and self._clock() - self.gate.fed > STALL_SECONDS
        if stalled and not self._stalled:
            self._microphone("No sound comes from it.")
        elif self._stalled and not stalled:
            self._microphone("")
        self._stalled = stalled

    # -- the end ----------------------------------------------------------------------------

    def _over(self) -> bool:
        if not self.assistant.over:
            self._finished_at = 0.0
            return False
        now = self._clock()
        if not self._finished_at:
            self._finished_at = now
        return now - self._finished_at > LINGER


def run_live(
    assistant: Talker,
    source: AudioSource,
    make_ear: Callable[[], Recogniser],
    *,
    headset: bool = False,
    listening: Listening | None = None,
    typed: bool = False,
    until_finished: bool = False,
    instead: Callable[[], Recogniser] | None = None,
) -> bool:
    """Work a job by microphone; True where it was finished.

    `typed` takes lines from the keyboard as well. `until_finished` ends with the job, without
    waiting for the next part. `instead` makes the ear for where the other can't be started.
    """
    ear = EarProcess(make_ear, instead=instead)
    live = Live(assistant, ear, headset=headset, listening=listening)
    ear.start()
    pump = threading.Thread(target=_pump, args=(source, ear, live.gate), name="sound", daemon=True)
    pump.start()
    if typed:
        live.inbox = typed_lines(assistant.devices.clock)
    try:
        while live.step():
            if until_finished and assistant.over:
                break
            time.sleep(TICK)
    finally:
        live.gate.closing.set()
        source.close()
        ear.close()
        pump.join(timeout=2)
    return assistant.over

"""The demo: a recorded operator works a whole job through the real ear."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import replace

from assistant.app.assistant import Assistant
from assistant.app.operator import DemoOperator
from assistant.devices.wav import SoundFile
from assistant.ports import Recogniser
from assistant.present.glance import Ear
from assistant.spoken import Heard, Sentence

LONGEST_ANSWER = 60.0
"""Seconds to wait for an answer to be spoken; a voice that takes longer has stopped."""


LOOK = 0.1
"""Seconds between two looks at the voice."""

DEMO_RATE = 300
"""Words a minute at which the demo is spoken: as fast as the speaker goes, so that a whole job
takes under three minutes."""


def run_demo(
    assistant: Assistant,
    operator: DemoOperator,
    ear: Recogniser,
    opening: tuple[Sentence, ...],
    *,
    fast: bool = False,
) -> bool:
    """Work the job; True where every step was finished.

    The recordings go through `ear`, held to the full grammar of the step; nothing else of them
    reaches the assistant. `fast` does not wait for the answers to be spoken.
    """
    if not fast:
        assistant.devices.speaker.adjust(rate=DEMO_RATE)
    answer = [sentence.text for sentence in opening]
    while True:
        _let_speak(assistant, fast=fast)
        phrase = operator.next(answer)
        if phrase is None:
            break
        assistant.ear = Ear.HEARING
        heard = _hear(assistant, ear, SoundFile(operator.script.clip(phrase)))
        assistant.ear = Ear.LISTENING
        outcome = assistant.hear(heard)
        answer = [sentence.text for sentence in outcome.sentences]
    if operator.gave_up:
        assistant.transcript.tell(f"the operator gave up at: {operator.gave_up}")
    return assistant.state.finished


def _hear(assistant: Assistant, ear: Recogniser, clip: SoundFile) -> Heard:
    """What the ear makes of a recording; the screen goes on meanwhile, as in a job that is live."""
    clock = assistant.devices.clock
    grammar, began = assistant.ways.grammar, clock.monotonic()

    def listen() -> Heard:
        ear.begin(grammar)
        for chunk in clip.chunks():
            ear.feed(chunk)
        return ear.finish()

    with ThreadPoolExecutor(1, thread_name_prefix="demo-ear") as worker:
        listening = worker.submit(listen)
        while not listening.done():
            assistant.show()
            wait((listening,), LOOK)
    # an ear that is handed its utterance whole doesn't know when that was
    return replace(listening.result(), started=began, ended=clock.monotonic())


def _let_speak(assistant: Assistant, *, fast: bool) -> None:
    if fast:
        return
    speaker = assistant.devices.speaker
    if speaker.speaking:
        assistant.ear = Ear.SPEAKING
        assistant.show()
    until = assistant.devices.clock.monotonic() + LONGEST_ANSWER
    while not speaker.wait(LOOK) and assistant.devices.clock.monotonic() < until:
        assistant.show()  # who looks on has to know that this goes on
    assistant.ear = Ear.LISTENING
    assistant.show()

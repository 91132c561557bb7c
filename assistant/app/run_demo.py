"""The demo: a recorded operator works a whole job through the real ear."""

from __future__ import annotations

from dataclasses import replace

from assistant.app.assistant import Assistant
from assistant.app.operator import DemoOperator
from assistant.devices.wav import SoundFile
from assistant.ports import Recogniser
from assistant.present.glance import Ear
from assistant.spoken import Sentence

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
        clip = SoundFile(operator.script.clip(phrase))
        assistant.ear = Ear.HEARING
        assistant.show()
        clock = assistant.devices.clock
        began = clock.monotonic()
        ear.begin(assistant.ways.grammar)
        for chunk in clip.chunks():
            ear.feed(chunk)
        # an ear that is handed its utterance whole doesn't know when that was
        heard = replace(ear.finish(), started=began, ended=clock.monotonic())
        assistant.ear = Ear.LISTENING
        outcome = assistant.hear(heard)
        answer = [sentence.text for sentence in outcome.sentences]
    if operator.gave_up:
        assistant.transcript.tell(f"the operator gave up at: {operator.gave_up}")
    return assistant.state.finished


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

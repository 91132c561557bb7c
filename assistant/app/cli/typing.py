"""`wheelcall say`: a job by typed commands."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable

from assistant.app.assistant import Assistant, Devices
from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.paths import find_job
from assistant.app.transcript import Transcript, intent_text
from assistant.app.turn import Outcome
from assistant.devices.clock import SystemClock
from assistant.devices.hidden import HiddenScreen
from assistant.devices.journal import MemoryJournal
from assistant.devices.speaker import SilentSpeaker
from assistant.devices.typed import TypedWords
from assistant.phrases.book import load_book
from assistant.spoken import Understood


def say_words(job: str, words: list[str], *, as_json: bool) -> int:
    """Work `job` by `words`, or by the lines of standard input; nothing is kept.

    The exit status is 0 where every command was understood.
    """
    clock = SystemClock()
    devices = Devices(MemoryJournal(), SilentSpeaker(), HiddenScreen(), clock)
    tell = (lambda _line: None) if as_json else print
    assistant = Assistant(load_book(), devices, Transcript(tell))
    assistant.begin(find_job(job))
    lines: Iterable[str] = words or _lines()
    for heard in TypedWords(lines, clock):
        outcome = assistant.hear(heard)
        if as_json:
            print(json.dumps(_as_json(outcome, assistant)))
    if not as_json:
        print(assistant.closing_line())
    all_taken = assistant.transcript.heard == assistant.transcript.understood
    return 0 if all_taken else EXIT_UNFINISHED


def _lines() -> Iterable[str]:
    if sys.stdin.isatty():
        print("Type a command and press Enter; end with Control-D.\n")
    return sys.stdin


def _as_json(outcome: Outcome, assistant: Assistant) -> dict[str, object]:
    shown = assistant.show()
    said = outcome.said
    return {
        "words": said.heard.words,
        "understood": intent_text(said.intent) if isinstance(said, Understood) else None,
        "refused": None if isinstance(said, Understood) else said.reason.value,
        "detail": "" if isinstance(said, Understood) else said.detail,
        "says": [sentence.text for sentence in outcome.sentences],
        "number": shown.number,
        "unit": shown.unit,
        "what": shown.what,
        "dial": shown.dial,
        "step": assistant.state.step_id,
        "finished": assistant.state.finished,
    }

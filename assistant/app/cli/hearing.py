"""`wheelcall hear`: what the ear hears in sound files, one JSON line a file."""

from __future__ import annotations

import json
import time
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.app.cli.sheet import planned
from assistant.app.settings import load_settings, with_options
from assistant.app.transcript import intent_text
from assistant.app.wiring import find_ear, with_second
from assistant.devices.opinion import SecondOpinion
from assistant.devices.wav import SoundFile
from assistant.errors import WheelcallError
from assistant.phrases.book import PhraseBook, load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import match
from assistant.phrases.opinion import weigh_opinions
from assistant.ports import Recogniser
from assistant.session.allowed import allowed
from assistant.spoken import Expected, Heard, Intent, Refused, Slot, SlotKind, Understood
from assistant.units import is_quantity

PATIENT_SECONDS = 20.0
"""The second ear's process may have to start first."""


def hear_files(
    files: list[Path],
    *,
    job: str | None,
    phrases: Path | None,
    numbers: bool,
    engine: str,
    as_json: bool,
    second: bool = False,
) -> int:
    """Hear each file; the exit status is 0 where all could be read."""
    book = load_book(phrases)
    expected = _expected(book, job, numbers=numbers, own=phrases is None)
    grammar = compile_grammar(book, expected)
    found = find_ear(replace(with_options(load_settings(), ear=engine), second_opinion=second))
    settings, make, line = found.settings, found.make, found.line
    make, second_line = with_second(settings, make)
    ear = make()
    if isinstance(ear, SecondOpinion):
        ear.wait = PATIENT_SECONDS  # nobody waits for an answer here
    deaf = ear.prepare([grammar])
    if not as_json:
        print(line)
        if second:
            print(second_line)
        print(f"{grammar.sentence_count:,} sentences may be heard.")
        if deaf:
            print(f"This ear can't hear: {', '.join(deaf)}")
    unread = 0
    for path in files:
        try:
            heard, seconds, took = _hear(ear, path, grammar)
        except WheelcallError as error:
            unread += 1
            print(json.dumps({"file": str(path), "error": str(error)}))
            continue
        said = weigh_opinions(book, expected, match(book, expected, heard))
        print(json.dumps(_line(path, said, seconds, took)))
    ear.close()
    return EXIT_UNFINISHED if unread else 0


def _hear(ear: Recogniser, path: Path, grammar: object) -> tuple[Heard, float, float]:
    from assistant.spoken import WordAutomaton

    assert isinstance(grammar, WordAutomaton)
    chunks = list(SoundFile(path).chunks())
    sound = np.concatenate(chunks) if chunks else np.zeros(0, np.float32)
    started = time.perf_counter()
    ear.begin(grammar)
    ear.feed(sound)
    heard = ear.finish()
    return heard, len(sound) / 16_000, time.perf_counter() - started


def _expected(book: PhraseBook, job: str | None, *, numbers: bool, own: bool) -> Sequence[Expected]:
    if numbers:
        return (Expected("number", (Slot("number", SlotKind.LENGTH, "inch"),)),)
    if job is not None:
        return allowed(planned(job))
    return book.expected()


def _line(path: Path, said: Understood | Refused, seconds: float, took: float) -> dict[str, object]:
    intent = said.intent if isinstance(said, Understood) else said.candidate
    if isinstance(said, Understood):
        verdict = "accepted"
    else:
        verdict = "asked back" if said.candidate is not None else "rejected"
    return {
        "file": str(path),
        "words": said.heard.words,
        "intent": intent.name if intent is not None else None,
        "slots": _slots(intent),
        "confidence": round(said.heard.confidence, 4),
        "verdict": verdict,
        "reason": "" if isinstance(said, Understood) else said.reason.value,
        "detail": "" if isinstance(said, Understood) else said.detail,
        "text": intent_text(intent),
        "free": said.heard.free,
        "engine": said.heard.engine,
        **_opinion(said.heard),
        "seconds": round(seconds, 3),
        "took": round(took, 3),
    }


def _opinion(heard: Heard) -> dict[str, object]:
    """What the second ear heard, where one was asked."""
    if heard.opinion is None:
        return {}
    return {
        "second": heard.opinion.words,
        "second_confidence": round(heard.opinion.confidence, 4),
        "second_engine": heard.opinion.engine,
    }


def _slots(intent: Intent | None) -> dict[str, object]:
    if intent is None:
        return {}
    return {
        name: {"value": str(value.magnitude), "unit": str(value.units)}
        if is_quantity(value)
        else value
        for name, value in intent.slots
    }

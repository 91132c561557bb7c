"""Phrases that the operator says once, for the ear's check and for its getting to know a voice.

Each is said into the microphone when it is asked for, or read from a folder of sound files that
are named after what is said in them, as `measured_one_point_five.flac`. Sound is kept in memory
only.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

import numpy as np

from assistant.app.asking import Asker
from assistant.app.turn import NO_COMMAND
from assistant.audio.levels import meter
from assistant.demo import clip_name
from assistant.devices.ear import HeardEvent, Hearing, Level, SpeechStarted
from assistant.devices.wav import SoundFile
from assistant.errors import BadInput, DeviceFailed
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import match
from assistant.ports import AudioSource, Samples
from assistant.present.glance import Ear
from assistant.session.allowed import CONSEQUENT
from assistant.spoken import Expected, Heard, Intent, Slot, SlotKind, Understood, WordAutomaton

DOZEN = (
    "yes", "no", "touched", "checked", "i'm set", "that's through", "how much left",
    "what should the dial read", "measured one point six seven two", "measured three seventy five",
    "cut seventy thou this pass", "front wall five sixty two and a half",
)  # fmt: skip
"""For `check --ear`: commands and sizes, short and long."""
TWENTY = (
    *DOZEN, "clear", "it's even", "why", "how many turns", "three thou",
    "measured one point five", "measured one point six six oh",
    "back wall five sixty three and a half",
)  # fmt: skip
"""For `voice`."""
PLAIN = Expected("").floor
ENDINGS = (".flac", ".wav", ".ogg", ".aiff", ".mp3")
SAY_SECONDS = 8.0
"""So long a phrase is waited for."""
TRIES = 2
SHARE = 0.75
"""So much of the phrases must be there, for the outcome to mean anything."""


@dataclass(frozen=True)
class Take:
    """One phrase as it was said."""

    phrase: str
    sound: Samples


def expected(book: PhraseBook) -> tuple[Expected, ...]:
    """All commands of the book at once, a size by itself among them: harder than any step."""
    size = Expected("measured", (Slot("size", SlotKind.LENGTH, "inch"),))
    rest = [
        each
        for each in book.expected()
        if each.intent not in ("measured", "number") and not each.intent.startswith("sum_")
    ]
    return (size, *rest)


def grammar_of(book: PhraseBook) -> WordAutomaton:
    """The grammar of `expected`."""
    return compile_grammar(book, expected(book))


class Verdict(StrEnum):
    """What became of a phrase."""

    RIGHT = "right"
    ASKED = "asked"
    """Asked back, whatever was heard."""
    WRONG = "wrong"
    """Taken for something else: the one that does harm."""
    UNHEARD = "unheard"


def judge(book: PhraseBook, phrase: str, heard: Heard) -> Verdict:
    """What the book makes of `heard` where `phrase` was said."""
    meant, said = _intent(book, phrase), _intent(book, heard.words)
    if said is None or heard.confidence < NO_COMMAND:
        return Verdict.UNHEARD
    if heard.confidence < (CONSEQUENT if said.has_number else PLAIN):
        return Verdict.ASKED
    return Verdict.RIGHT if said == meant else Verdict.WRONG


def _intent(book: PhraseBook, words: str) -> Intent | None:
    """What `words` mean, the likeliest reading where there are two: no step says which."""
    said = match(book, expected(book), Heard(words, 1.0, engine="prompt"))
    return said.intent if isinstance(said, Understood) else said.candidate


def from_files(folder: Path, phrases: Sequence[str]) -> list[Take]:
    """The phrases that lie in `folder`. Raises `BadInput` where too few do."""
    takes = []
    for phrase in phrases:
        name = _stem(phrase)
        path = next((p for end in ENDINGS if (p := folder / f"{name}{end}").is_file()), None)
        if path is not None:
            chunks = list(SoundFile(path).chunks())
            takes.append(Take(phrase, np.concatenate(chunks) if chunks else np.zeros(0, "f4")))
    if len(takes) < SHARE * len(phrases):
        missing = [p for p in phrases if p not in {take.phrase for take in takes}]
        raise BadInput(
            "--from", folder,
            f"only {len(takes)} of {len(phrases)} phrases are there; wanted sound files named as "
            f"what is said: {', '.join(map(_stem, missing))}",
        )  # fmt: skip
    return takes


def _stem(phrase: str) -> str:
    """What the file of a phrase is named, without its ending."""
    return Path(clip_name(phrase)).stem


def from_microphone(
    source: AudioSource,
    phrases: Sequence[str],
    asker: Asker | None = None,
    clock: Callable[[], float] = time.monotonic,
) -> list[Take]:
    """Each phrase as it is said, when `asker` has asked for it; without one they are printed.

    Nothing is listened to while the asker itself speaks. Closes source and asker. Raises
    `DeviceFailed` where the microphone stops, and where too little is said.
    """
    asker = asker or Asker()
    chunks = source.chunks()
    takes: list[Take] = []
    try:
        for number, phrase in enumerate(phrases, 1):
            for _ in range(TRIES):
                asker.ask(phrase, number, len(phrases))
                sound = _listen(chunks, asker, clock)
                if sound is not None:
                    takes.append(Take(phrase, sound))
                    break
                asker.unheard()
        asker.finish()
    finally:
        source.close()
        asker.close()
    if len(takes) < SHARE * len(phrases):
        raise DeviceFailed(
            "microphone", f"only {len(takes)} of {len(phrases)} phrases were heard to be said"
        )
    return takes


class _Keeper:
    """A recogniser that keeps the sound of an utterance and hears nothing."""

    name = "keeper"

    def __init__(self) -> None:
        self.parts: list[Samples] = []

    def prepare(self, grammars: Sequence[WordAutomaton]) -> tuple[str, ...]:
        return ()

    def begin(self, grammar: WordAutomaton) -> None:
        self.parts = []

    def feed(self, samples: Samples) -> str:
        self.parts.append(samples)
        return ""

    def finish(self) -> Heard:
        return Heard("", 0.0, engine=self.name)

    def close(self) -> None:
        pass


def _listen(chunks: Iterator[Samples], asker: Asker, clock: Callable[[], float]) -> Samples | None:
    """The next utterance; None where nobody speaks in time, or the source ends."""
    keeper = _Keeper()
    hearing = Hearing(keeper)
    # any grammar will do: nothing is recognised yet
    hearing.listen_for(WordAutomaton("any", ({"any": 1}, {}), frozenset({1})))
    end = clock() + SAY_SECONDS
    ear, level = Ear.LISTENING, 0.0
    for chunk in chunks:
        if asker.speaking():
            end = clock() + SAY_SECONDS
            continue
        for event in list(hearing.feed(chunk)):
            match event:
                case HeardEvent():
                    return np.concatenate(keeper.parts)
                case SpeechStarted():
                    ear = Ear.HEARING
                case Level(rms_db=rms):
                    level = meter(rms)
        asker.show(ear, level)
        if clock() > end:
            break
    if any(isinstance(event, HeardEvent) for event in hearing.flush()):
        return np.concatenate(keeper.parts)
    return None

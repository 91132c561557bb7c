"""A conversation without devices, for tests."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from assistant.app.paths import configs_folder
from assistant.app.turn import understand
from assistant.filling.book import load_question_book
from assistant.filling.hear import hear
from assistant.filling.shop import Earlier, Shop
from assistant.filling.talk import Talk, expected
from assistant.filling.words import question
from assistant.machine import Machine, load_machine
from assistant.phrases.book import PhraseBook, load_book
from assistant.spoken import Heard
from assistant.textfile import read_file, read_toml


@cache
def book() -> PhraseBook:
    return load_question_book(configs_folder() / "questions.toml", load_book())


@cache
def machines() -> dict[str, Machine]:
    folder = configs_folder() / "machines"
    return {path.stem: load_machine(path) for path in sorted(folder.glob("*.toml"))}


def earlier(job: str) -> Earlier:
    """A demo job as the one that was worked last."""
    path = configs_folder() / "jobs" / f"{job}.toml"
    table = read_toml(read_file(path), path)
    return Earlier(table["title"], table)


def begun(last: str = "", **begin: str) -> Talk:
    return Talk(Shop(machines(), earlier(last) if last else None, begin))


def say(talk: Talk, words: str, *, engine: str = "typed", confidence: float = 1.0) -> Talk:
    heard = Heard(words, confidence, engine=engine)
    return hear(book(), talk, understand(book(), expected(talk), heard))


def after(lines: Iterable[str], talk: Talk | None = None, *, engine: str = "typed") -> Talk:
    talk = talk or begun()
    for line in lines:
        talk = say(talk, line, engine=engine)
    return talk


def asked(talk: Talk) -> str:
    return question(talk)[-1]


KEYSEAT = (
    "keyseat", "millrace horizontal", "an inch and a half", "yes", "two and a quarter inches",
    "three and a half inches", "one inch and a half", "mild steel",
)  # fmt: skip
"""A keyseat in eight answers."""

NAMED = ("drill press", "inch", "yes", "yes")
WHEEL = ("half an inch", "one hundred", "five thou", "down", "skip", "settable")
QUILL = (*NAMED, *WHEEL, "skip", "five inches")
SPEEDS = (*QUILL, "belts")
PLATE = ("sixty", "ninety five", "one forty", "that's all")
DRILL = (*SPEEDS, *PLATE, "none", "no")
"""A drill press in so many answers."""

"""Free moves without devices, for tests."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from assistant.app.free_moves import free_book
from assistant.app.paths import configs_folder
from assistant.app.turn import understand
from assistant.free.book import expected
from assistant.free.hear import hear
from assistant.free.places import nowhere
from assistant.free.talk import Talk
from assistant.free.words import question
from assistant.machine import Machine, load_machine
from assistant.phrases.book import PhraseBook
from assistant.spoken import Heard


@cache
def book() -> PhraseBook:
    return free_book()


@cache
def machine(name: str) -> Machine:
    return load_machine(configs_folder() / "machines" / f"{name}.toml")


def begun(name: str = "leat-vertical") -> Talk:
    return Talk(machine(name), nowhere(machine(name)))


def say(talk: Talk, words: str, *, engine: str = "typed", confidence: float = 1.0) -> Talk:
    heard = Heard(words, confidence, engine=engine)
    return hear(book(), talk, understand(book(), expected(talk), heard))


def after(lines: Iterable[str], talk: Talk | None = None) -> Talk:
    talk = talk or begun()
    for line in lines:
        talk = say(talk, line)
    return talk


def said(talk: Talk) -> str:
    """All that is said to the last thing heard, with the question."""
    return " ".join(part for part in (*talk.answer, question(talk)) if part)


ZEROED = ("zero the table", "right", "zero the saddle", "in")
"""Table and saddle with their zeros, each come to the way of its rising dial."""

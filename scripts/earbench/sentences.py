"""What is said in the bench: the whole phrase book, sizes as machinists say them, and talk.

All of it is made here from seeds, so that it can be made again and none of it is a recording of
anybody. How sizes are said is common practice, no source.
"""

from __future__ import annotations

import random
import re
import tomllib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from assistant.phrases.book import PhraseBook
from assistant.phrases.words import normal
from assistant.spoken import WordAutomaton
from assistant.spoken.written import DIGITS, TEENS, TENS

BANK = Path(__file__).with_name("talk_bank.toml")


def book_phrases(book: PhraseBook, grammar: WordAutomaton) -> list[str]:
    """Every example of the book, and every template that has no choice in it, as it is heard."""
    said = []
    for phrases in book.intents.values():
        plain = [each.text for each in phrases.templates if not set(each.text) & set("[](){}<>|")]
        said += [normal(each) for each in (*phrases.examples, *plain)]
    return [each for each in dict.fromkeys(said) if grammar.accepts(each.split())]


def number_sentences(count: int, seed: int, grammar: WordAutomaton) -> list[str]:
    """`count` different sentences with a size, a reading, a deviation or a rate in them."""
    rng = random.Random(seed)
    found: dict[str, None] = {}
    while len(found) < count:
        said = rng.choice(_SENTENCES)(rng)
        if grammar.accepts(said.split()):
            found[said] = None
    return list(found)


def talk_sentences(count: int, seed: int, tuning: bool) -> Iterator[str]:
    """`count` sentences of talk, from the templates that tuning may use or from the others."""
    bank = tomllib.loads(BANK.read_text(encoding="utf-8"))
    templates = bank["talk"][0 if tuning else 1 :: 2]
    rng = random.Random(seed)
    for _ in range(count):
        yield re.sub(
            r"\{(\w+)\}", lambda blank: rng.choice(bank["lists"][blank[1]]), rng.choice(templates)
        )


def _below_hundred(number: int) -> str:
    if number < 10:
        return DIGITS[number]
    if number < 20:
        return TEENS[number - 10]
    tens, one = divmod(number, 10)
    return f"{TENS[tens - 2]} {DIGITS[one]}" if one else TENS[tens - 2]


def _digits(number: str) -> str:
    return " ".join(DIGITS[int(figure)] for figure in number)


def _pair(rng: random.Random) -> str:
    """Two figures of a longer number: `twenty five`, `oh nine`."""
    number = rng.randrange(1, 100)
    return f"oh {DIGITS[number]}" if number < 10 else _below_hundred(number)


def _three(rng: random.Random) -> str:
    return f"{DIGITS[rng.randrange(1, 10)]} {_pair(rng)}"


def _decimal(rng: random.Random) -> str:
    places = rng.choice((3, 3, 3, 4))
    whole = rng.choice(("", "", "one ", "two ", "three "))
    if places == 3 and rng.random() < 0.3:
        return f"{whole}point {_three(rng)}"
    return f"{whole}point {_digits(f'{rng.randrange(10**places):0{places}d}')}"


def _fraction(rng: random.Random) -> str:
    below, names = rng.choice(
        ((2, ("half",)), (4, ("quarter", "quarters")), (8, ("eighth", "eighths")),
         (16, ("sixteenth", "sixteenths")))
    )  # fmt: skip
    top = rng.randrange(1, below, 2)
    whole = rng.choice(("", "", "one and ", "two and "))
    if top == 1:
        article = "an" if below == 8 else "a"
        return f"{whole}{article} {names[0]}"
    return f"{whole}{_below_hundred(top)} {names[-1]}"


def _thou(rng: random.Random) -> str:
    kind = rng.random()
    if kind < 0.12:
        return rng.choice(("half a thou", "a thou and a half", "a thou", "two tenths",
                           "three tenths", "five tenths"))  # fmt: skip
    number = _below_hundred(rng.randrange(2, 100))
    if kind < 0.25:
        return f"{rng.choice(('a', 'one', 'two', 'three'))} hundred and {number} thou"
    return f"{number}{rng.choice(('', '', ' and a half'))} thou"


def _metric(rng: random.Random) -> str:
    unit = rng.choice(("millimeters", "millimetres"))
    number = _below_hundred(rng.randrange(1, 100))
    return f"{number} point {_digits(str(rng.randrange(100)).zfill(rng.choice((1, 2))))} {unit}"


def _size(rng: random.Random) -> str:
    return rng.choice((_decimal, _decimal, _decimal, _three, _three, _fraction, _thou, _metric))(
        rng
    )


def _reading(rng: random.Random) -> str:
    part = rng.choice((_below_hundred(rng.randrange(1, 100)), _three(rng)))
    half = rng.choice(("", "", "", " and a half"))
    if rng.random() < 0.35:
        turns = rng.randrange(1, 10)
        return f"{DIGITS[turns]} {'turn' if turns == 1 else 'turns'} and {part}{half}"
    return part + half


def _rate(rng: random.Random) -> str:
    tens = TENS[rng.randrange(8)]
    return rng.choice((
        f"{DIGITS[rng.randrange(1, 10)]} {tens}", f"{DIGITS[rng.randrange(1, 10)]} hundred",
        _below_hundred(rng.randrange(10, 100)),
        f"{_below_hundred(rng.randrange(2, 15))} and a {rng.choice(('half', 'quarter'))}",
    ))  # fmt: skip


def _deviation(rng: random.Random) -> str:
    way = rng.choice(("over", "under", "big", "small"))
    if rng.random() < 0.4:
        return f"{_below_hundred(rng.randrange(1, 30))} {rng.choice(('over', 'under'))}"
    return f"{_thou(rng)} {way}"


def _put(form: str, value: Callable[[random.Random], str]) -> Callable[[random.Random], str]:
    return lambda rng: form.format(value(rng))


_SENTENCES: Sequence[Callable[[random.Random], str]] = (
    *(_put(form, _size) for form in (
        "measured {}", "measured {}", "it measures {}", "left wall {}", "right wall {}", "no {}",
        "i said {}", "new cutter is {}", "{} to metric",
    )),
    *(_put(form, _thou) for form in ("cut {}", "take {} this pass", "paper is {}", "feeler is {}",
                                     "went past by {}")),
    *(_put(form, _reading) for form in (
        "dial reads {}", "dial reads {}", "i'm on {}", "the knee dial reads {}",
        "the saddle dial reads {}",
    )),
    *(_put(form, _rate) for form in ("speed is {}", "feed is {}", "running at {}")),
    _deviation, _deviation,
)  # fmt: skip

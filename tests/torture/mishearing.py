"""Whole jobs with an ear that takes numbers for others: what gets into the job unnoticed.

A confusion is counted when the value that the job takes is not the one that was meant. It is
noticed where it is asked back (outside the plausible band, or unclear), and it can be noticed
where it is read back as heard. What must not happen: a wrong value outside the band that is not
asked back, and one inside it that is not read back.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.app.turn import turn
from assistant.jobs.steps import Measure
from assistant.session.allowed import allowed
from assistant.session.state import Phase, State
from assistant.spoken import Heard, Intent, Refused, Understood
from assistant.units import Quantity, is_quantity, magnitude
from tests.factories import BOOK, NOW, Job, expected_words

CONFUSIONS: Mapping[str, tuple[str, ...]] = {
    "five": ("nine",), "nine": ("five",), "oh": ("four",), "four": ("oh",),
    "fifteen": ("fifty",), "fifty": ("fifteen",), "thirteen": ("thirty",), "thirty": ("thirteen",),
    "fourteen": ("forty",), "forty": ("fourteen",), "sixteen": ("sixty",), "sixty": ("sixteen",),
    "seventeen": ("seventy",), "seventy": ("seventeen",), "eighteen": ("eighty",),
    "eighty": ("eighteen",), "nineteen": ("ninety",), "ninety": ("nineteen",), "two": ("three",),
    "three": ("two",), "six": ("eight",), "eight": ("six",), "seven": ("eleven",),
    "eleven": ("seven",), "one": ("nine",), "point": ("",), "half": ("",),
}  # fmt: skip
"""Words that ears take for others; which, from what the bench of the ear shows."""


@dataclass
class Misheard:
    """What whole jobs with a bad ear came to."""

    jobs: int = 0
    numbers: int = 0
    """Values told."""
    wrong: int = 0
    """Values heard wrong."""
    asked_back: int = 0
    """Wrong ones that were asked back."""
    read_back: int = 0
    """Wrong ones taken, and read back as heard."""
    unread: int = 0
    """Wrong ones taken and not read back: must be 0."""
    outside: int = 0
    """Wrong ones taken outside the plausible band: must be 0."""


def mishear(count: int, rate: float = 0.15, seed: int = 1) -> Misheard:
    """`count` whole jobs, in which each number word is misheard with probability `rate`."""
    rng = random.Random(seed)
    result = Misheard()
    start = Job().state
    for _ in range(count):
        result.jobs += 1
        state = start
        for _turn in range(400):
            if state.finished:
                break
            state = _step(state, rng, rate, result)
        else:
            raise AssertionError(f"a job came to no end at {state.step_id}")
    return result


def _step(state: State, rng: random.Random, rate: float, result: Misheard) -> State:
    meant = _words(state, rng)
    heard = _misheard(meant, rng, rate)
    outcome = turn(BOOK, state, Heard(heard, 0.95, engine="moonshine"), NOW)
    if not any(word in CONFUSIONS for word in meant.split()):
        return outcome.state
    result.numbers += 1
    right = turn(BOOK, state, Heard(meant, 0.95, engine="moonshine"), NOW)
    value, wanted = _value(outcome.said), _value(right.said)
    if value != wanted:
        result.wrong += 1
        if isinstance(outcome.said, Refused):
            result.asked_back += outcome.said.candidate is not None
        else:
            _count_taken(state, outcome.said.intent, outcome.sentences, result)
    if outcome.state.question is not None:
        # the operator hears the read-back: no to a wrong one, yes to a right one
        answer = "yes" if value == wanted else "no"
        return turn(BOOK, outcome.state, Heard(answer, 0.98, engine="moonshine"), NOW).state
    if isinstance(outcome.said, Refused):
        return state  # said again
    if value != wanted:
        return state  # the operator hears it read back wrong, and takes it back
    return outcome.state


def _count_taken(state: State, intent: Intent, sentences: object, result: Misheard) -> None:
    bands = {
        slot.name: slot
        for expected in allowed(state)
        if expected.intent == intent.name
        for slot in expected.slots
    }
    for name, value in intent.slots:
        slot = bands.get(name)
        if slot is None or not is_quantity(value):
            continue
        if (slot.low is not None and value < slot.low) or (
            slot.high is not None and value > slot.high
        ):
            result.outside += 1
            return
    if sentences:
        result.read_back += 1
    else:
        result.unread += 1


def _words(state: State, rng: random.Random) -> str:
    """What the operator means to say at this step."""
    step = state.step
    if state.question is not None:
        return "no"
    if state.phase is Phase.PAPER:
        return rng.choice(["three thou", "two thou", "paper is three thou", "bare"])
    if isinstance(step, Measure) and step.kind == "walls":
        return (
            "front wall five sixty two and a half"
            if "walls.left" not in state.facts
            else ("back wall five sixty three")
        )
    if isinstance(step, Measure) and step.kind == "size":
        assert step.nominal is not None
        inches = magnitude(step.nominal, "inch")
        thou = round(inches * 1000) + rng.randint(-3, 3)
        whole, rest = divmod(int(thou), 1000)
        digits = " ".join(
            ("oh", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")[int(d)]
            for d in f"{rest:03}"
        )
        return f"measured {'one ' if whole else ''}point {digits}"
    return expected_words(state)


def _misheard(words: str, rng: random.Random, rate: float) -> str:
    said = []
    for word in words.split():
        if word in CONFUSIONS and rng.random() < rate:
            word = rng.choice(CONFUSIONS[word])
        if word:
            said.append(word)
    return " ".join(said)


def _value(said: Understood | Refused) -> tuple[object, ...]:
    intent = said.intent if isinstance(said, Understood) else said.candidate
    if intent is None:
        return ()
    return (intent.name, *(_plain(value) for _, value in intent.slots))


def _plain(value: object) -> object:
    return str(value.to("inch").magnitude.normalize()) if _is_length(value) else str(value)


def _is_length(value: object) -> bool:
    return is_quantity(value) and bool(Quantity.check(value, "[length]"))

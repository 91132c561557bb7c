"""Random words through the matcher: none changes a job unless it is a phrase of that step."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from assistant.app.turn import turn, ways
from assistant.session.decide import QUIET
from assistant.spoken import Heard, Understood
from tests.factories import BOOK, NOW, Job, expected_words

EVERYDAY = "the radio said that we would have rain and then some sun today maybe"


@dataclass
class Babbled:
    """What many random strings did."""

    strings: int = 0
    phrases: int = 0
    """Strings that happened to be a phrase of the step."""
    changed: int = 0
    """Strings that changed the state without being one: must be 0."""


def babble(
    count: int,
    seed: int = 1,
    job: str = "keyseat-inch",
    until: Callable[[], bool] = lambda: False,
) -> Babbled:
    """`count` strings of one to seven words of the phrase book and of everyday English, at
    every step of a job in turn."""
    rng = random.Random(seed)
    result = Babbled()
    bench = Job(job)
    states = [bench.state]
    while not bench.state.finished:
        bench.say(expected_words(bench.state))
        states.append(bench.state)
    spans = [ways(BOOK, state, 0.0) for state in states]
    vocabulary = sorted(set().union(*(span.grammar.vocabulary for span in spans)))
    words = [*vocabulary, *EVERYDAY.split()]
    for number in range(count):
        if until():
            break
        place = number % len(states)
        state, span = states[place], spans[place]
        said = [rng.choice(words) for _ in range(rng.randint(1, 7))]
        outcome = turn(BOOK, state, Heard(" ".join(said), 0.99, engine="moonshine"), NOW)
        result.strings += 1
        phrase = span.grammar.accepts(said)
        result.phrases += phrase
        if phrase:
            continue
        taken = isinstance(outcome.said, Understood) and outcome.said.intent.name not in QUIET
        if taken or outcome.state.facts != state.facts or outcome.state.step_id != state.step_id:
            result.changed += 1
    return result

"""What is measured: the parts of the table, and how much of each."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator

from earbench import corpora
from earbench.measure import Condition
from earbench.mixing import Surroundings

NOISY = tuple(Surroundings(snr) for snr in (20.0, 15.0, 10.0, 5.0, 0.0))
ROOM = tuple(
    Surroundings(snr, microphone) for microphone in ("near", "far") for snr in (None, 15.0)
)
EVERYWHERE = (Surroundings(), *NOISY, *ROOM)
ABOVE_5_DB = (
    Surroundings(), *NOISY[:3], Surroundings(15.0, "near"), Surroundings(15.0, "far"),
)  # fmt: skip

PHRASES = 110
"""Phrases a noisy condition, drawn from the voices that were kept back."""
DIGITS = 40
ROUND = 600
"""Number sentences."""


def real() -> Iterator[Condition]:
    """Real people: AN4's and FSDD's test speakers."""
    an4 = corpora.real("test", "AN4")
    digits = corpora.drawn(corpora.real("test", "FSDD") or corpora.real("test", "Digit"), DIGITS)
    for where in EVERYWHERE:
        for name, said, grammar in (
            ("real numbers (AN4)", _of(an4, "number"), corpora.an4_grammar()),
            ("real digits (FSDD)", digits, corpora.digit_grammar()),
            ("real commands (AN4)", _of(an4, "command"), corpora.an4_grammar()),
        ):
            yield Condition(name, said, grammar, where)
    numbers = _of(an4, "number")
    yield Condition("real numbers, outside", numbers, corpora.without_numbers(), inside=False)


def phrases() -> Iterator[Condition]:
    """Every phrase of the book in several voices, quiet; then some in every condition."""
    book = corpora.whole_book()
    every = [folder for name in ("clips", "book") for folder in _final_and_tuned(name)]
    kept_back = [each for said, tuned in every if not tuned for each in corpora.by_voice(said)]
    tuned = [each for said, was_tuned in every if was_tuned for each in said]
    made = [each for said, _ in every for each in corpora.by_rule(said)]
    yield Condition("phrases, voices kept back", _a_few_each(kept_back, 2), book)
    yield Condition("phrases, voices tuned on", _a_few_each(tuned, 1), book)
    yield Condition("phrases, voices by rule", _a_few_each(made, 1), book)
    some = corpora.drawn(kept_back, PHRASES, seed=5)
    for where in EVERYWHERE[1:]:
        yield Condition("phrases, voices kept back", some, book, where)


def _a_few_each(utterances: list[corpora.Utterance], most: int) -> list[corpora.Utterance]:
    """Every phrase by at most so many of its speakers, drawn at random."""
    times: Counter[str] = Counter()
    found = []
    for each in corpora.drawn(utterances, 0, seed=8):
        times[each.text] += 1
        if times[each.text] <= most:
            found.append(each)
    return found


def numbers() -> Iterator[Condition]:
    """Number sentences, each heard once, in every condition above 5 dB by turns. In rounds, so
    that a run that is stopped has heard as many in each condition."""
    said = corpora.drawn(corpora.synthetic("numbers", False), 0, seed=6)
    for begin in range(0, len(said), ROUND):
        for at, where in enumerate(ABOVE_5_DB):
            share = said[begin : begin + ROUND][at :: len(ABOVE_5_DB)]
            yield Condition("number sentences", share, corpora.whole_book(), where)


def _final_and_tuned(folder: str) -> list[tuple[list[corpora.Utterance], bool]]:
    return [(corpora.synthetic(folder, tuning), tuning) for tuning in (False, True)]


def _of(utterances: list[corpora.Utterance], kind: str) -> list[corpora.Utterance]:
    return [each for each in utterances if each.kind == kind]


SPOKEN: dict[str, Callable[[], Iterator[Condition]]] = {
    "real": real, "phrases": phrases, "numbers": numbers,
}  # fmt: skip
PARTS = (*SPOKEN, "machines", "talk", "speed")

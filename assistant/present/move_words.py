"""Handwheel moves in words: `Saddle in, four turns and one forty and a half.`"""

from __future__ import annotations

import re

from assistant.jobs.steps import Move, Step
from assistant.machine import WAYS
from assistant.phrases import saying
from assistant.present.formatting import (
    goes_round,
    other_way,
    passes_zero,
    show,
    turns_to_quarter,
)
from assistant.present.numbers import in_dial_unit
from assistant.spoken import DialMove, Figure

WORDS_A_SECOND = 190 / 60
"""At the usual rate of speech; a hyphenated word counts as its parts."""
LONGEST = 4.0
"""Seconds."""


def seconds(text: str) -> float:
    """About how long a text takes to say."""
    return len(re.findall(r"[\w']+", text)) / WORDS_A_SECOND


def move_sentence(
    move: DialMove, *, short: bool = False, arriving: str = "", named: bool = False
) -> str:
    """One handwheel move: `Saddle in, four turns and one forty and a half.`

    `short`, where the operator has the wheel in hand: `Up six, to seventeen.` `arriving` is the
    way that the last of the move must go; it differs from `move.direction` where the target is
    passed and come back to.
    """
    axis = move.wheel.axis
    lead = move.direction if short and not named else f"{axis} {move.direction}"
    if move.back_off is not None:
        return _with_back_off(move, arriving or move.direction, short and not named)
    if move.turns == 0 and move.part == 0:
        return f"{axis.capitalize()} stays: {reading_words(move)} on the dial."
    travel = _travel(move)
    comma = "" if move.turns == 0 else ","
    stop = "" if move.reading.magnitude == move.part else f"to {reading_words(move)}"
    if stop and passes_zero(move):
        stop = f"past zero, {stop}"
    if short and not stop and move.turns == 0:
        stop = f"to {reading_words(move)}"
    text = sentence(f"{lead}{comma} {travel}")
    if move.turns == 0:
        return _joined(text, stop) if stop else f"{text} Under a turn."
    return f"{text} {sentence(f'Stop at {reading_words(move)}')}" if stop else text


def arriving(step: Step | None, move: DialMove) -> str:
    """The way that the last of the step's move must go, in the operator's words."""
    if isinstance(step, Move):
        return WAYS[step.axis][0 if step.approach > 0 else 1]
    return move.direction


def printed(step: Step, figure: Figure) -> str:
    """A move on paper, before its turns and reading: `saddle in 0.9375 in`."""
    move = figure.move
    assert move is not None
    if goes_round(move):
        return f"{move.wheel.axis} back off, and {arriving(step, move)} to it"
    return f"{move.wheel.axis} {move.direction} {show(figure)}"


def _with_back_off(move: DialMove, arriving: str, short: bool) -> str:
    """Round by the other side, so that the backlash is taken up."""
    assert move.back_off is not None
    back = saying.say_turn_count(turns_to_quarter(move.back_off, move.wheel))
    axis = "" if short else f"{move.wheel.axis} "
    if arriving == move.direction:
        other = other_way(move)
        first = sentence(f"{axis}{other} {back} first")
        return _joined(first, f"then {arriving} to {reading_words(move)}")
    if move.turns == 0:
        past = sentence(f"{axis}{move.direction} {back} past {reading_words(move)}")
        return _joined(past, f"then {arriving} to it")
    turns = sentence(f"{axis}{move.direction}, {saying.say_turns(move.turns)} and on")
    past = sentence(f"Go {back} past {reading_words(move)}")
    return f"{turns} {_joined(past, f'then {arriving} to it')}"


def _joined(first: str, rest: str) -> str:
    """A sentence with a clause after it, as one where that is not too long to say."""
    whole = f"{first[:-1]}, {rest}."
    return whole if seconds(whole) <= LONGEST else f"{first} {sentence(rest)}"


def _travel(move: DialMove) -> str:
    part = in_dial_unit(move.part, str(move.wheel.per_turn.units))
    return saying.say_turns(move.turns, part)


def reading_words(move: DialMove) -> str:
    """What the dial reads at the end of a move: `one forty and a half`."""
    return saying.say_reading(move.reading)


def sentence(text: str) -> str:
    """A text with its capital and its full stop."""
    text = text.strip()
    return f"{text[:1].upper()}{text[1:]}."

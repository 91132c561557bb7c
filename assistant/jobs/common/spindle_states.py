"""The spindle, as it was last asked for: asked for again wherever a step needs another state.

Nobody tells what the spindle does, and nothing can see it. Every step says what it needs and how
it leaves the spindle; here the whole row is gone through once, and where a running cutter is
needed after a look, or a spindle at rest after a cut, the words ask for that first. What a step
asks for in words of its own (`Spindle on: it plunges.`) is asked every time.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.jobs.steps import Step
from assistant.replacing import replace

USUAL = {"on": "Spindle on.", "off": "Spindle off."}
AT_REST = "off"
"""How a job begins: everything before the first touch is done with the spindle stopped."""


def asked_for(steps: Iterable[Step]) -> tuple[Step, ...]:
    """The same steps, each asking first for what it needs of the spindle where that is another
    state than was asked for last."""
    made: list[Step] = []
    state = AT_REST
    for step in steps:
        words = step.spindle_words
        if not words and step.spindle and step.spindle != state:
            words = USUAL[step.spindle]
        made.append(_saying(step, words) if words else step)
        state = step.spindle_after or step.spindle or state
    return tuple(made)


def _saying(step: Step, words: str) -> Step:
    """With these words first, both times that it is spoken."""
    if words not in step.said_after:
        again = _first(words, step.again) if step.again else ()
        step.said_after[words] = replace(step, say=_first(words, step.say), again=again)
    return step.said_after[words]


def _first(words: str, say: tuple[str, ...]) -> tuple[str, ...]:
    return (f"{words} {say[0]}", *say[1:]) if say else (words,)

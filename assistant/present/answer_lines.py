"""What was just answered, as lines for the eye: nothing is only spoken.

The instruction and an open question have the page itself; here is the rest of a reply: the value
said back, a figure that was asked for, its derivation, a verdict. Numbers are those that the ear
got, in figures and with their unit.
"""

from __future__ import annotations

from assistant.present.formatting import show
from assistant.present.sentences import verdict
from assistant.session.reply import (
    Answer,
    Instruction,
    Part,
    ReadBack,
    Reply,
    Say,
    Travel,
    Verdict,
    Why,
)
from assistant.session.state import State
from assistant.spoken import Figure, SlotKind
from assistant.spoken.rounding import FINER

NOTED = 40
"""Letters of the longest remark that stands in the foot of the next step's page."""

_MAIN = (Answer, Travel, Verdict)
_SIGNS = {1: "+", -1: "−", 0: "with"}


def answer_lines(reply: Reply, state: State) -> tuple[str, ...]:
    """The lines of `reply` in the state that it led to, the most telling first."""
    lines: list[str] = []
    said: list[str] = []  # sentences run on in one paragraph
    for part in sorted(reply.parts, key=lambda part: not isinstance(part, _MAIN)):
        if isinstance(part, Say):
            said += [part.text] if part.text else []
            continue
        lines += [" ".join(said)] if said else []
        said.clear()
        lines += _lines(part, state)
    return (*lines, " ".join(said)) if said else tuple(lines)


def answered(reply: Reply, state: State) -> tuple[tuple[str, ...], str]:
    """What is shown of a reply in a frame, and what in the foot of the page.

    In the foot stands what is short and said before the instruction that follows: a value said
    back, how a size lies. What was asked for has the frame, and so has all that is longer.
    """
    lines = answer_lines(reply, state)
    remark = " ".join(line if line[-1:] in ".?!" else f"{line}." for line in lines)
    follows = any(isinstance(part, Instruction) for part in reply.parts)
    if follows and len(remark) <= NOTED:
        return (), remark
    return lines, ""


def _lines(part: Part, state: State) -> list[str]:
    match part:
        case ReadBack():
            unit = part.unit or ("" if part.kind is SlotKind.READING else state.unit)
            return [show(part.value, unit)]
        case Answer():
            return [_figure(part.figure, part.unit or state.unit)]
        case Travel():
            rest = f" + {show(part.part)}" if part.part.magnitude else ""
            turns = f"{part.turns} turn{'s' * (part.turns != 1)}"
            return [
                f"{part.axis}: {turns}{rest}" if part.turns else f"{part.axis}: {show(part.part)}"
            ]
        case Why():
            return _why(part.figure, state.unit)
        case Verdict():
            value = show(Figure(part.value, "", part.limits.places + FINER), state.unit)
            said = verdict(part.value, part.limits, state.unit)
            return [f"{value}: {said}" if said else value]
    return []


def _figure(figure: Figure, unit: str) -> str:
    """A figure with what it is; one on a dial in the dial's unit."""
    shown = show(figure, "" if figure.move is not None else unit)
    what = f"{figure.what[:1].upper()}{figure.what[1:]}"
    return f"{what}: {shown}" if what else shown


def _why(figure: Figure, unit: str) -> list[str]:
    """The figure, then its derivation, a term a line, or where it comes from."""
    lines = [f"{_SIGNS[term.sign]} {term.name} {show(term.value, unit)}" for term in figure.terms]
    if not lines:
        return ["No sum behind it." if not figure.source else f"From {figure.source}."]
    return [_figure(figure, unit), *lines]

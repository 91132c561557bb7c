"""The conversation for the eye: the question large, what may be said, what was answered."""

from __future__ import annotations

from dataclasses import replace

from assistant.filling.book import choices_of
from assistant.filling.talk import BEGIN, MACHINE, Talk
from assistant.filling.words import choices_in_words, machine_line, question, summary
from assistant.jobs.field import Field, Kind
from assistant.present.glance import Glance, Moment

SAYS = {
    Kind.LENGTH: "a size",
    Kind.READING: "what it reads",
    Kind.RATE: "a number",
    Kind.ROW: "a number",
    Kind.WHOLE: "a number",
    Kind.ANGLE: "degrees",
    Kind.NUMBER: "a number",
    Kind.YES: "yes or no",
    Kind.TEXT: "it is typed",
    Kind.CHOICE: "one of these",
}
BIG = 4
"""So many choices are set large."""
MANY = 32
"""So many are named at all."""


def page(talk: Talk) -> Glance:
    """What is shown, without the state of the ear."""
    one = talk.asking
    words = question(talk)
    cautions = (one.caution,) if one is not None and one.caution else ()
    shown = Glance(
        Moment.ASK,
        instruction=words[-1],
        answer=(*talk.answer, *(each for each in words[:-1] if each not in cautions)),
        cautions=cautions,
        place=f"answer {talk.answers + 1}" if one is not None else "",
        job=talk.sheet.form.called,
    )
    if talk.doubt is not None:
        both = talk.doubt.otherwise is not None
        return replace(shown, choices=() if both else ("yes", "no"), say="it again" if both else "")
    if one is None:
        return replace(shown, detail=summary(talk), choices=("yes", "no"),
                       say="yes, no, ask me more, change ...")  # fmt: skip
    return _about(one, talk, shown)


def _about(one: Field, talk: Talk, shown: Glance) -> Glance:
    offered = bool(talk.sheet.offered(one))
    words = choices_in_words(one, talk.sheet)
    if one.kind is Kind.YES:
        return replace(shown, choices=("yes", "no"), say=SAYS[Kind.YES])
    if offered:
        named = (_many(words),) if words else ()
        return replace(shown, choices=("yes", "no"), say=f"yes, no, or {SAYS[one.kind]}",
                       detail=named)  # fmt: skip
    usual = (f"skip: {one.usual}",) if one.usual else ()
    if one.kind is Kind.ROW and talk.sheet.row and one.each is not None:
        told = ", ".join(f"{number:f}" for number in talk.sheet.row)
        return replace(shown, say="a number, or that's all", detail=(told,))
    if one.kind is not Kind.CHOICE:
        return replace(shown, say=SAYS[one.kind], detail=usual)
    if one.key == MACHINE.key:  # their own names say which are invented
        lines = tuple(machine_line(each, talk) for each in choices_of(one, talk.sheet))
        return replace(shown, say=SAYS[one.kind], detail=lines)
    if one.key == BEGIN.key:
        abouts = tuple(f"{word}: {about}" for word, about in talk.shop.begin.items())
        return replace(shown, say=SAYS[one.kind], detail=abouts)
    if len(words) <= BIG:
        return replace(shown, choices=tuple(words), say=SAYS[one.kind], detail=usual)
    return replace(shown, say=SAYS[one.kind], detail=(_many(words), *usual))


def _many(words: list[str]) -> str:
    """Words to choose from; of a long table its beginning, to show how they are said."""
    rest = len(words) - MANY
    return ", ".join(words[:MANY]) + (f", and {rest} more" if rest > 0 else "")

"""An answer put on the sheet: refused, taken, or another asked anew for it. Pure."""

from __future__ import annotations

from dataclasses import replace

from assistant.filling.checked import fault_in, too_large
from assistant.filling.said import choice_words
from assistant.filling.sheet import NO, YES
from assistant.filling.shop import FREE, NEW
from assistant.filling.talk import BEGIN, HEAD, MACHINE, WORK, Talk, asked_anew, told
from assistant.filling.words import follows, read_back, work_words
from assistant.jobs.field import Field, Value

CANNOT = "Can't be."
ANEW = "Then once more."


def settle(talk: Talk, one: Field, value: Value | None) -> Talk:
    """With a field told, unless the reader of the file has a word against it."""
    if one.key in HEAD:
        return _head(talk, one, str(value))
    doubted = talk.sheet.doubted(one)
    if doubted is not None and (wrong := doubted.anew.get(_word(value))):
        for key in wrong[::-1]:
            talk = asked_anew(talk, key)
        return replace(talk, answer=(*talk.answer, ANEW))
    sheet = talk.sheet.tell(one.key, value)
    fault = too_large(talk.sheet, one, value) or fault_in(sheet)
    if fault is not None and fault.key == one.key and not fault.missing:
        return replace(talk, answer=(*talk.answer, CANNOT, fault.text))
    after = told(replace(talk, sheet=sheet, only="", kept=""), one.key)
    said = (read_back(one, value, after), *follows(talk.sheet, sheet, value))
    return looked_over(replace(after, answer=(*talk.answer, *said)))


def _word(value: Value | None) -> str:
    return (YES if value else NO) if isinstance(value, bool) else str(value)


def looked_over(talk: Talk) -> Talk:
    """Once all is told: it is read whole, and what stands against it is asked anew."""
    if talk.asking is not None:
        return talk
    fault = fault_in(talk.sheet, whole=True)
    if fault is None:
        return talk
    key = fault.key or next((one for one in talk.order[::-1] if one not in HEAD), "")
    anew = asked_anew(talk, key or MACHINE.key)
    return replace(anew, answer=(*talk.answer, CANNOT, fault.text))


def _head(talk: Talk, one: Field, word: str) -> Talk:
    """What is begun, which work, which machine."""
    words = work_words(word) if one.key == WORK.key else choice_words(word)
    after = told(replace(talk, answer=(*talk.answer, f"{words[:1].upper()}{words[1:]}.")), one.key)
    if one.key == BEGIN.key:
        return replace(after, begun=word, end="" if word in (NEW, FREE) else word)
    if one.key == WORK.key:
        machines = talk.shop.fitting(word)
        after = replace(after, work=word)
        return after if len(machines) > 1 else _head(after, MACHINE, machines[0])
    if talk.begun == FREE:
        return replace(after, machine=word, end=FREE)
    return replace(after, machine=word, sheet=talk.shop.sheet(after.work, word))

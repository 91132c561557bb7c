"""What each thing heard makes of the conversation. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal

from assistant.filling.book import choices_of, takes_any_line
from assistant.filling.checked import fault_in
from assistant.filling.sheet import NO, YES
from assistant.filling.shop import NEW
from assistant.filling.talk import (
    BEGIN,
    HEAD,
    MACHINE,
    WORK,
    Doubt,
    Talk,
    asked_anew,
    changeable,
    expected,
    told,
)
from assistant.filling.values import read_size, written_size
from assistant.filling.words import choice_words, help_words, read_back, why, work_words
from assistant.jobs.field import Field, Kind, Value
from assistant.phrases.book import PhraseBook
from assistant.phrases.matcher import TYPED, match
from assistant.spoken import Heard, Intent, Reason, Refused, Understood
from assistant.textfile import visible
from assistant.units import is_quantity, magnitude

STOP = "Hit your stop button. I can't."
UNKNOWN = "I don't know that here."
NEEDED = "That one I need."
CANNOT = "Can't be."
FIRST = "That's the first question."


def hear(book: PhraseBook, talk: Talk, said: Understood | Refused) -> Talk:
    """The conversation after one thing heard; `answer` is what is said to it.

    Sound that is no command changes nothing: the same object comes back.
    """
    fresh = replace(talk, answer=())
    if isinstance(said, Refused):
        return _refused(book, talk, fresh, said)
    return _meant(fresh, said.intent)


# -- what isn't simply taken ----------------------------------------------------------------------


def _refused(book: PhraseBook, talk: Talk, fresh: Talk, said: Refused) -> Talk:
    one = talk.asking
    typed = _as_in_a_file(fresh, one, said.heard) if one is not None else None
    if one is not None and typed is not None:
        return settle(replace(fresh, doubt=None), one, typed)
    if said.reason is Reason.NOTHING:
        return talk
    if said.reason is Reason.COMMA:
        return replace(fresh, answer=(f"{said.detail[:1].upper()}{said.detail[1:]}.",))
    if said.candidate is None:
        return replace(fresh, answer=(UNKNOWN, *help_words(talk)[:1]))
    alone = match(book, expected(talk), said.heard)
    # of one row of words that may be two sizes only the likely one can be: yes says so. Of words
    # that may have been misheard, what was said has to be said again.
    both = said.reason is Reason.SCALE and not (
        isinstance(alone, Refused) and alone.reason is Reason.SCALE
    )
    return replace(fresh, doubt=Doubt(said.candidate, said.otherwise if both else None))


def _as_in_a_file(talk: Talk, one: Field, heard: Heard) -> Value | None:
    """What was typed as a job file has it: `1-1/2` is an inch and a half there, `#7` a drill, a
    title any line, and the beginning of one choice alone is that one; None where it is spoken, or
    can't be that."""
    line = visible(heard.words.strip())
    if heard.engine != TYPED or not line:
        return None
    size = read_size(line, talk.sheet.unit) if one.kind is Kind.LENGTH else None
    if size is not None:
        likely = one.low <= magnitude(size, "inch") <= one.high
        return written_size(size) if likely else None
    choices, begun = choices_of(one, talk.sheet), choice_words(line).casefold()
    named = [each for each in choices if each.casefold() == line.casefold()]
    if not named:
        named = [each for each in choices if choice_words(each).casefold().startswith(begun)]
    if len(named) == 1:
        return named[0]
    if not takes_any_line(one):
        return None
    return line[:1].upper() + line[1:] if one.kind is Kind.TEXT else line


# -- what is meant --------------------------------------------------------------------------------


def _meant(talk: Talk, intent: Intent) -> Talk:
    doubt, calm = talk.doubt, replace(talk, doubt=None)
    if doubt is not None and intent.name == YES and doubt.otherwise is None:
        return _meant(calm, doubt.intent)
    if doubt is not None and intent.name == NO:
        return replace(calm, answer=("Say it again.",))
    control = _CONTROLS.get(intent.name)
    if control is not None:
        return control(calm, intent)
    one = talk.asking
    if one is None:
        return _at_the_end(calm, intent)
    if intent.name == NO and one.kind is not Kind.YES:
        declined = talk.sheet.declined | {one.key}
        return replace(calm, sheet=replace(talk.sheet, declined=declined))
    return settle(calm, one, _value(calm, one, intent))


def _value(talk: Talk, one: Field, intent: Intent) -> Value:
    """What an answer is in the file."""
    if intent.name in (YES, NO):
        if one.kind is Kind.YES:
            return intent.name == YES
        offered = talk.sheet.of_offer(one)
        assert offered is not None, "yes is heard only where something is offered"
        return offered
    value = intent.slots[0][1]
    if is_quantity(value):
        if intent.name != "size":
            return magnitude(value, "degree").normalize() + Decimal(0)
        return written_size(value)
    assert isinstance(value, str | int)
    return value


def settle(talk: Talk, one: Field, value: Value | None) -> Talk:
    """With a field told, unless the reader of the job has a word against it."""
    if one.key in HEAD:
        return _head(talk, one, str(value))
    sheet = talk.sheet.tell(one.key, value)
    fault = fault_in(sheet)
    if fault is not None and fault.key == one.key and not fault.missing:
        return replace(talk, answer=(*talk.answer, CANNOT, fault.text))
    after = replace(told(talk, one.key), sheet=sheet, only="", kept="")
    after = replace(after, answer=(*talk.answer, read_back(one, value, after)))
    return looked_over(after)


def looked_over(talk: Talk) -> Talk:
    """Once all is told: the plan is made, and what stands against it is asked anew."""
    if talk.asking is not None:
        return talk
    fault = fault_in(talk.sheet, talk.shop.machines[talk.machine])
    if fault is None:
        return talk
    key = fault.key or next((one for one in talk.order[::-1] if one not in HEAD), "")
    anew = asked_anew(talk, key or MACHINE.key)
    return replace(anew, answer=(*talk.answer, CANNOT, fault.text))


def _head(talk: Talk, one: Field, word: str) -> Talk:
    """What is begun, which work, which machine."""
    after = replace(told(talk, one.key))
    words = work_words(word) if one.key == WORK.key else choice_words(word)
    after = replace(after, answer=(*talk.answer, f"{words[:1].upper()}{words[1:]}."))
    if one.key == BEGIN.key:
        return replace(after, begun=word, end="" if word == NEW else word)
    if one.key == WORK.key:
        machines = talk.shop.fitting(word)
        after = replace(after, work=word)
        return after if len(machines) > 1 else _head(after, MACHINE, machines[0])
    return replace(after, machine=word, sheet=talk.shop.sheet(after.work, word))


def _at_the_end(talk: Talk, intent: Intent) -> Talk:
    if intent.name in (YES, NO):
        return replace(talk, end="run" if intent.name == YES else "kept")
    return talk


# -- what works at every question -----------------------------------------------------------------


def _back(talk: Talk, _intent: Intent) -> Talk:
    if talk.only and talk.only in talk.sheet.told:
        return replace(talk, only="", answer=("Back.",))
    if not talk.order:
        return replace(talk, answer=(FIRST,))
    return replace(asked_anew(talk, talk.order[-1]), answer=("Back.",))


def _skip(talk: Talk, _intent: Intent) -> Talk:
    one = talk.asking
    if one is None:
        return replace(talk, answer=("Nothing is left to skip.",))
    if one.needed:
        return replace(talk, answer=(NEEDED,))
    return settle(talk, one, None)


def _more(talk: Talk, _intent: Intent) -> Talk:
    after = replace(talk, more=True, kept="")
    if after.asking is None:
        return replace(talk, answer=("There is nothing more to ask.",))
    return replace(after, answer=("Skip what is as usual. Say that's enough to end.",))


def _enough(talk: Talk, _intent: Intent) -> Talk:
    return looked_over(replace(talk, more=False, only=""))


def _change(talk: Talk, intent: Intent) -> Talk:
    wanted = intent.slots[0][1]
    one = next((each for each in changeable(talk) if each.name == wanted), None)
    return talk if one is None else replace(talk, only=one.key, kept="")


def _same(talk: Talk, intent: Intent) -> Talk:
    """As the last job, perhaps with another size."""
    sheet, last = talk.shop.as_last(), talk.shop.last
    if sheet is None or last is None:
        return replace(talk, answer=("There is no last job.",))
    said = f"As the last one: {visible(last.title)}."
    after = replace(
        talk, begun=talk.begun or NEW, work=sheet.form.operation, machine=sheet.machine,
        sheet=sheet, answer=(said,),
    )  # fmt: skip
    main = sheet.form.field(sheet.form.main)
    if intent.slots and main is not None and is_quantity(value := intent.slots[0][1]):
        # another part: the last one's title would name the wrong one
        another = replace(after, sheet=sheet.untell("title"))
        return settle(another, main, written_size(value))
    return looked_over(after)


def _start_over(talk: Talk, _intent: Intent) -> Talk:
    """What was answered is asked about first: it would be gone."""
    if not talk.order:
        return replace(talk, answer=(FIRST,))
    return replace(talk, doubt=Doubt(Intent("begin_anew")))


def _begin_anew(talk: Talk, _intent: Intent) -> Talk:
    return Talk(talk.shop, begun=talk.begun)


def _says(words: Callable[[Talk], tuple[str, ...]]) -> Callable[[Talk, Intent], Talk]:
    return lambda talk, _intent: replace(talk, answer=words(talk))


_CONTROLS: Mapping[str, Callable[[Talk, Intent], Talk]] = {
    "back": _back,
    "skip": _skip,
    "more": _more,
    "enough": _enough,
    "change": _change,
    "same": _same,
    "same_but": _same,
    "why": _says(why),
    "help": _says(help_words),
    "say_again": _says(lambda _talk: ()),
    "stop": _says(lambda _talk: (STOP,)),
    "start_over": _start_over,
    "begin_anew": _begin_anew,
    "leave": lambda talk, _intent: replace(talk, end="left"),
}

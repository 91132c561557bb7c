"""What each thing heard makes of the conversation. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal

from assistant.filling.as_typed import about_a_comma, as_in_a_file, numbers_in, of_which_unit
from assistant.filling.book import SIZE
from assistant.filling.rows import (
    SURELY,
    ended,
    in_a_row,
    number_of,
    surely,
    take,
    without_the_last,
)
from assistant.filling.settling import looked_over, settle
from assistant.filling.sheet import NO, YES
from assistant.filling.shop import NEW, NEW_MACHINE
from assistant.filling.talk import (
    Doubt,
    Talk,
    asked_anew,
    changeable,
    expected,
    of_a_machine,
)
from assistant.filling.values import written_size
from assistant.filling.words import help_words, why
from assistant.jobs.field import Field, Kind, Value
from assistant.phrases.book import PhraseBook
from assistant.phrases.matcher import TYPED, match
from assistant.spoken import Heard, Intent, Reason, Refused, Understood
from assistant.textfile import visible
from assistant.units import is_quantity, magnitude

STOP = "Hit your stop button. I can't."
UNKNOWN = "I don't know that here."
NEEDED = "That one I need."
ROW_ENDS = "That's all ends the row."
FIRST = "That's the first question."


def hear(book: PhraseBook, talk: Talk, said: Understood | Refused) -> Talk:
    """The conversation after one thing heard; `answer` is what is said to it.

    Sound that is no command changes nothing: the same object comes back.
    """
    fresh = replace(talk, answer=())
    if isinstance(said, Refused):
        after = _refused(book, talk, fresh, said)
    elif said.intent.name == SIZE and (doubt := of_which_unit(talk, said.heard)):
        after = replace(fresh, doubt=doubt)
    else:
        after = _meant(fresh, said.intent, said.heard)
    if after is talk:
        return talk
    one, anew = talk.asking, isinstance(said, Understood) and said.intent.name == "say_again"
    same = one is not None and after.asking is not None and after.asking.key == one.key
    return replace(after, again=same and not anew)


# -- what isn't simply taken ----------------------------------------------------------------------


def _refused(book: PhraseBook, talk: Talk, fresh: Talk, said: Refused) -> Talk:
    one = talk.asking
    if one is not None and (numbers := numbers_in(fresh, one, said.heard)):
        return take(replace(fresh, doubt=None), one, numbers)
    unit = of_which_unit(talk, said.heard) if said.candidate is not None else None
    if unit is not None:
        return replace(fresh, doubt=unit)
    typed = as_in_a_file(fresh, one, said.heard) if one is not None else None
    if one is not None and typed is not None:
        return settle(replace(fresh, doubt=None), one, typed)
    if said.reason is Reason.NOTHING:
        return talk
    if said.reason is Reason.COMMA:
        return replace(fresh, answer=(about_a_comma(said.heard, said.detail),))
    if said.candidate is None:
        return replace(fresh, answer=(UNKNOWN, *help_words(talk)[:1]))
    if one is not None and one.each is not None and said.reason is Reason.IMPLAUSIBLE:
        return _number(replace(fresh, doubt=None), one, said.candidate, said.heard)
    alone = match(book, expected(talk), said.heard)
    # of one row of words that may be two sizes only the likely one can be: yes says so. Of words
    # that may have been misheard, what was said has to be said again.
    both = said.reason is Reason.SCALE and not (
        isinstance(alone, Refused) and alone.reason is Reason.SCALE
    )
    return replace(fresh, doubt=Doubt(said.candidate, said.otherwise if both else None))


# -- what is meant --------------------------------------------------------------------------------


def _meant(talk: Talk, intent: Intent, heard: Heard) -> Talk:
    doubt, calm = talk.doubt, replace(talk, doubt=None)
    if doubt is not None and intent.name == YES and doubt.otherwise is None:
        return _meant(calm, doubt.intent, heard)
    if doubt is not None and (intent.name == NO or (intent.name == "back" and in_a_row(talk))):
        return replace(calm, answer=("Say it again.",))
    if doubt is not None and intent.name == "done":
        return talk  # first the number that is asked about
    control = _CONTROLS.get(intent.name)
    if control is not None:
        return control(calm, intent)
    one = talk.asking
    if one is None:
        return _at_the_end(calm, intent)
    if intent.name == NO and one.kind is not Kind.YES:
        declined = talk.sheet.declined | {one.key}
        return replace(calm, sheet=replace(talk.sheet, declined=declined))
    if intent.name == SURELY:
        return surely(calm, one, intent)
    if intent.name == "done":
        return ended(calm, one)
    if one.each is not None:
        return _number(calm, one, intent, heard)
    return settle(calm, one, _value(calm, one, intent))


def _number(talk: Talk, one: Field, intent: Intent, heard: Heard) -> Talk:
    words = "" if heard.engine == TYPED else heard.words
    return take(talk, one, [number_of(one, talk, intent.slots[0][1])], words)


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
        if one.kind in (Kind.ANGLE, Kind.NUMBER):
            return magnitude(value, "degree").normalize() + Decimal(0)
        return written_size(value)
    assert isinstance(value, str | int)
    return value


def _at_the_end(talk: Talk, intent: Intent) -> Talk:
    if intent.name in (YES, NO):
        return replace(talk, end="run" if intent.name == YES else "kept")
    return talk


# -- what works at every question -----------------------------------------------------------------


def _back(talk: Talk, _intent: Intent) -> Talk:
    if (one := talk.asking) is not None and in_a_row(talk):
        return without_the_last(talk, one)
    if talk.only and talk.only in talk.sheet.told:
        return replace(talk, only="", answer=("Back.",))
    if not talk.order:
        return replace(talk, answer=(FIRST,))
    return replace(asked_anew(talk, talk.order[-1]), answer=("Back.",))


def _skip(talk: Talk, _intent: Intent) -> Talk:
    one = talk.asking
    if one is None:
        return replace(talk, answer=("Nothing is left to skip.",))
    if in_a_row(talk):
        return replace(talk, answer=(ROW_ENDS,))
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
    if talk.work == NEW_MACHINE:
        return of_a_machine(talk.shop)
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

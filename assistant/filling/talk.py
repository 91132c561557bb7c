"""The conversation: where it stands, and what each thing heard makes of it. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from assistant.filling.book import ALWAYS, a_size, answers_to, one_of, plain
from assistant.filling.sheet import NOTHING, Sheet
from assistant.filling.shop import FREE, NEW_MACHINE, Shop
from assistant.jobs.field import Field, Kind
from assistant.spoken import Expected, Intent

BEGIN = Field(
    "begin", "begun", "What shall it be?", "A job is taken up, begun anew, or begun as the last.",
    Kind.CHOICE,
)  # fmt: skip
WORK = Field(
    "operation", "work", "What's the job?", "What is asked next goes by the kind of work.",
    Kind.CHOICE,
)  # fmt: skip
MACHINE = Field(
    "machine", "machine", "On which machine?",
    "Every move is told in turns and divisions of its own handwheels.", Kind.CHOICE,
)  # fmt: skip
HEAD: Mapping[str, Field] = {one.key: one for one in (BEGIN, WORK, MACHINE)}


@dataclass(frozen=True)
class Doubt:
    """What was heard, and is asked back."""

    intent: Intent
    otherwise: Intent | None = None
    """What else it may have been: then one of them has to be said again."""
    why: str = ""
    """What is asked instead of the bare words."""


@dataclass(frozen=True)
class Talk:
    """One conversation."""

    shop: Shop
    begun: str = ""
    work: str = ""
    machine: str = ""
    sheet: Sheet = NOTHING
    order: tuple[str, ...] = ()
    """Keys in the order in which they were told, for `back`."""
    more: bool = False
    """Whether what has a usual answer is asked for, too."""
    only: str = ""
    """A field that is to be told anew, before all others."""
    doubt: Doubt | None = None
    answer: tuple[str, ...] = ()
    """What is said to the last thing heard, before the question."""
    again: bool = False
    """Whether the question is the same as before: what has to be done for it was said."""
    kept: str = ""
    """The name under which the job file was kept, as it stands now."""
    end: str = ""
    """How it ended: `run`, `kept`, `left`, or what of `Shop.begin` was chosen."""

    @property
    def asking(self) -> Field | None:
        """What is asked now; None where all is told, and it is only asked whether to run it."""
        if self.shop.begin and not self.begun:
            return replace(BEGIN, choices=tuple(self.shop.begin))
        if self.begun == FREE:
            return replace(MACHINE, choices=self.shop.with_handwheels())
        if not self.filling:
            if not self.work:
                return replace(WORK, choices=self.shop.works())
            return replace(MACHINE, choices=self.shop.fitting(self.work))
        if self.only:
            return self.sheet.fields[self.only]
        return self.sheet.open(more=self.more)

    @property
    def filling(self) -> bool:
        """Whether it is told what is made, so that its own questions are asked."""
        return self.sheet is not NOTHING

    @property
    def answers(self) -> int:
        """How many were given to a job's own questions."""
        return sum(key != BEGIN.key for key in self.order)


def of_a_machine(shop: Shop) -> Talk:
    """The conversation about a new machine, before its first question."""
    return Talk(shop, begun=NEW_MACHINE, work=NEW_MACHINE, sheet=shop.sheet(NEW_MACHINE))


def expected(talk: Talk) -> tuple[Expected, ...]:
    """What may be heard now."""
    one = talk.asking
    always = plain(*ALWAYS, *(("enough",) if talk.more else ()))
    if talk.doubt is not None:
        again = () if one is None else answers_to(one, talk.sheet)
        names = {each.intent for each in again}
        asked = [] if talk.doubt.otherwise is not None else ["yes"]
        words = plain(*(each for each in (*asked, "no") if each not in names))
        return (*again, *words, *always)
    if one is None:
        named = one_of([each.name for each in changeable(talk)], "change")
        return (*plain("yes", "no", "more"), named, *always)
    answers = answers_to(one, talk.sheet)
    return (*answers, *_like_the_last(talk, one), *always)


def _like_the_last(talk: Talk, one: Field) -> tuple[Expected, ...]:
    """Before the work is told, it may be that of the last job."""
    last = talk.shop.as_last() if one.key in (BEGIN.key, WORK.key) else None
    if last is None:
        return ()
    main = last.form.field(last.form.main)
    if main is None or main.kind is not Kind.LENGTH:
        return plain("same")
    return (a_size("same_but", main, last.unit), *plain("same"))


def changeable(talk: Talk) -> list[Field]:
    """The fields that may be told anew, once all is told."""
    return list(talk.sheet.asked(more=True))


def told(talk: Talk, key: str) -> Talk:
    """With a key told, for `back`; what lapsed with it is not come back to."""
    there = [one for one in talk.order if one != key and (one in HEAD or one in talk.sheet.told)]
    return replace(talk, order=(*there, key))


def asked_anew(talk: Talk, key: str) -> Talk:
    """With a field's answer taken back, so that it is asked again."""
    order = tuple(one for one in talk.order if one != key)
    calm = replace(talk, order=order, only="", doubt=None, kept="")
    match key:
        case "begin":
            return replace(calm, begun="")
        case "operation":
            return replace(calm, work="", machine="", sheet=NOTHING)
        case "machine":
            return replace(calm, machine="", sheet=NOTHING)
    again = replace(calm, sheet=talk.sheet.untell(key))
    # one that is taken unasked, or only asked when more is wanted, is asked now all the same
    return again if again.asking == talk.sheet.fields[key] else replace(again, only=key)

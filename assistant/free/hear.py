"""What each thing heard makes of the conversation. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from assistant import guard
from assistant.free import going, patterns, trouble, zeros
from assistant.free.book import expected
from assistant.free.places import Lost, as_axis_state, move_of, set_to_dial, within_travel
from assistant.free.talk import AnswerMissing, Ask, Doubt, MoveFailed, Talk, recorded, with_slots
from assistant.free.told import GO_ON, ONCE_MORE, sign_of, whole_turns
from assistant.free.words import (
    HELP,
    STOP,
    UNKNOWN,
    intent_words,
    marks,
    title,
    ways_of,
    where,
    why,
)
from assistant.phrases.book import PhraseBook
from assistant.phrases.matcher import match
from assistant.spoken import Intent, Reason, Refused, SlotValue, Understood

WITH_A_WAY = ("move", "move_then", "from_zero", "row", "half")
Handler = Callable[[Talk, Intent], Talk]


def hear(book: PhraseBook, talk: Talk, said: Understood | Refused) -> Talk:
    """The conversation after one thing heard; `answer` is what is said to it.

    Sound that is no command changes nothing: the same object comes back.
    """
    fresh = replace(talk, answer=())
    if isinstance(said, Refused):
        return _refused(book, talk, fresh, said)
    return _meant(fresh, said.intent)


def _refused(book: PhraseBook, talk: Talk, fresh: Talk, said: Refused) -> Talk:
    if said.reason is Reason.NOTHING:
        return talk
    if said.reason is Reason.COMMA:
        return replace(fresh, answer=(f"{title(said.detail)}.",))
    if said.candidate is None:
        return replace(fresh, answer=_not_taken(talk, said))
    alone = match(book, expected(talk), said.heard)
    both = said.reason in (Reason.SCALE, Reason.AMBIGUOUS) and not (
        isinstance(alone, Refused) and alone.reason not in (Reason.SCALE, Reason.AMBIGUOUS)
    )
    return replace(fresh, doubt=Doubt(said.candidate, said.otherwise if both else None))


def _not_taken(talk: Talk, said: Refused) -> tuple[str, ...]:
    """What is said to words that mean nothing now, or on this machine."""
    if said.reason is not Reason.NOT_NOW:
        return (UNKNOWN, HELP[0])
    if said.detail in WITH_A_WAY:
        has = ", ".join(f"{name} {ways_of(name)}" for name in talk.machine.axes)
        return ("Nothing here goes that way.", f"There is {has}.")
    return ("Not now.",) if talk.asks else ("Not now.", HELP[0])


def _meant(talk: Talk, intent: Intent) -> Talk:
    doubt, calm = talk.doubt, replace(talk, doubt=None)
    if doubt is not None and intent.name == "yes" and doubt.otherwise is None:
        return _meant(calm, doubt.intent)
    if doubt is not None and intent.name == "no":
        return replace(calm, answer=("Say it again.",))
    if intent.name in LOOKS:
        try:
            return LOOKS[intent.name](talk, intent)
        except MoveFailed as no:
            return replace(talk, answer=no.words)
    if calm.ask is not None:
        answered = _answered(calm, calm.ask, intent)
        if answered is not None:
            return answered
        calm = replace(calm, ask=None)
    return _done(calm, intent)


def _answered(talk: Talk, ask: Ask, intent: Intent) -> Talk | None:
    """The command that was asked about, with the answer in its slot; None for no answer to it."""
    calm = replace(talk, ask=None)
    if intent.name == "no":
        return going.again(replace(calm, answer=("All right.",)))
    if intent.name == "not_sure":
        if ask.kind in ("reading", "shows") and ask.intent.name == "zero":
            return _done(calm, with_slots(ask.intent, {f"drop:{ask.axis}": 1}))
        return replace(calm, answer=(ONCE_MORE,))
    try:
        told = _slots_of(ask, intent)
    except MoveFailed as no:
        return replace(talk, answer=no.words)
    if told is None:
        return None
    if ask.kind == "clock":
        return _done(calm, patterns.first_hole(ask.intent, intent))
    return _done(calm, with_slots(ask.intent, told))


def _slots_of(ask: Ask, intent: Intent) -> dict[str, SlotValue | None] | None:
    """What an answer puts into the slots of the command; None where it is none."""
    match ask.kind, intent.name:
        case "axis", "axis":
            return {ask.axis: intent["axis"]}
        case "axis", "all":
            return {ask.axis: "all"} if ask.intent.name in ("zero", "to_zero") else None
        case (("came" | "side"), "way"):
            return {ask.slot: sign_of(ask.axis, str(intent["way"]))}
        case "way", "way":
            return {"way": intent["way"]}
        case "way", "on_or_back":
            return {"back": int(intent["direction"] == "back")}
        case (("reading" | "shows"), "dial_reads") if intent.get("axis") in (None, ask.axis):
            turns = {f"turns:{ask.axis}": intent.get("turns")} if ask.kind == "reading" else {}
            return {ask.slot: intent["reading"], f"side:{ask.axis}": None, **turns}
        case "yes", ("yes" | "there"):
            return {ask.slot: 1}
        case "clock", ("clock" | "degrees"):
            return {}
    return None


def _done(talk: Talk, intent: Intent) -> Talk:
    """A command done, kept so that it can be taken back; or what is asked before it."""
    handler = COMMANDS.get(intent.name)
    if handler is None:
        return replace(talk, answer=("There is nothing to answer now.",))
    try:
        after = handler(talk, intent)
    except AnswerMissing as lacks:
        return replace(talk, ask=lacks.ask)
    except MoveFailed as no:
        return replace(talk, answer=no.words)
    if intent.name == "undo":
        return after
    return guarded(recorded(talk, after, _in_short(talk, intent)))


def _in_short(talk: Talk, intent: Intent) -> str:
    bare = replace(intent, slots=tuple(one for one in intent.slots if ":" not in one[0]))
    return intent_words(bare, talk)


def guarded(talk: Talk) -> Talk:
    """The move that is given, or its dial asked for where the guard holds it back."""
    leg = talk.places.leg
    if leg is None or talk.places.slides[leg.axis].lost is not Lost.NOTHING:
        return talk
    axis, slide = talk.machine.axis(leg.axis), talk.places.slides[leg.axis]
    now, move, target = (
        as_axis_state(slide),
        move_of(axis, slide, leg),
        set_to_dial(axis, leg.target),
    )
    fault = guard.check_move(axis, now, target, slide.side, move)
    if fault is None and within_travel(axis, slide, target):
        return talk
    places = trouble.shaken(talk.places, leg.axis, Lost.TURN)
    ask = Ask(Intent(GO_ON), f"reading:{leg.axis}", whole_turns(leg.axis))
    why_not = fault.value if fault is not None else guard.Rule.REACH.value
    return replace(talk, places=places, ask=ask, answer=(f"I hold that back: {why_not}.",))


def _says(words: Callable[[Talk], tuple[str, ...]]) -> Handler:
    return lambda talk, _intent: replace(talk, answer=words(talk))


def _say_again(talk: Talk, _intent: Intent) -> Talk:
    if talk.asks:
        return replace(talk, answer=())
    return going.again(talk) if talk.places.leg is not None else replace(talk, answer=where(talk))


def _leave(talk: Talk, intent: Intent) -> Talk:
    """The end. Without a job zeros and marks go with it, which is asked first."""
    if talk.job:
        return replace(talk, over=True)
    if talk.history and intent.get("yes:end") is None:
        raise AnswerMissing(intent, "yes:end", "End it? The zeros and marks go.")
    return replace(talk, over=True, answer=("That's all.",))


LOOKS: Mapping[str, Handler] = {
    "why": _says(why),
    "help": _says(lambda talk: HELP),
    "where": _says(where),
    "marks": _says(marks),
    "how_far_to": going.how_far_to,
    "say_again": _say_again,
    "stop": _says(lambda talk: (STOP,)),
}
"""What only looks: a question stays open, and nothing is kept of it."""

COMMANDS: Mapping[str, Handler] = {
    "zero": zeros.zero,
    "zero_all": zeros.zero_all,
    "mark": zeros.mark,
    "touched": zeros.touched,
    "back_at": zeros.back_at,
    "move": going.move,
    "move_then": going.move_then,
    "half": going.half,
    "half_back": going.half_back,
    "once_more": going.once_more,
    "from_zero": going.from_zero,
    "to_zero": going.to_zero,
    "all_to_zero": going.all_to_zero,
    "to_mark": going.to_mark,
    "middle": going.middle,
    "there": going.there,
    GO_ON: going.go_on,
    "circle": patterns.circle,
    "row": patterns.row,
    "next": patterns.next_one,
    "dial_reads": trouble.dial_reads,
    "went_past": trouble.went_past,
    "lost_count": trouble.lost_count,
    "by_hand": trouble.by_hand,
    "dial_slipped": trouble.dial_slipped,
    "undo": trouble.undo,
    "drop": trouble.drop,
    "leave": _leave,
}

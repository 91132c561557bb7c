"""What can be said now: the word that carries the job on from here, and what else.

Answers to "help", to a word that isn't meant here, and to what one says without thinking: "OK",
"done", "next". None of those carries a job on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from assistant.session.allowed import allowed, likeliest
from assistant.session.asked import names_both
from assistant.session.reply import Ask
from assistant.session.state import State
from assistant.session.work import Work
from assistant.spoken import Intent

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "bare": "bare",
        "checked": "checked",
        "clear": "clear",
        "dial_reads": "dial reads ...",
        "even": "it's even",
        "left_wall": "left wall ...",
        "listen": "listen",
        "measured": "measured ...",
        "next_division": "next division",
        "nothing_moved": "nothing moved",
        "paper": "paper is ..., or bare",
        "ready_set": "I'm set",
        "right_wall": "right wall ...",
        "same_again": "same again",
        "through": "that's through",
        "touched": "touched",
        "where": "where are we",
        "yes": "yes, or no",
    }
)
"""Intent -> what to say, for the foot of the page; `...` stands for the value told with it."""

SAY: Mapping[str, str] = MappingProxyType(
    {
        "bare": "Say bare.",
        "checked": "Say checked when you have seen to it.",
        "clear": "Say clear when it's off the work.",
        "dial_reads": "Say dial reads, and the number.",
        "even": "Say it's even, or no.",
        "left_wall": "Say front wall, and the size.",
        "listen": "Say listen, and I hear you.",
        "measured": "Say measured, and the size.",
        "next_division": "Say next division when it's there.",
        "nothing_moved": "Say nothing moved, or it moved.",
        "paper": "Say how thick the paper is, or bare.",
        "ready_set": "Say I'm set when it's as I told you.",
        "right_wall": "Say back wall, and the size.",
        "same_again": "Say same again for the next part.",
        "through": "Say that's through when the cut is finished.",
        "touched": "Say touched when it touches.",
        "where": "Say where are we, and I go on.",
        "yes": "Say yes or no.",
    }
)
"""The same in a sentence, for the ear."""

TWO_WORDS = ("ready_set", "through")
WHY_TWO = "I'm set is for the handle, that's through for a cut."
WHY = "One word for both could lose a pass."
WHY_ONE = "OK or done could mean anything, so I take neither."
NO_MORE = "I can't hear stop while I'm talking. The escape key silences me."

ASKING: Mapping[str, str] = MappingProxyType(
    {
        "what_now": "what now",
        "how_much_left": "how much left",
        "why": "why",
        "undo": "scratch that",
        "say_again": "say again",
        "where": "where are we",
    }
)
MOST_ASKED = 4
IN_TROUBLE: Mapping[str, str] = MappingProxyType(
    {
        "went_past": "I went past",
        "lost_count": "lost count",
        "dial_slipped": "dial slipped",
        "moved": "it moved",
        "new_cutter": "new cutter",
        "tool_broke": "tool broke",
        "tool_stuck": "it's stuck",
        "half_nut_missed": "missed the half nut",
        "hit_shoulder": "hit the shoulder",
        "leave_one_out": "leave this one out",
    }
)
IN_ONE_BREATH = 3
"""Words of trouble in one sentence."""


def wanted(state: State) -> str:
    """The intent that carries the job on from here: the first that may be heard; '' before there
    is a job."""
    if state.stopped:
        return "where"
    return likeliest(state).intent if state.at_work else ""


def wanted_words(state: State) -> str:
    """Its words, for the foot of the page."""
    return WORDS.get(wanted(state), "")


def what_to_say(state: State) -> str:
    """Its words in a sentence; '' where there are none."""
    if state.question is not None:
        return "Say the right one again." if names_both(state.question) else (
            "Say yes, no, or no and the right number."
        )  # fmt: skip
    return SAY.get(wanted(state), "")


def also(state: State) -> str:
    """What may be asked now besides."""
    may = {one.intent for one in allowed(state)}
    names = [words for intent, words in ASKING.items() if intent in may][:MOST_ASKED]
    return f"Or say {_listed(names)}." if names else ""


def _listed(names: list[str]) -> str:
    return " or ".join([*filter(None, [", ".join(names[:-1])]), names[-1]])


def can_say(state: State) -> tuple[str, ...]:
    """For what isn't taken: what can be said now, in a sentence or two."""
    first = what_to_say(state)
    if state.question is not None or not state.listening:
        return (first,)
    return tuple(filter(None, (first, also(state))))


def _of_trouble(state: State) -> Iterator[str]:
    may = {one.intent for one in allowed(state)}
    names = [words for intent, words in IN_TROUBLE.items() if intent in may]
    for place in range(0, len(names), IN_ONE_BREATH):
        told = ", ".join(names[place : place + IN_ONE_BREATH])
        yield f"{told[:1].upper()}{told[1:]}." if place else f"In trouble: {told}."


def help_(work: Work, intent: Intent) -> None:
    """What can be said now; the wall card has the rest."""
    state = work.state
    work.say(*can_say(state))
    if state.question is not None:
        return
    work.say(*_of_trouble(state), "Hang on keeps me quiet.", NO_MORE)


def which_word(work: Work, intent: Intent) -> None:
    """ "OK", "done", "next": the word that is meant here, and why it isn't one for all."""
    if work.state.question is not None:
        work.say(Ask())
        return
    work.say(*filter(None, (what_to_say(work.state),)))
    if wanted(work.state) in TWO_WORDS:
        work.say(WHY_TWO, WHY)
    else:
        work.say(WHY_ONE)

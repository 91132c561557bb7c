"""`decide(state, said, now)`: what a command, or words that were not taken, leads to."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType

from assistant.errors import BadInput
from assistant.replacing import replace
from assistant.session import (
    answers,
    aside,
    between,
    dials,
    doing,
    finishing,
    keeping,
    mishap,
    settings,
    taking_back,
    telling,
    trouble,
    wanted,
    yes_no,
)  # fmt: skip
from assistant.session import events as ev
from assistant.session.allowed import CONSEQUENT, TROUBLE
from assistant.session.already import already_cut, why_not
from assistant.session.asked import answer_of, corrected, is_answer, names_both, tells_the_same
from assistant.session.contradiction import Contradiction, contradicts
from assistant.session.left_out import (
    LEAVE_ONE_OUT,
    LEAVE_OUT,
    leave_one_out,
    leave_out,
    which_is_left_out,
)
from assistant.session.reply import Ask, Instruction, Reply, Say
from assistant.session.state import Question, State
from assistant.session.work import Work
from assistant.spoken import Intent, Reason, Refused, Understood

Handler = Callable[[Work, Intent], None]


def _say_again(work: Work, intent: Intent) -> None:
    if work.state.question is not None:
        work.say(Ask())
    elif work.state.last_reply:
        work.say(*work.state.last_reply)
    else:
        work.say(Instruction())


def _paper_on(work: Work, intent: Intent) -> None:
    """There is paper under the cutter: how thick it is still has to be told."""
    work.say("How thick?")


def _same_again(work: Work, intent: Intent) -> None:
    """The next part is a job of its own: `begin.next_part` starts it after this answer."""


def _quick_sum(work: Work, intent: Intent) -> None:
    work.say("Go ahead.")


HANDLERS: Mapping[str, Handler] = MappingProxyType(
    {
        "ready_set": doing.ready_set,
        "next_division": doing.next_division,
        "touched": doing.touched,
        "through": doing.through,
        "clear": doing.clear,
        "checked": doing.checked,
        "skip": doing.skip,
        "even": doing.even,
        "yes": yes_no.yes,
        "no": yes_no.no,
        "paper": telling.paper,
        "bare": telling.bare,
        "measured": between.measured,
        "over_under": telling.over_under,
        "left_wall": telling.left_wall,
        "right_wall": telling.right_wall,
        "dial_reads": dials.dial_reads,
        "cut_this_pass": telling.cut_this_pass,
        "already_cut": already_cut,
        "speed_is": telling.speed_is,
        "feed_is": telling.feed_is,
        "note": telling.note,
        "went_past": trouble.went_past,
        "lost_count": trouble.lost_count,
        "dial_slipped": trouble.dial_slipped,
        "moved": yes_no.moved,
        "same_turn": yes_no.same_turn,
        "paper_on": _paper_on,
        "nothing_moved": trouble.nothing_moved,
        "chatter": trouble.chatter,
        "new_cutter": trouble.new_cutter,
        **dict.fromkeys(mishap.ROWS, mishap.went_wrong),
        LEAVE_OUT: leave_out,
        LEAVE_ONE_OUT: leave_one_out,
        "skip_finishing": finishing.skip_finishing,
        "undo": taking_back.undo,
        "not_you": aside.not_you,
        "hang_on": aside.hang_on,
        "free_moves": aside.free_moves,
        "spindle_on": aside.spindle,
        "spindle_off": aside.spindle,
        "which_word": wanted.which_word,
        "stop": trouble.stop,
        "louder": settings.volume,
        "softer": settings.volume,
        "slower": settings.rate,
        "faster": settings.rate,
        "inch": settings.unit,
        "metric": settings.unit,
        "light": settings.theme,
        "dark": settings.theme,
        "listen": settings.listening,
        "stop_listening": settings.listening,
        "what_now": answers.what_now,
        "where": answers.where,
        "how_much_left": answers.how_much_left,
        "how_deep": answers.how_deep,
        "how_many_turns": answers.how_many_turns,
        "which_way": answers.which_way,
        "dial_should": answers.dial_should,
        "what_speed": answers.what_speed,
        "what_feed": answers.what_feed,
        "what_size": answers.what_size,
        "why": answers.why,
        "how_far_to_run": answers.how_far_to_run,
        "where_touched": answers.where_touched,
        "help": wanted.help_,
        "say_again": _say_again,
        "quick_sum": _quick_sum,
        "same_again": _same_again,
        "next_part": _same_again,
    }
)

QUIET = frozenset(
    {
        "what_now", "where", "how_much_left", "how_deep", "how_many_turns", "which_way",
        "dial_should", "what_speed", "what_feed", "what_size", "why", "how_far_to_run",
        "where_touched", "help", "say_again", "quick_sum", "same_again", "next_part", "same_turn",
        "paper_on", "which_word", "skip_finishing", "spindle_on", "spindle_off",
        "free_moves",
    }
)  # fmt: skip
"""Commands that only look: they leave no event, and `scratch that` passes over them."""

UNDO_PASSES_OVER = frozenset(
    {"louder", "softer", "slower", "faster", "light", "dark", "inch", "metric", "listen",
     "stop_listening", "note", "stop", "hang_on"}
)  # fmt: skip
TAKES_BACK = ("undo", "not_you")
AT_A_QUESTION = ("say_again", "stop", "help", "hang_on", *TAKES_BACK)
"""Taken as they are while a question is open."""
SILENT = ("stop", "hang_on")
NOT_ASKED = ("which_word", "hang_on")
"""Hardly heard, they are no question's worth."""


@dataclass(frozen=True, slots=True)
class Decision:
    """What a command led to: the records to append, the state they lead to, the answer."""

    records: tuple[ev.Record, ...]
    state: State
    reply: Reply


def decide(state: State, said: Understood | Refused, now: datetime) -> Decision:
    """What is to happen; nothing has happened before the records are on disk.

    A command that turns out impossible (`BadInput` from the plan) says why and changes nothing; a
    question that it answered is over, so that another value can be told.
    """
    work = Work(state, now)
    if isinstance(said, Refused):
        _refused(work, said)
    else:
        try:
            _understood(work, said)
        except BadInput as bad:
            work = Work(state, now)
            if state.question is not None:
                work.emit(ev.Answered(False))
            work.say(f"Can't be. {bad.field} {bad.value}: {bad.want}.")
            if state.differs is not None:
                work.say(keeping.BEGIN_NEW)
            if isinstance(said, Understood) and said.intent.name in TROUBLE:
                # what can't be is the value that was told with it; the trouble is as it is
                _understood(work, replace(said, intent=replace(said.intent, slots=())))
    return Decision(
        tuple(work.records), work.state, work.reply(hush=any(_is(said, name) for name in SILENT))
    )


def _is(said: Understood | Refused, name: str) -> bool:
    return isinstance(said, Understood) and said.intent.name == name


def _understood(work: Work, said: Understood) -> None:
    intent = said.intent
    question = work.state.question
    if question is not None and intent.name not in AT_A_QUESTION:
        if not is_answer(question, intent):
            work.say(Ask())
            return
        answer = answer_of(question, intent)
        if answer is None and question.otherwise is not None and not names_both(question):
            work.emit(_commanded(said, intent))
            work.emit(ev.Answered(False))
            dials.not_there(work, question)
            return
        if answer is None:
            work.emit(ev.Answered(False))
            work.say("All right.", Instruction())
            return
        if answer.name == "correct":
            work.emit(ev.Answered(True))
            _told_anew(work, said, answer)
            return
        if intent.name != "yes":
            work.emit(ev.Answered(True))
            _take(work, said, answer)
            return
        # with more metal than was thought the dial still holds: a cut was not made
        deeper = contradicts(work.state, answer) in (Contradiction.DEEPER, Contradiction.LESS)
        work.emit(_commanded(said, answer))
        work.emit(ev.Answered(True))
        if deeper:
            trouble.not_as_cut(work)
        _handler(work, answer.name)(work, answer)
        return
    if intent.name == "correct":
        _told_anew(work, said, intent)
        return
    if intent.name in QUIET or intent.name in answers.own_answers(work.state):
        if (work.state.stopped or work.state.waiting) and intent.name != "say_again":
            # the operator speaks on after "stop"
            work.emit(replace(_commanded(said, intent), undoable=False))
        _handler(work, intent.name)(work, intent)
        return
    _take(work, said, intent)


def _take(work: Work, said: Understood, intent: Intent) -> None:
    """Do what was said, or ask back what can't be: a dial reading out of reach, or in one turn
    alone, a size that contradicts what was cut."""
    question = _wonders(work.state, intent)
    if question is not None:
        work.emit(ev.Asked(replace(question, words=question.words or said.heard.words)))
        work.say(Ask())
        return
    if intent.name not in TAKES_BACK:
        # what undo takes back is the group that such an event opens
        work.emit(_commanded(said, intent))
    _handler(work, intent.name)(work, intent)


def _wonders(state: State, intent: Intent) -> Question | None:
    """What is asked before it is taken; None where nothing is."""
    unlikely = dials.out_of_reach(state, intent)
    if unlikely:
        return Question(unlikely, intent, Reason.IMPLAUSIBLE.value)
    contradiction = contradicts(state, intent)
    if contradiction:
        return Question(contradiction.value, intent, Reason.CONTRADICTS.value)
    return which_is_left_out(state, intent) or dials.which_turn(state, intent)


def _told_anew(work: Work, said: Understood, intent: Intent) -> None:
    """Another value for what was told last: the first is taken back, and this one stands for it.

    Nothing was cut or moved on the first: had something been, the command that told of it would be
    the last.
    """
    last = work.state.last_intent
    if last is None or not work.state.undoable:
        work.say("Nothing to put right.", Instruction())
        return
    seq, _ = work.state.undoable[-1]
    work.emit(ev.Undone(seq))
    _take(work, said, corrected(last, intent))


def _handler(work: Work, name: str) -> Handler:
    """The rule of an intent: the session's own, else a question of the operation's."""
    return HANDLERS.get(name, answers.own_question)


def _commanded(said: Understood, intent: Intent) -> ev.Commanded:
    heard = said.heard
    return ev.Commanded(
        heard.words,
        intent,
        heard.confidence,
        heard.engine,
        undoable=intent.name not in UNDO_PASSES_OVER,
    )


def _refused(work: Work, said: Refused) -> None:
    match said.reason:
        case Reason.NOTHING:
            return
        case Reason.NOT_NOW:
            why = why_not(work.state) if said.detail == "already_cut" else ""
            work.say(Say(why or "Not now."), Instruction(), *wanted.can_say(work.state))
        case Reason.COMMA:
            work.say("A comma is a decimal point in millimetres only.", "Write it with a point.")
        case _ if said.candidate is not None and said.candidate.name in NOT_ASKED:
            return
        case _ if said.candidate is not None:
            _ask_back(work, said, said.candidate)
        case _:
            if said.heard.engine == "typed":
                work.say(Say(f"I don't know {said.heard.words!r}."))
                work.say(*wanted.can_say(work.state))


def _ask_back(work: Work, said: Refused, candidate: Intent) -> None:
    """A question, or the open one once more: it gives way to another value for the same thing
    alone, heard surely enough to be none of the noises of a shop."""
    otherwise, open_ = said.otherwise, work.state.question
    if open_ is not None:
        sure = said.heard.confidence >= CONSEQUENT
        if open_.candidate is None or not sure or not tells_the_same(open_.candidate, candidate):
            work.say(Ask())
            return
        if candidate.name == "correct":
            candidate = corrected(open_.candidate, candidate)
            otherwise = None if otherwise is None else corrected(open_.candidate, otherwise)
    reason = said.reason if otherwise is None else Reason.SCALE
    asked = Question(said.detail, candidate, reason.value, said.heard.words, otherwise)
    work.emit(ev.Asked(asked))
    work.say(Ask())

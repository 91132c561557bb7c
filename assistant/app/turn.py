"""One turn: what was heard, to what is kept, said and shown. One pure function."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from assistant.guard import check
from assistant.phrases.book import PhraseBook
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.matcher import TYPED, match
from assistant.phrases.opinion import weigh_opinions
from assistant.present.sentences import instruction_sentences, reply_sentences
from assistant.replacing import replace
from assistant.session.allowed import allowed, allowed_sum
from assistant.session.decide import QUIET, Decision, decide
from assistant.session.events import Commanded, Record
from assistant.session.reply import Reply
from assistant.session.state import State
from assistant.session.sums import SUM_SECONDS, reply_to, settled
from assistant.session.withhold import withhold
from assistant.spoken import Expected, Heard, Reason, Refused, Sentence, Understood, WordAutomaton

NO_COMMAND = 0.15
"""Confidence under which what was heard is taken for sound that is no command."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a turn leads to; nothing of it has happened before `records` are on disk."""

    records: tuple[Record, ...]
    state: State
    said: Understood | Refused
    reply: Reply
    sentences: tuple[Sentence, ...]

    @property
    def silent(self) -> bool:
        """Whether nothing is kept and nothing said: sound that is no command."""
        return not self.records and not self.sentences


@dataclass(frozen=True, slots=True)
class Ways:
    """What the ear may hear and mean in one state."""

    expected: tuple[Expected, ...]
    grammar: WordAutomaton


def ways(book: PhraseBook, state: State, at: float) -> Ways:
    """The commands of this state, and the grammar that holds the ear to them.

    `at` is the clock's monotonic time, in seconds: until a quick sum lapses, only it is heard.
    """
    expected = allowed_sum(state) if sum_is_open(state, at) else allowed(state)
    return Ways(expected, compile_grammar(book, expected))


def turn(
    book: PhraseBook,
    state: State,
    heard: Heard,
    now: datetime,
    *,
    earlier: Sequence[Expected] = (),
) -> Outcome:
    """What `heard` leads to.

    `earlier` are the commands that were allowed when the operator began to speak, where the step
    changed since: words that mean one thing then and another now are asked again.
    """
    if sum_is_open(state, heard.started):
        said = settled(state, understand(book, allowed_sum(state), heard, earlier))
        if not _is_no_sum(said):
            return _in_a_sum(state, said, now)
    said = understand(book, allowed(state), heard, earlier)
    return outcome_of(state, said, guarded(decide(state, said, now), now))


def guarded(decision: Decision, now: datetime) -> Decision:
    """The decision, or what is asked for instead where the guard holds its answer back."""
    fault = check(decision.state) if decision.records else None
    if fault is None:
        return decision
    return withhold(decision, fault.rule.value, fault.axis, fault.surface, now)


def _is_no_sum(said: Understood | Refused) -> bool:
    """A key or a typed line that is no sum: it closes the sum and is taken as it stands."""
    return (
        isinstance(said, Refused)
        and said.heard.engine == TYPED
        and said.reason in (Reason.NOT_NOW, Reason.UNKNOWN)
    )


def _in_a_sum(state: State, said: Understood | Refused, now: datetime) -> Outcome:
    """What was said while a quick sum is open: nothing of the job changes, but for `stop`."""
    answer = reply_to(state, said)
    if answer is None:
        outcome = outcome_of(state, said, decide(state, said, now))
        stays_open = not outcome.records
    else:
        outcome = outcome_of(state, said, Decision((), state, answer.reply))
        stays_open = answer.stays_open
    if not stays_open:
        return outcome
    # sound that was no command doesn't hold it open for longer
    until = said.heard.ended + SUM_SECONDS if outcome.sentences else state.sum_until
    return replace(outcome, state=replace(outcome.state, sum_until=until))


def outcome_of(before: State, said: Understood | Refused, decision: Decision) -> Outcome:
    """The outcome of a decision: its sentences, and the view state that no event keeps."""
    state = decision.state
    sentences = tuple(reply_sentences(decision.reply, state, before))
    if sentences and not _is_repeat(said):
        state = replace(state, last_reply=tuple(sentence.text for sentence in sentences))
    if sentences or decision.records:
        state = replace(state, just_taken=_just_taken(decision.records))
    until = said.heard.ended + SUM_SECONDS if _opens_a_sum(said) else 0.0
    if state.sum_until != until:
        state = replace(state, sum_until=until)
    return Outcome(decision.records, state, said, decision.reply, sentences)


def _just_taken(records: Sequence[Record]) -> tuple[int, datetime] | None:
    """The command that begins these records, where "scratch that" takes it back."""
    for record in records:
        if isinstance(record.event, Commanded) and record.event.undoable:
            return record.command, record.at
    return None


def understand(
    book: PhraseBook,
    expected: Sequence[Expected],
    heard: Heard,
    earlier: Sequence[Expected] = (),
) -> Understood | Refused:
    """What `heard` means now; where the step changed meanwhile it has to mean the same then.

    Words that the ear hardly believes itself are no command: silence, and the screen only.
    """
    if heard.confidence < NO_COMMAND:
        return Refused(Reason.NOTHING, heard)
    said = weigh_opinions(book, expected, match(book, expected, heard))
    if not earlier or tuple(earlier) == tuple(expected):
        return said
    then = match(book, earlier, heard)
    if isinstance(said, Understood) and isinstance(then, Understood):
        if said.intent == then.intent:
            return said
        return Refused(Reason.AMBIGUOUS, heard, said.intent, "the step changed meanwhile")
    if isinstance(said, Understood):
        return Refused(Reason.UNSURE, heard, said.intent, "the step changed meanwhile")
    return said


def opening(state: State) -> tuple[Sentence, ...]:
    """What is said when a job is begun or taken up again."""
    return tuple(instruction_sentences(state, cautioned=()))


def _is_repeat(said: Understood | Refused) -> bool:
    return isinstance(said, Understood) and said.intent.name == "say_again"


def _opens_a_sum(said: Understood | Refused) -> bool:
    return isinstance(said, Understood) and said.intent.name == "quick_sum"


def sum_is_open(state: State, at: float) -> bool:
    """Whether a quick sum may still be said by words begun at the monotonic time `at`."""
    return state.question is None and at < state.sum_until


__all__ = ["QUIET", "SUM_SECONDS", "Outcome", "Ways", "opening", "timedelta", "turn", "ways"]

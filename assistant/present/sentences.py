"""What is said: sentences of shop words, each under about four seconds.

Pure functions of the state, a figure or a part of a reply. Numbers come from `numbers`, which
says what the screen shows: the one rounding is in `spoken/rounding`.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.jobs.steps import Cut, Index, Measure, Move, Step, Touch
from assistant.machine import WAYS
from assistant.phrases import saying
from assistant.present.doubts import doubt_text
from assistant.present.figure_of import figure_of
from assistant.present.formatting import SENTENCE_ENDS, like, shown_value
from assistant.present.move_words import (
    LONGEST,
    arriving,
    move_sentence,
    reading_words,
    seconds,
    sentence,
)
from assistant.present.numbers import difference_words, number_words, system_of, told_words
from assistant.present.questions import asked
from assistant.present.rule_words import fractions_in_words, index_sentence
from assistant.session.reply import (
    Answer,
    Ask,
    Instruction,
    ReadBack,
    Reply,
    Say,
    Travel,
    Verdict,
    Why,
)
from assistant.session.state import Phase, State
from assistant.spoken import Figure, Sentence, SlotKind, Urgency
from assistant.spoken.limits import Limits
from assistant.units import Quantity, unit_name

_TRAILING = ("to", "left", "deep", "on", "off", "after", "more", "a", "of")
"""First words of a label that follows its number: `seventy-seven to full depth`, `five point nine
seconds a turn of the table`; the unit stands before the label, and never in it."""


def spoken(text: str, urgency: Urgency = Urgency.ANSWER) -> list[Sentence]:
    """A text as its sentences; a fraction of a rule in words, which no voice reads right."""
    text = fractions_in_words(text)
    return [Sentence(part, urgency) for part in SENTENCE_ENDS.split(text.strip()) if part]


# -- figures --------------------------------------------------------------------------------------


def figure_answer(figure: Figure, unit: str = "") -> str:
    """A figure with what it is: `Seventy-seven to full depth.`, `Spindle speed, one eighty revs.`

    A figure on a dial is said in the dial's unit.
    """
    words = number_words(figure, "" if figure.move is not None else unit)
    if figure.value.check("[length]") and figure.value.magnitude == 0:
        words = "nothing" if figure.move is None else words
    first = figure.what.split(" ", 1)[0].rstrip(",") if figure.what else ""
    if not figure.what:
        return sentence(words)
    if first in _TRAILING:
        return sentence(f"{words} {figure.what}")
    return sentence(f"{figure.what}, {words}")


def why_sentences(figure: Figure, unit: str = "") -> list[Sentence]:
    """The derivation, a term a sentence: `Half the shaft, seven fifty.`"""
    texts = []
    for term in figure.terms:
        less = "less " if term.sign < 0 else ""
        texts.append(sentence(f"{less}{term.name}, {number_words(term.value, unit)}"))
    if not texts:
        texts.append("No sum behind it." if not figure.source else f"From {figure.source}.")
    return [Sentence(text) for text in texts]


def verdict(measured: Quantity, limits: Limits, unit: str = "", *, before_cut: bool = False) -> str:
    """A measurement against its limits: `two over the limit`, `four inside`, `three under: too
    deep`.

    Cutting makes the size smaller, so the high limit is met first; one that grows (a bore) is the
    other way round. `before_cut` where what is still over the first limit is for a cut to come:
    `two over, before the last cut`.
    """
    over, under = ("under", "over") if limits.grows else ("over", "under")
    unit = unit or system_of(unit_name(measured))
    left, past = limits.short_by(measured, unit), limits.past_by(measured, unit)
    if left is not None and left.magnitude > 0:
        past_it = ", before the last cut" if before_cut else " the limit"
        return f"{difference_words(left, unit)} {over}{past_it}"
    if past is not None and past.magnitude > 0:
        return f"{difference_words(past, unit)} {under}: {limits.too_far}"
    if left is None:
        return "inside the limit" if past is not None else ""
    if left.magnitude == 0:
        return "bang on the limit"
    return f"{difference_words(left * -1, unit)} inside"


def told_sentence(value: Quantity, kind: SlotKind = SlotKind.LENGTH, unit: str = "") -> str:
    """A read-back: `Three thou.`"""
    return sentence(told_words(value, kind, unit))


# -- the instruction ------------------------------------------------------------------------------


def instruction_sentences(
    state: State,
    *,
    short: bool = False,
    named: bool = False,
    again: bool = False,
    cautioned: Iterable[str] | None = None,
    cautions: Iterable[str] | None = None,
) -> list[Sentence]:
    """What to do now: cautions not yet given, the step's words, its number, what comes after.

    `cautioned` are the cautions given before, where that is not what `state` holds; `cautions`
    are the very ones to give (a caution is marked as given by the command whose answer this is).
    Silent after `stop`.
    """
    if state.stopped:
        return []
    if state.question is not None:
        return spoken(asked(state.question, state))
    if state.doubts:
        return spoken(doubt_text(state.doubts[0], state))
    if state.finished:
        return spoken("That's the job. It's in the record.")
    step = state.step
    if step is None:
        return spoken("No job is open.")
    if cautions is None:
        given = state.cautioned if cautioned is None else frozenset(cautioned)
        cautions = [caution for caution in step.cautions if caution not in given]
    first = [part for caution in cautions for part in spoken(caution, Urgency.CAUTION)]
    texts = _step_texts(state, step, Instruction(short, named, again))
    return first + [part for text in texts for part in spoken(text)]


def _step_texts(state: State, step: Step, how: Instruction) -> list[str]:
    figure = figure_of(state)
    match state.phase:
        case Phase.PAPER:
            on_top = isinstance(step, Touch) and step.axis == "knee"
            return ["Paper on top, or bare?" if on_top else "Paper, or bare?"]
        case Phase.READ:
            axis = step.axis if isinstance(step, Touch) else "dial"
            if isinstance(step, Touch) and step.keeps:
                return [f"Whole turns from zero, and what does the {axis} dial read?"]
            return [f"What does the {axis} dial read?"]
        case Phase.VERIFY if figure is not None and figure.move is not None:
            return ["Lock it.", f"Read it again: {reading_words(figure.move)}?"]
        case Phase.VERIFY:
            return ["Lock it. Read it again."]
    # what leads to a move that was begun is done: "drop the knee" again would be a second drop
    texts = [] if how.short or state.under_way else list(step.again if how.again else step.say)
    if figure is not None:
        texts += _figure_texts(state, step, figure, how.short, how.named)
    return _run_on([*texts, *step.after])


def _run_on(texts: list[str]) -> list[str]:
    """`Drop the knee. Then:` runs on into the sentence after it: `Then saddle in.`"""
    joined: list[str] = []
    for text in texts:
        if joined and joined[-1].endswith(":"):
            lead = joined.pop()[:-1]
            text = f"{lead} {text[:1].lower()}{text[1:]}"
        joined.append(text)
    return joined


def _shares_its_ways(state: State, axis: str) -> bool:
    """Whether `in` could be another wheel of this machine: a cross slide beside a compound."""
    axes = state.machine.axes
    return any(other != axis and WAYS[other] == WAYS[axis] for other in axes)


def _figure_texts(state: State, step: Step, figure: Figure, short: bool, named: bool) -> list[str]:
    if isinstance(step, Index) and str(figure.value.units) == "turn":
        return [index_sentence(step)]
    if figure.move is not None:
        named = named or _shares_its_ways(state, figure.move.wheel.axis)
        text = move_sentence(
            figure.move, short=short, arriving=arriving(step, figure.move), named=named
        )
        if short and isinstance(step, Move) and step.leaves_inside is not None:
            # to the places in which the limits hold
            inside = shown_value(Figure(step.leaves_inside, "", step.size_places), state.unit)
            text = f"{text[:-1]}: {difference_words(inside, state.unit)} inside."
        return [text]
    texts = [figure_answer(figure, state.unit)]
    if isinstance(step, Measure):
        shown = shown_value(figure, state.unit)
        for name, limit in (("Low", figure.low), ("High", figure.high)):
            if limit is None or shown_value(like(limit, figure), state.unit) == shown:
                continue
            texts.append(f"{name} limit, {number_words(like(limit, figure), state.unit)}.")
    if isinstance(step, Cut) and short:
        return []
    return texts


# -- replies --------------------------------------------------------------------------------------


def reply_sentences(reply: Reply, state: State, before: State | None = None) -> list[Sentence]:
    """A reply in words, in the state that it led to."""
    sentences: list[Sentence] = []
    for part in reply.parts:
        match part:
            case Say():
                sentences += spoken(part.text)
            case ReadBack():
                sentences += spoken(told_sentence(part.value, part.kind, _told_unit(part, state)))
            case Answer():
                sentences += spoken(figure_answer(part.figure, part.unit or state.unit))
            case Travel():
                turns = saying.say_turns(part.turns, part.part)
                sentences += spoken(sentence(f"{part.axis}, {turns}"))
            case Why():
                sentences += why_sentences(part.figure, state.unit)
            case Verdict():
                sentences += spoken(_verdict_sentence(part, state.unit))
            case Instruction():
                sentences += instruction_sentences(
                    state,
                    short=part.short,
                    named=part.named,
                    again=part.again,
                    cautions=part.cautions,
                )
            case Ask() if state.question is not None:
                sentences += spoken(asked(state.question, state))
    return sentences


def _verdict_sentence(part: Verdict, unit: str) -> str:
    """The value said back, then how it lies: `One six six six: two over the limit.`"""
    value = told_words(part.value, SlotKind.LENGTH, unit)
    text = verdict(part.value, part.limits, unit)
    whole = sentence(f"{value}: {text}" if text else value)
    return whole if seconds(whole) <= LONGEST else f"{sentence(value)} {sentence(text)}"


def _told_unit(part: ReadBack, state: State) -> str:
    """A dial is read back as it is marked, a size in the unit of the session."""
    return part.unit or ("" if part.kind is SlotKind.READING else state.unit)

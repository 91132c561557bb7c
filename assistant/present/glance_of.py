"""From the state of the job to one screen: the same figure that the ear gets."""

from __future__ import annotations

from assistant.jobs.steps import Check, Cut, FactValue, Index, Measure, Move, Note, Step, Touch
from assistant.present.bar_of import depth_bar, pass_place
from assistant.present.doubts import doubt_text
from assistant.present.drawn_now import about_the_work, drawn_now
from assistant.present.figure_of import figure_of
from assistant.present.formatting import (
    SENTENCE_ENDS,
    goes_round,
    like,
    show,
    show_number,
    stop_of,
    widest,
)
from assistant.present.glance import STOPPED, Ear, Glance, Limits, Moment, Stop
from assistant.present.move_words import arriving
from assistant.present.questions import asked, asked_value
from assistant.present.wanted import wanted_words
from assistant.replacing import replace
from assistant.session.asked import names_both
from assistant.session.state import Phase, State
from assistant.spoken import DialMove, Figure, SlotKind
from assistant.units import is_quantity, magnitude

LEVEL_STEPS = 8
"""The input level is shown in so many steps, so that noise does not redraw the screen."""

WAITING = "waiting till you speak on"
"""After "hang on"."""

_PHASES = {
    Phase.PAPER: "paper?",
    Phase.READ: "what does the dial read?",
    Phase.VERIFY: "lock it, read it again",
}


def glance(
    state: State,
    *,
    ear: Ear = Ear.LISTENING,
    waits_for: str = "",
    heard: str = "",
    level: float = 0.0,
    answer: tuple[str, ...] = (),
    noted: str = "",
    trouble: tuple[str, ...] = (),
    changed: int = 0,
) -> Glance:
    """The screen for `state`; `trouble` is what is missing or broken, one plain line each;
    `answer` and `noted` are what was just answered, besides the instruction.

    Always one and only one `Moment`: after `stop`, trouble; then an open question, a doubt, the
    end of the job, not listening, and else the kind of the step at hand.
    """
    base = Glance(
        moment=Moment.NOTE,
        ear=ear,
        waits_for=waits_for if ear is Ear.WAITING else "",
        level=round(min(1.0, max(0.0, level)) * LEVEL_STEPS) / LEVEL_STEPS,
        heard=heard,
        answer=() if state.stopped or state.question is not None else answer,
        say=wanted_words(state),
        noted=WAITING if state.waiting else noted,
        trouble=trouble,
        job=state.plan.title or state.job_name,
        theme=state.theme,
        changed=changed,
    )
    if state.stopped:
        return replace(
            base,
            moment=Moment.TROUBLE,
            phase=STOPPED,
            instruction="Hit your stop button. I can't.",
            detail=("I am silent till you speak on.",),
        )
    if state.question is not None:
        return _ask(base, state)
    if state.doubts:
        return _doubt(base, state)
    if state.finished:
        return replace(
            base,
            moment=Moment.DONE,
            instruction="That's the job. It's in the record.",
            detail=_told(state),
        )
    step = state.step
    if step is None:
        moment = Moment.TROUBLE if trouble else Moment.NOTE
        return replace(base, moment=moment, instruction="No job yet." if not trouble else "")
    shown = _step(base, state, step)
    if isinstance(step, Cut):
        shown = replace(shown, phase="cutting")
    if not state.listening:
        shown = replace(shown, moment=Moment.QUIET, ear=_quiet(ear))
    return shown


def _quiet(ear: Ear) -> Ear:
    return Ear.NOT_LISTENING if ear in (Ear.LISTENING, Ear.HEARING, Ear.WAITING) else ear


def _ask(base: Glance, state: State) -> Glance:
    question = state.question
    assert question is not None
    shown = replace(
        _placed(base, state),
        moment=Moment.ASK,
        instruction=asked(question, state),
        detail=(question.text,) if question.text else (),
        choices=("yes", "no"),
    )
    if names_both(question):  # to show one of them large would be to choose it
        return replace(shown, choices=(), what="say it again")
    value = asked_value(question.candidate)
    if value is None:
        return shown
    size, kind = value
    unit = "" if kind is SlotKind.READING else state.unit
    number, symbol = show_number(size, unit)
    return replace(
        shown, number=number, unit=symbol, what="is that right?", widest=widest(size, unit)
    )


def _doubt(base: Glance, state: State) -> Glance:
    first, *more = state.doubts
    detail = ["No moves until I know."]
    detail += [doubt_text(doubt, state) for doubt in more]
    return replace(
        _placed(base, state),
        moment=Moment.ASK,
        instruction=doubt_text(first, state),
        detail=tuple(detail),
        what="stop and tell me",
    )


def _told(state: State) -> tuple[str, ...]:
    """The last sizes told, for the end of the job."""
    lines = []
    kept = [told for told in state.told if told.name not in ("pass", "skipped", "note")]
    for told in kept[-4:]:
        value = told.value if isinstance(told.value, str) else show(told.value, state.unit)
        lines.append(f"{told.name.replace('.', ' ')}: {value}")
    return tuple(lines)


def _placed(base: Glance, state: State) -> Glance:
    """Adds what every step has: place, bar and drawing."""
    plan, step = state.plan, state.step
    if step is None:
        return base
    bar = depth_bar(state)
    kind, dims = drawn_now(state, bar)
    return replace(
        base,
        place=f"step {plan.index(step.id) + 1} of {len(plan.steps)}",
        pass_place=pass_place(plan, step),
        bar=bar,
        drawing=dims,
        drawing_kind=kind,
    )


def _step(base: Glance, state: State, step: Step) -> Glance:
    figure = figure_of(state)
    plan_kind = state.plan.drawing_kind if state.plan else ""
    shown = replace(
        _placed(base, state),
        moment=_moment(step, plan_kind),
        instruction=_unsaid(_instruction(state, step), step.cautions),
        cautions=step.cautions,
        phase=_PHASES.get(state.phase, ""),
    )
    if figure is not None:
        if figure.move is not None:
            figure = staying(figure, arriving(step, figure.move))
        number, unit = show_number(figure, state.unit)
        shown = replace(
            shown, number=number, unit=unit, what=figure.what, widest=widest(figure, state.unit)
        )
        if isinstance(step, Index) and unit == "turns":
            shown = _index(shown, step)
        if figure.move is not None:
            shown = _moved(shown, step, figure.move)
    if isinstance(step, Note | Check) and not about_the_work(step):
        shown = replace(shown, drawing=(), drawing_kind="")
    if isinstance(step, Measure):
        shown = replace(shown, limits=_limits(state, step, figure), phase=shown.phase or step.gauge)
    return shown


def _unsaid(instruction: str, cautions: tuple[str, ...]) -> str:
    """The instruction without the sentences that a caution beside it begins with: `Spindle off.`
    before `Spindle off and standing still before you measure.`"""
    sentences = SENTENCE_ENDS.split(instruction)
    kept = [
        sentence
        for sentence in sentences
        if not any(caution.startswith(sentence.rstrip(".")) for caution in cautions)
    ]
    return " ".join(kept or sentences)


def _moved(shown: Glance, step: Step, move: DialMove) -> Glance:
    """A move with its turns, reading and way; the arrows show no way where nothing moves."""
    way = way_shown(move, arriving(step, move))
    return replace(shown, move=move, stop=stop_of(move), way=way)


def way_shown(move: DialMove, arriving: str) -> str:
    """The way that the arrows show of a move that ends going `arriving`; '' where none is made."""
    stays = not move.distance.magnitude and move.back_off is None
    way = arriving if goes_round(move) else move.direction
    return "" if stays else way


def staying(figure: Figure, arriving: str) -> Figure:
    """A move of nothing as what its dial reads: a large nought would say little. So too a move of a
    division or less, round by the other side, to come `arriving`: how far it went past is seldom
    known."""
    move = figure.move
    if move is None:
        return figure
    if goes_round(move):
        return replace(figure, value=move.reading, what=f"{move.wheel.axis} {arriving} to")
    if move.distance.magnitude or move.back_off is not None:
        return figure
    if figure.value.magnitude:  # what the dial should read, already
        return figure
    return replace(figure, value=move.reading, what=f"{move.wheel.axis} stays at")


def _index(shown: Glance, step: Index) -> Glance:
    """Whole turns of the crank, then the holes beyond them, which is where it stops."""
    circle = f"on the {step.circle} circle"
    if not step.turns:
        return replace(shown, number=str(step.holes), unit="holes", what=circle, widest="00")
    unit = "turn" if step.turns == 1 else "turns"
    shown = replace(shown, number=str(step.turns), unit=unit, what="crank", widest="00")
    if not step.circle:
        return shown
    stop = Stop(f"{step.turns} {unit} +", str(step.holes), "00", "holes", circle)
    return replace(shown, stop=stop)


_MAPS = {
    "holes": Moment.HOLES,
    "bolt circle": Moment.HOLES,
    "index": Moment.INDEX,
    "table": Moment.INDEX,
}
"""Moves of jobs with such a drawing have a layout of their own: the map is what matters."""


def _moment(step: Step, kind: str) -> Moment:
    match step:
        case Move() | Cut() if kind in _MAPS:
            return _MAPS[kind]
        case Index():
            return Moment.INDEX
        case Check():
            return Moment.CHECK
        case Touch():
            return Moment.TOUCH
        case Move():
            return Moment.MOVE
        case Cut():
            return Moment.CUT
        case Measure():
            return Moment.MEASURE
        case Note():
            return Moment.NOTE
    return Moment.NOTE


def _instruction(state: State, step: Step) -> str:
    """The step in a line: its own words, or what its phase asks."""
    if state.phase is Phase.PAPER:
        return "Paper? Tell me how thick, or say bare."
    if state.phase is Phase.VERIFY:
        return "Lock it. Read it again: does it still read so?"
    if state.phase is Phase.READ and isinstance(step, Touch) and step.keeps:
        return "Whole turns from zero, and what does the dial read?"
    if state.phase is Phase.READ:
        return "This dial can't be set. What does it read?"
    say = list(step.say)
    if say and say[-1].endswith(":"):
        figure = figure_of(state)
        if figure is not None and figure.move is not None and goes_round(figure.move):
            say[-1] = f"{say[-1][:-1]} back off, and {arriving(step, figure.move)} to it."
        elif figure is not None:
            say[-1] = f"{say[-1][:-1]} {figure.what}."
    return " ".join((*say, *step.after)) or f"{step.title}."


def _limits(state: State, step: Measure, figure: Figure | None) -> Limits | None:
    """The limits in the unit and the places that the size itself is shown in."""
    if figure is None or (step.low is None and step.high is None):
        return Limits(None, None, gauge=step.gauge) if step.gauge else None

    def number(size: FactValue | None) -> tuple[float | None, str]:
        if not is_quantity(size):
            return None, ""
        text = show_number(like(size, figure), state.unit).number
        return float(magnitude(size, state.unit)), text

    low, low_text = number(step.low)
    high, high_text = number(step.high)
    measured, measured_text = number(state.facts.get(step.fact))
    verdict = state.plan.verdict if measured is not None else ""
    return Limits(
        low, high, low_text, high_text, measured, measured_text, step.gauge, verdict
    )  # fmt: skip

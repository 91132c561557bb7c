"""Which commands may be heard now: kinds, slots and the bands in which values are plausible.

Pure, and read by two: the phrase compiler, which holds the ear to it, and the matcher.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from assistant.jobs.steps import Check, Cut, Ground, Index, Measure, Move, Note, Touch
from assistant.replacing import replace
from assistant.session.already import tells_of_it
from assistant.session.answers import own_answers
from assistant.session.belief import Doubt, DoubtKind
from assistant.session.between import may_be_told
from assistant.session.cuts import plausible
from assistant.session.dial_slots import CONSEQUENT as CONSEQUENT
from assistant.session.dial_slots import dial_reads, dial_should, working_axis
from assistant.session.left_out import one_of_many
from assistant.session.state import Phase, State
from assistant.session.sums import SUMS
from assistant.spoken import Expected, Slot, SlotKind
from assistant.units import Quantity, inches

ALWAYS = ("say_again", "stop", "help")
QUESTIONS = (
    "what_now", "where", "how_much_left", "how_deep", "how_many_turns", "which_way", "dial_should",
    "what_speed", "what_feed", "what_size", "why", "how_far_to_run", "where_touched",
)  # fmt: skip
MANAGING = (
    "undo", "inch", "metric", "louder", "softer", "slower", "faster", "light", "dark",
    "stop_listening", "note",
)  # fmt: skip
TROUBLE = ("went_past", "lost_count", "dial_slipped", "chatter", "new_cutter")

MISHAPS = ("tool_broke", "tool_stuck", "half_nut_missed", "hit_shoulder")
ASIDE = ("which_word", "not_you", "hang_on", "free_moves")
SPINDLE = ("spindle_on", "spindle_off")

PAPER_LIMIT = inches("0.030")
"""Thicker than any paper or feeler stack for touching off: a slip of tongue or ear."""
SURE_YES = 0.8
"""Confidence wanted of a yes to what is asked back: it hangs on one syllable."""


def allowed(state: State) -> tuple[Expected, ...]:
    """The commands that may be heard in this state, the likeliest first."""
    return tuple(_by_likelihood(state))


def likeliest(state: State) -> Expected:
    """The first of them, without working out the others."""
    return next(_by_likelihood(state))


def _by_likelihood(state: State) -> Iterator[Expected]:
    if not state.listening:
        yield from _plain("listen", "stop")
    elif state.question is not None:
        yield from _to_question(state)
    elif state.finished:
        # "same again" and "say again" are near in sound, and one of them begins a new part
        yield Expected("same_again", (), CONSEQUENT)
        yield Expected("next_part", (), CONSEQUENT)
        yield from _plain("where", "undo", "note", *ALWAYS, "stop_listening", *ASIDE)
    elif state.doubts:
        yield from _to_doubt(state)
        yield from _plain("where", "what_now", "why", "undo", "stop_listening", *ALWAYS)
        yield from _of_many(state)
        yield from _plain(*_mishaps(state), *SPINDLE, *ASIDE)
    else:
        yield from _of_step(state)
        yield from _plain(*ALWAYS, *(name for name in QUESTIONS if name != "dial_should"))
        yield dial_should(state)
        yield from _plain(*own_answers(state), *MANAGING)
        yield from _telling(state)
        yield from _corrections(state)
        yield from _in_trouble(state)
        yield from _of_many(state)
        yield from _plain(*_mishaps(state), "skip_finishing", *SPINDLE, *ASIDE)
        if state.phase is not Phase.VERIFY:
            yield Expected("moved", (), CONSEQUENT)
        yield Expected("quick_sum")


def _of_many(state: State) -> Iterator[Expected]:
    """One of many may be left out."""
    if one_of_many(state) is not None:
        yield Expected("leave_one_out", (), CONSEQUENT)


def allowed_sum(state: State) -> tuple[Expected, ...]:
    """The commands of a quick sum: opened by one word, left after one answer.

    What is summed up must be heard as surely as what is measured: talk is nearest to a sum of all
    that may be said, and an answer to it may be taken for the answer to the question.
    """
    unit = state.unit
    return (
        *(Expected(name, slots(unit), CONSEQUENT) for name, slots in SUMS.items()),
        *_plain(*ALWAYS, "no", "quick_sum"),
    )


def _mishaps(state: State) -> Iterable[str]:
    """What breaks, jams or is run into; a half nut is missed where one is closed for a cut."""
    return (name for name in MISHAPS if state.plan.traced or name != "half_nut_missed")


@lru_cache(maxsize=256)
def _plain(*names: str) -> tuple[Expected, ...]:
    return tuple(Expected(name) for name in names)


def _to_question(state: State) -> tuple[Expected, ...]:
    """Yes, no and the thing told anew; and all else that the step allows, so that it is heard as
    what it is, not drawn to the yes that is nearest to it in sound."""
    assert state.question is not None
    candidate = state.question.candidate
    usual = allowed(replace(state, question=None))
    anew: tuple[Expected, ...] = ()
    if candidate is not None and candidate.has_number:
        told = next((one for one in usual if one.intent == candidate.name and one.slots), None)
        if told is not None:
            anew = (Expected("correct", told.slots, CONSEQUENT), told)
    first = (*anew, Expected("yes", (), SURE_YES), *_plain("no", *ALWAYS))
    names = {"correct", "quick_sum", "note", *(one.intent for one in first)}
    return (*first, *(one for one in usual if one.intent not in names))


def _corrections(state: State) -> Iterable[Expected]:
    """Another value for what was told last, right after it: "no, forty five"; as it could be told
    in that state."""
    told = state.last_intent
    if not state.undoable or told is None or not told.slots:
        return ()
    _, before = state.undoable[-1]
    for usual in (*_of_step(before), *_to_doubt(before), *_telling(before)):
        if usual.intent == told.name and usual.slots:
            return (Expected("correct", usual.slots, CONSEQUENT),)
    return ()


def _to_doubt(state: State) -> tuple[Expected, ...]:
    doubts = state.doubts
    if not doubts:
        return ()
    doubt = doubts[0]
    asks_moved = any(one.kind is DoubtKind.MOVED for one in doubts)
    moved = _plain("nothing_moved", "moved") if asks_moved else ()
    match doubt.kind:
        case DoubtKind.PLAN:
            return _plain("yes", "no")
        case DoubtKind.PIECE:
            return _plain("yes", "no", "new_cutter", "moved")
        case DoubtKind.DIAL:
            return (
                dial_reads(state, doubt.axis),
                *_plain("same_turn", "yes", "no", "lost_count", "dial_slipped", "new_cutter"),
                *moved,
            )
        case DoubtKind.TURN:
            return (
                dial_reads(state, doubt.axis),
                *_plain("lost_count", "dial_slipped", "new_cutter"),
                *moved,
            )
        case DoubtKind.FLOOR:
            turn = not state.machine.axis(doubt.axis).settable
            return (
                *((dial_reads(state, doubt.axis, within_a_turn=True),) if turn else ()),
                *(() if turn else _plain("ready_set", "touched")),
                # measured before the trouble, and a cut made since that nobody told
                *((_size_of_metal(state, doubt),) if _measured_by(state, doubt) else ()),
                *_plain("new_cutter", "moved", "dial_slipped"),
            )
        case DoubtKind.MOVED:
            return _plain("nothing_moved", "no", "moved", "yes", "new_cutter")
        case DoubtKind.TOUCH:
            return _plain("ready_set", "touched", "dial_slipped", "new_cutter", "moved")
        case DoubtKind.TOOL:
            return _plain("ready_set", "new_cutter", "moved")
        case DoubtKind.CRANK:
            return _plain("ready_set", "touched", "moved")
        case DoubtKind.LOOK:
            return _plain("yes", "no", "lost_count", "dial_slipped", "new_cutter", "moved")
        case DoubtKind.METAL:
            return (
                _size_of_metal(state, doubt),
                *_plain("went_past", "lost_count", "dial_slipped", "new_cutter", "moved"),
            )


def _of_step(state: State) -> Iterable[Expected]:
    """The commands that finish the step at hand, or this part of it."""
    step = state.step
    match step:
        case Touch() if state.phase is Phase.PAPER:
            yield _paper(state, step)
            yield from _plain("bare", "paper_on", "touched")
        case Touch() if state.phase is Phase.READ:
            yield dial_reads(state, step.axis, within_a_turn=not step.keeps)
        case Touch():
            yield from _plain("touched")
        case Move() if state.phase is Phase.VERIFY:
            # the dial is asked for, so its bare reading answers
            yield dial_reads(state, step.axis)
            yield from _plain("yes", "no", "ready_set", "moved")
        case Move():
            yield from _plain(step.done_words)
            if step.done_words == "clear":
                # "Clear of the end?" is a question
                yield from _plain("yes", "no")
            if step.optional:
                yield from _plain("skip")
        case Cut():
            yield from _plain("through")
            if step.kind == "division":
                yield from _plain("next_division")
        case Check():
            yield from _plain("checked", "yes", "no", "ready_set", "skip")
        case Measure(kind="even"):
            yield from _plain("even", "yes", "no", "skip")
        case Measure(kind="gauge"):
            yield from _plain("yes", "no", "skip")
        case Measure(kind="walls"):
            slot = Slot("size", SlotKind.LENGTH, state.unit, step.band_low, step.band_high,
                        step.nominal)  # fmt: skip
            # the wall still wanted comes first: it may be answered by the bare size
            walls = ["left_wall", "right_wall"]
            if f"{step.fact}.left" in state.facts:
                walls.reverse()
            for wall in walls:
                yield Expected(wall, (slot,), CONSEQUENT)
            yield from _plain("even", "skip")
        case Measure():
            yield _measured(state, step)
            if step.nominal is not None:
                yield _over_under(state, step, step.nominal)
            if step.optional:
                yield from _plain("skip")
        case Index():
            yield from _plain(step.done_words, "next_division")
        case Note():
            yield from _plain(step.done_words, "checked", "yes")


def _measured(state: State, step: Measure) -> Expected:
    slot = Slot("size", SlotKind.LENGTH, state.unit, step.band_low, step.band_high, step.nominal)
    return Expected("measured", (slot,), CONSEQUENT)


def _over_under(state: State, step: Measure, nominal: Quantity) -> Expected:
    """The same band as that of the size, counted from nominal."""
    low = None if step.band_low is None else step.band_low - nominal
    high = None if step.band_high is None else step.band_high - nominal
    slot = Slot("deviation", SlotKind.DEVIATION, state.unit, low, high)
    return Expected("over_under", (slot,), CONSEQUENT)


def _measured_by(state: State, doubt: Doubt) -> bool:
    """Whether a size tells of the surface in doubt."""
    return state.ahead.measure_of(doubt.surface) is not None


def _size_of_metal(state: State, doubt: Doubt) -> Expected:
    """The measurement that settles what was cut: the one that tells of its surface."""
    step = state.ahead.measure_of(doubt.surface)
    low, high = (None, None) if step is None else plausible(step)
    return Expected("measured", (Slot("size", SlotKind.LENGTH, state.unit, low, high),), CONSEQUENT)


def _unasked(state: State) -> Iterable[Expected]:
    """A size where what comes next is measured: also where it is then answered that it can't be."""
    step = tells_of_it(state.ahead)
    if step is not None:
        slot = Slot("size", SlotKind.LENGTH, state.unit, *plausible(step))
        yield Expected("already_cut", (slot,), CONSEQUENT)
        if may_be_told(state):
            yield Expected("measured", (slot,), CONSEQUENT)


def _paper(state: State, step: Touch) -> Expected:
    slot = Slot(
        "size",
        SlotKind.LENGTH,
        state.unit,
        low=PAPER_LIMIT * 0,
        high=PAPER_LIMIT,
        expected=step.paper_expected,
    )
    return Expected("paper", (slot,), CONSEQUENT)


def _in_trouble(state: State) -> Iterable[Expected]:
    """What goes wrong; how far past, and how wide the new cutter is, may be told with it."""
    for name in TROUBLE:
        slots: tuple[Slot, ...] = ()
        axis = working_axis(state)
        if name == "went_past" and axis:
            turn = state.machine.axis(axis).per_turn
            slots = (Slot("size", SlotKind.LENGTH, state.unit, turn * 0, turn),)
        if name == "new_cutter":
            slots = _cutter_width(state)
        yield Expected(name, slots)


def _cutter_width(state: State) -> tuple[Slot, ...]:
    """The width of a new cutter, where the job measures the width of the first."""
    for step in state.plan.steps:
        if isinstance(step, Measure) and Ground.TOOL in step.rests:
            return _measured(state, step).slots
    return ()


def _telling(state: State) -> Iterable[Expected]:
    """What may be told in any step of the cutting."""
    axis = working_axis(state)
    if axis and state.axes[axis].zeroed and state.phase is not Phase.VERIFY:
        yield dial_reads(state, axis)
    step = state.step
    if isinstance(step, Move) and step.pass_fact:
        slot = Slot(
            "size",
            SlotKind.LENGTH,
            state.unit,
            low=state.machine.least_cut,
            high=step.pass_limit,
        )
        yield Expected("cut_this_pass", (slot,), CONSEQUENT)
    yield from _unasked(state)
    if state.machine.speeds:
        speeds = state.machine.speeds
        slot = Slot("rate", SlotKind.RATE, "rpm", speeds[0] / 2, speeds[-1] * 2)
        yield Expected("speed_is", (slot,))
    if state.machine.feeds:
        feeds = state.machine.feeds
        slot = Slot("rate", SlotKind.RATE, str(feeds[0].units), feeds[0] / 2, feeds[-1] * 2)
        yield Expected("feed_is", (slot,))

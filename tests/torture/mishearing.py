"""Whole jobs with an ear that takes numbers for others: what gets into the job unnoticed.

A confusion is counted when the value that the job takes is not the one that was meant. It is
noticed where it is asked back (outside the plausible band, or unclear), and it can be noticed
where it is read back as heard. What must not happen: a wrong value outside the band that is taken
without asking; one inside it that is not read back as it was heard; one that can't be taken back.

The ear is worse than the real one on purpose: it is sure of every word (confidence 0.95), so that
no mistake is caught for being unsure, and each number word is misheard with the same high
probability. Which other word is heard instead is drawn from what was measured
(`confusions.csv`) and from the pairs that are near in sound.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from assistant.app.turn import Outcome, turn
from assistant.jobs.steps import Cut, Measure, Move, Touch
from assistant.phrases import saying
from assistant.present.questions import asked as asked_in_words
from assistant.session.allowed import allowed
from assistant.session.asked import names_both
from assistant.session.instruct import dial_at
from assistant.session.state import Phase, State
from assistant.session.telling import nominal_as_said
from assistant.spoken import Heard, Intent, Refused, Understood
from assistant.units import Quantity, is_quantity, magnitude, quantity, unit_name
from tests.factories import BOOK, NOW, Job, expected_words
from tests.torture.confusions import load_confusions

NEAR_IN_SOUND: Mapping[str, tuple[str, ...]] = {
    "five": ("nine",), "nine": ("five",), "oh": ("four",), "four": ("oh",),
    "fifteen": ("fifty",), "fifty": ("fifteen",), "thirteen": ("thirty",), "thirty": ("thirteen",),
    "fourteen": ("forty",), "forty": ("fourteen",), "sixteen": ("sixty",), "sixty": ("sixteen",),
    "seventeen": ("seventy",), "seventy": ("seventeen",), "eighteen": ("eighty",),
    "eighty": ("eighteen",), "nineteen": ("ninety",), "ninety": ("nineteen",), "two": ("three",),
    "three": ("two", "zero"), "six": ("eight",), "eight": ("six",), "seven": ("eleven",),
    "eleven": ("seven",), "one": ("nine",), "zero": ("four",), "point": ("",), "half": ("quarter",),
    "over": ("under",), "under": ("over",),
}  # fmt: skip
"""Words that are near in sound, whether or not they were met in the measured table."""
JOBS = ("keyseat-inch", "keyseat-metric", "keyseat-two-in-line", "turn-shaft")
OPERATORS = 32
MOST_TURNS = 600
COUNTS = ("wrong", "not_taken", "refused", "asked_back", "read_back", "unread", "outside", "stuck")


@dataclass
class Misheard:
    """What whole jobs with a bad ear came to."""

    jobs: int = 0
    numbers: int = 0
    """Values told."""
    wrong: int = 0
    """Values heard as another value, or as no number at all."""
    not_taken: int = 0
    """Heard as no phrase of the step: not taken, said again."""
    refused: int = 0
    """Heard as a value that can't be: told so, nothing taken, said again."""
    asked_back: int = 0
    """Asked back; "no" then left the job as it was."""
    read_back: int = 0
    """Taken, read back as heard; "scratch that" then left the job as it was."""
    unread: int = 0
    """Taken and not read back as heard: must be 0."""
    outside: int = 0
    """Taken outside the plausible band: must be 0."""
    stuck: int = 0
    """Not undone by "no" or "scratch that": must be 0."""
    examples: list[str] = field(default_factory=list)
    """Of what must not be."""

    @property
    def ok(self) -> bool:
        """Whether no wrong number could slip in."""
        return not (self.unread or self.outside or self.stuck)

    def note(self, text: str) -> None:
        """Keep an example."""
        self.examples = [*self.examples[:4], text]

    def add(self, other: Misheard) -> None:
        """Count what one mishearing came to."""
        for one in COUNTS:
            setattr(self, one, getattr(self, one) + getattr(other, one))
        for example in other.examples:
            self.note(example)


@dataclass(frozen=True)
class _Turn:
    """What an operator means to say in one state, and where it leads when it is heard right."""

    state: State
    meant: str
    right: Outcome
    values: tuple[tuple[str, str, str], ...]
    following: State


@dataclass
class _Operator:
    """One person at one job: means the same at the same place in every one of the jobs.

    A turn is a pure function, so what it led to once is remembered: ten thousand jobs are then
    ten thousand jobs, and not as many calculations of one plan.
    """

    number: int
    start: State
    turns: dict[int, _Turn] = field(default_factory=dict)
    verdicts: dict[tuple[int, str], Misheard] = field(default_factory=dict)

    def turn(self, state: State) -> _Turn:
        """What is meant in `state`."""
        found = self.turns.get(state.seq)
        if found is None:
            meant = words_meant(state, random.Random(f"{self.number} {state.seq}"))
            right = _heard(state, meant)
            following = _answered(state, right.state)
            values = tuple(_quantities(right.said))
            found = self.turns[state.seq] = _Turn(state, meant, right, values, following)
        return found

    def verdict(self, turn: _Turn, heard: str) -> Misheard:
        """What becomes of the words `heard` in place of those meant."""
        key = turn.state.seq, heard
        found = self.verdicts.get(key)
        if found is None:
            found = self.verdicts[key] = _judge(turn, heard)
        return found


def _answered(before: State, asked: State) -> State:
    """What the operator's own answer leads to, where something is asked back: a dial is read where
    it stands, so that of two places the one that it had is meant."""
    if asked.question is None:
        return asked
    if names_both(asked.question):  # the likelier one is meant, and said apart from the other
        first, _, _ = asked_in_words(asked.question, asked).lower().partition(", or ")
        return _heard(asked, first).state
    yes = _heard(asked, "yes").state
    if asked.question.otherwise is not None and yes.axes != before.axes:
        return _heard(asked, "no").state
    return yes


def _heard(state: State, words: str) -> Outcome:
    return turn(BOOK, state, Heard(words, 0.95, engine="moonshine"), NOW)


@cache
def others() -> Mapping[str, tuple[Sequence[str], Sequence[float]]]:
    """For each word the words it is taken for, and how likely each."""
    weights: dict[str, dict[str, float]] = {}
    for said, near in NEAR_IN_SOUND.items():
        for word in near:
            weights.setdefault(said, {})[word] = 1.0
    for said, measured in load_confusions().items():
        for one in measured:
            known = weights.setdefault(said, {})
            known[one.heard] = known.get(one.heard, 0.0) + one.count
    return {said: (tuple(found), tuple(found.values())) for said, found in weights.items()}


def mishear(
    count: int,
    rate: float = 0.15,
    seed: int = 1,
    jobs: Sequence[str] = JOBS,
    until: Callable[[], bool] = lambda: False,
) -> Misheard:
    """`count` whole jobs, in which each number word is misheard with probability `rate`."""
    rng = random.Random(seed)
    result = Misheard()
    starts = [Job(name).state for name in jobs]
    operators = [_Operator(n, starts[n % len(starts)]) for n in range(OPERATORS)]
    for number in range(count):
        if until():
            break
        operator = operators[number % len(operators)]
        state = operator.start
        for _turn in range(MOST_TURNS):
            if state.finished:
                break
            state = _step(operator, state, rng, rate, result)
        else:
            raise AssertionError(f"a job came to no end at {state.step_id}")
        result.jobs += 1
    return result


def _step(
    operator: _Operator, state: State, rng: random.Random, rate: float, result: Misheard
) -> State:
    turn = operator.turn(state)
    if not turn.values:
        return turn.following
    result.numbers += 1
    heard = _misheard(turn.meant, rng, rate)
    if heard == turn.meant:
        return turn.following
    verdict = operator.verdict(turn, heard)
    if not verdict.wrong:
        return turn.following
    result.add(verdict)
    return state  # noticed, taken back, and said again


def _judge(turn: _Turn, heard: str) -> Misheard:
    """What one mishearing comes to, and whether the operator can undo it."""
    result = Misheard()
    outcome = _heard(turn.state, heard)
    if tuple(_quantities(outcome.said)) == turn.values:
        return result
    result.wrong = 1
    if outcome.state.question is not None:
        result.asked_back = 1
        _undone(turn.state, outcome, "no", result)
    elif isinstance(outcome.said, Understood) and _same(turn.state, outcome.state):
        result.refused = 1
    elif isinstance(outcome.said, Understood):
        _taken(turn.state, turn.meant, outcome, turn.right, result)
        _undone(turn.state, outcome, "scratch that", result)
    else:
        result.not_taken = 1
    return result


def _taken(state: State, meant: str, outcome: Outcome, right: Outcome, result: Misheard) -> None:
    assert isinstance(outcome.said, Understood)
    intent = outcome.said.intent
    example = f"{state.step_id}: {meant!r} heard as {outcome.said.heard.words!r}"
    if any(_outside(state, intent)):
        result.outside += 1
        result.note(f"outside: {example}")
    told = [sentence.text for sentence in outcome.sentences]
    same = told == [sentence.text for sentence in right.sentences]
    if same or not _reads_back(state, intent, " ".join(told)):
        result.unread += 1
        result.note(f"unread: {example}: {' '.join(told)}")
    else:
        result.read_back += 1


def _reads_back(state: State, intent: Intent, answer: str) -> bool:
    """Whether the answer holds every value as it was heard."""
    answer = _plain_words(answer)
    return all(form in answer for form in _forms(state, intent))


def _forms(state: State, intent: Intent) -> Iterator[str]:
    """The values of an intent as they must be heard back."""
    turns = intent.get("turns")
    for name, value in intent.slots:
        if not is_quantity(value):
            continue
        if name == "deviation":
            assert isinstance(state.step, Measure)
            nominal = nominal_as_said(state.step, state.unit)
            value = nominal + value.to(str(nominal.units))
        if name == "reading":
            yield _plain_words(_reading_back(state, intent, value, turns))
        elif name == "rate":
            yield _plain_words(saying.say_rate(value))
        elif name == "size" and intent.name == "paper" and not value.magnitude:
            yield "bare"
        else:
            yield _plain_words(saying.say_length(value, state.unit))


def _reading_back(state: State, intent: Intent, value: Quantity, turns: object) -> str:
    """A reading of a turn or more is heard back as turns and the dial."""
    from assistant.session.dial_slots import working_axis

    wheel = state.machine.axis(str(intent.get("axis") or working_axis(state)))
    unit = unit_name(wheel.per_turn)
    whole, part = divmod(magnitude(value, unit), magnitude(wheel.per_turn, unit))
    if isinstance(turns, int):
        whole, part = turns, magnitude(value, unit)
    words = saying.say_reading(quantity(part, unit))
    if not whole:
        return words
    return saying.say_turns(int(whole)) + (f" and {words}" if part else "")


def _plain_words(text: str) -> str:
    kept = "".join(c if c.isalnum() or c == "'" else " " for c in text.lower())
    return " ".join(kept.split())


def _undone(before: State, outcome: Outcome, words: str, result: Misheard) -> None:
    after = _heard(outcome.state, words).state
    if not _same(before, after):
        result.stuck += 1
        result.note(f"{words} left something changed at {before.step_id}")


def _same(one: State, other: State) -> bool:
    """Whether a job stands where it stood, with nothing told in between."""
    return all(
        getattr(one, name) == getattr(other, name)
        for name in ("facts", "axes", "step_id", "phase", "confirmed", "skipped", "plan",
                     "question", "finished")
    )  # fmt: skip


def _outside(state: State, intent: Intent) -> Iterator[bool]:
    bands = {
        slot.name: slot
        for expected in allowed(state)
        if expected.intent == intent.name
        for slot in expected.slots
    }
    for name, value in intent.slots:
        slot = bands.get(name)
        if slot is None or not is_quantity(value):
            continue
        yield (slot.low is not None and value < slot.low) or (
            slot.high is not None and value > slot.high
        )


def words_meant(state: State, rng: random.Random) -> str:
    """What the operator means to say at this step: a number wherever one may be told."""
    step, unit = state.step, state.unit
    match step:
        case Touch() if state.phase is Phase.PAPER:
            inch = ["three thou", "paper is two thou", "bare"]
            return rng.choice(inch if unit == "inch" else ["point oh eight", "point oh five"])
        case Touch() if state.phase is Phase.READ and step.near is not None:
            return f"dial reads {_where(state, step.axis, step.near)}"
        case Touch() if state.phase is Phase.READ:
            return rng.choice(["zero", "dial reads forty", "dial reads fifteen"])
        case Move() if state.phase is Phase.VERIFY and state.figure is not None:
            if rng.random() < 0.5:
                return f"dial reads {_spoken(saying.say_reading(state.figure.value))}"
        case Move() if step.target is not None and state.axes[step.axis].zeroed:
            if rng.random() < 0.1:
                return f"dial reads {_where(state, step.axis, state.axes[step.axis].position)}"
            if step.pass_fact and step.pass_number == 1 and rng.random() < 0.3:
                return rng.choice(["cut fifty thou this pass", "cut thirty thou this pass"])
        case Cut(number=1) if rng.random() < 0.1:
            speeds = state.machine.speeds
            if speeds:
                return f"speed is {_spoken(saying.say_rate(speeds[len(speeds) // 2]))}"
        case Measure(kind="walls"):
            assert step.nominal is not None
            side = "front" if f"{step.fact}.left" not in state.facts else "back"
            return f"{side} wall {_size(step.nominal, unit, rng)}"
        case Measure(kind="size") if step.nominal is not None:
            can_be_over = step.band_high is None or step.nominal < step.band_high
            if rng.random() < 0.15:
                over = ["two over"] if can_be_over else []
                return rng.choice([*over, "three under", "bang on"])
            if not can_be_over:  # a cutter can't be wider than the seat it cuts
                return "bang on"
            return f"measured {_size(step.nominal, unit, rng)}"
        case Measure(kind="size"):
            return "measured one point five" if unit == "inch" else "measured thirty millimetres"
    return expected_words(state)


def _size(nominal: Quantity, unit: str, rng: random.Random) -> str:
    away = quantity(rng.randint(-2, 2), "thou" if unit == "inch" else "mm")
    size = nominal + (away if unit == "inch" else away / 50).to(str(nominal.units))
    places = 4 if unit == "inch" else 2
    rounded = quantity(round(magnitude(size, unit), places), unit)
    return _spoken(saying.say_length(rounded, unit))


def _where(state: State, axis: str, position: Quantity) -> str:
    """Where an axis stands, as turns from its zero and its dial."""
    wheel, now = state.machine.axis(axis), state.axes[axis]
    turns = int(abs(position / wheel.per_turn).to("dimensionless").magnitude)
    words = _spoken(saying.say_turns(turns, dial_at(wheel, now, position)))
    step = state.step
    if turns or not isinstance(step, Move) or step.target is None:
        return words
    # on a long way the turns are told, none too: the dial reads the same in each of them
    far = abs(step.target - position) >= wheel.per_turn
    return f"no turn and {words}" if far else words


def _spoken(text: str) -> str:
    return text.replace("-", " ")


def _misheard(words: str, rng: random.Random, rate: float) -> str:
    said = []
    for word in words.split():
        if word in others() and rng.random() < rate:
            known, weights = others()[word]
            word = rng.choices(known, weights)[0]
        if word:
            said.append(word)
    return " ".join(said)


def _quantities(said: Understood | Refused) -> Iterator[tuple[str, str, str]]:
    """The values in what was said, each with the command and the slot it is in."""
    intent = said.intent if isinstance(said, Understood) else said.candidate
    for name, value in intent.slots if intent is not None else ():
        if is_quantity(value):
            # two over and a size are one and the same once they are worked out
            yield intent.name, name, _text(value)
        elif name == "turns":
            yield intent.name, name, str(value)


def _text(value: Quantity) -> str:
    unit = "inch" if bool(value.check("[length]")) else str(value.units)
    return f"{magnitude(value, unit).normalize():f}"


__all__ = ["JOBS", "Misheard", "mishear"]

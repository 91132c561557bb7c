"""What a journal tells of a job, put together line by line for its record.

The records are folded as on replay, so that every line knows the step and the plan it was about.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from assistant.drawing import Drawing
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut, FactValue, Ground, Measure, Step, Touch
from assistant.present.drawings.bar import band_chart
from assistant.present.formatting import dial_text, show
from assistant.present.paper.values import limits_text
from assistant.present.questions import asked
from assistant.present.sentences import verdict
from assistant.replacing import replace
from assistant.session import events as ev
from assistant.session.events import Record
from assistant.session.reduce import reduce
from assistant.session.state import State
from assistant.spoken import Figure
from assistant.spoken.rounding import FINER
from assistant.units import Quantity, is_quantity, magnitude

CHOSEN = ("chosen", "after chatter", "new cutter")
"""In the name of what is recorded, where the operator decided it."""


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that happened."""

    at: datetime
    step: str
    """Number of the step in the plan of that moment."""
    what: str
    value: str = ""
    by: str = ""
    """The words it came by."""
    taken_back: bool = False


@dataclass(frozen=True, slots=True)
class Measured:
    """One measurement, with the limits that held when it was told."""

    at: datetime
    name: str
    value: str
    limits: str
    verdict: str
    chart: Drawing | None
    taken_back: bool


class History:
    """A job, told by its records. Raises `ValueError` for records that begin no job."""

    def __init__(self, records: Sequence[Record]) -> None:
        self.title = self.machine = ""
        self.done: list[Line] = []
        self.measured: list[Measured] = []
        self.decisions: list[Line] = []
        self.replanned: list[Line] = []
        self.corrections: list[Line] = []
        self.notes: list[Line] = []
        self.commands = 0
        self.finished: datetime | None = None
        first: Plan | None = None
        last: Plan | None = None
        self._words = ""
        self._question: tuple[ev.Asked, str] | None = None
        self._undone = {r.event.seq for r in records if isinstance(r.event, ev.Undone)}
        self._said = {r.seq: r.event.words for r in records if isinstance(r.event, ev.Commanded)}
        state = State()
        for record in records:
            before = state
            state = reduce(state, record)
            self._take(record, before, state)
            if isinstance(record.event, ev.Planned):
                first, last = first or record.event.plan, record.event.plan
        if first is None or last is None or not records:
            raise ValueError("no job begins with these records")
        self.first_plan, self.plan = first, state.plan if state.at_work else last
        self.began = records[0].at
        done = state.done
        self.steps_done = sum(step.id in done for step in self.plan.steps)

    def _take(self, record: Record, before: State, after: State) -> None:
        event = record.event
        step = before.step
        line = Line(
            record.at, _number(before, step), step.title if step is not None else "",
            by=f"“{self._words}”" if self._words else "",
            taken_back=record.command in self._undone,
        )  # fmt: skip
        match event:
            case ev.JobStarted():
                self.title = event.title
                self.machine = after.machine.name
            case ev.Commanded():
                self.commands += 1
                self._words = event.words
            case ev.Recorded():
                self._recorded(event, line, before)
            case ev.Confirmed() if event.skipped:
                self.decisions.append(replace(line, value="skipped"))
                self.done.append(replace(line, value="skipped"))
            case ev.Confirmed():
                self._confirmed(line, before)
            case ev.AxisZeroed() if not isinstance(step, Touch):
                self.done.append(replace(line, value=f"{event.axis} dial zeroed"))
            case ev.Asked():
                self._question = event, asked(event.question, before)
            case ev.Answered():
                self._answered(event, line)
            case ev.Planned() if event.why not in ("", "begun"):
                if self._matters(before.plan, event.plan):
                    self.replanned.append(
                        replace(line, what=event.why, value=_changed(before, after))
                    )
            case _:
                self._trouble(event, line)

    def _recorded(self, event: ev.Recorded, line: Line, before: State) -> None:
        value = _value(event.value, before.unit)
        if event.name == "note":
            self.notes.append(replace(line, what=value, value=f"at: {line.what}", by=""))
        elif event.name in ("pass", "skipped"):
            pass  # told by the step that is confirmed with it
        elif any(word in event.name for word in CHOSEN):
            self.decisions.append(replace(line, what=event.name, value=value))
        elif is_quantity(event.value) and isinstance(before.step, Measure):
            self.measured.append(_measured(event.name, event.value, line, before, before.step))
        elif before.step is None or not (
            event.name == before.step.title or isinstance(before.step, Touch)
        ):
            self.done.append(replace(line, what=event.name, value=value))

    def _confirmed(self, line: Line, before: State) -> None:
        step, figure = before.step, before.figure
        told = before.told[-1] if before.told and before.told[-1].step == before.step_id else None
        value = ""
        if isinstance(step, Cut) and step.depth.magnitude:
            value = f"took {show(step.taken, before.unit)}, depth {show(step.depth, before.unit)}"
        elif isinstance(step, Touch):
            value = f"{step.axis} dial zeroed"
            if told is not None:
                value += f", paper {_value(told.value, before.unit)}"
        elif figure is not None and figure.move is not None:
            move = figure.move
            value = f"{move.wheel.axis} dial at {dial_text(move.reading, move.wheel)}"
        elif told is not None and isinstance(step, Measure):
            value = _value(told.value, before.unit)
        elif figure is not None:
            value = f"{figure.what} {show(figure, before.unit)}"
        self.done.append(replace(line, value=value))

    def _answered(self, event: ev.Answered, line: Line) -> None:
        if self._question is None:
            return
        question, text = self._question
        self._question = None
        answer = {True: "yes", False: "no", None: "dropped"}[event.yes]
        why = question.question.text or question.question.reason
        heard = f"heard “{question.question.words}”" if question.question.words else ""
        self.decisions.append(
            replace(
                line,
                what=f"Asked back: {text.removesuffix(' Yes or no.')}"
                + (f" ({why})" if why else ""),
                value=answer,
                by=heard,
            )
        )

    def _trouble(self, event: ev.Event, line: Line) -> None:
        what = value = ""
        match event:
            case ev.Undone():
                what, value = "Taken back", f"“{self._said.get(event.seq, '')}”"
                self._words = ""  # what was said to take it back is no command of its own
                line = replace(line, by="")
            case ev.Shaken():
                what, value = _UNSURE[event.ground].format(event.name), event.why
            case ev.Found():
                what, value = "Settled", _SETTLED.get(event.ground, "")
            case ev.StopSaid():
                what, value = "Stop was said", line.what
            case ev.Resumed():
                what = "Taken up again after the program had ended"
                value = f"by version {event.program}" if event.program else ""
            case ev.JobFinished():
                self.finished = line.at
        if what:
            self.corrections.append(replace(line, what=what, value=value))

    @staticmethod
    def _matters(before: Plan | None, after: Plan) -> bool:
        """Whether a result or the steps changed, and not a verdict alone."""
        if before is None:
            return True
        return (before.results, [step.id for step in before.steps]) != (
            after.results, [step.id for step in after.steps],
        )  # fmt: skip


def _number(state: State, step: Step | None) -> str:
    if step is None:
        return ""
    return str(state.plan.index(step.id) + 1)


def _value(value: FactValue, unit: str) -> str:
    return show(value, unit) if is_quantity(value) else str(value)


def _changed(before: State, after: State) -> str:
    """What of the results is another now."""
    if not before.at_work or not after.at_work:
        return ""
    old = dict(before.plan.results)
    changed = [
        f"{name} {show(figure, after.unit)}"
        for name, figure in after.plan.results
        if name not in old or show(old[name], after.unit) != show(figure, after.unit)
    ]
    gone = len(after.plan.steps) - len(before.plan.steps)
    if gone:
        count = abs(gone)
        plural = "" if count == 1 else "s"
        changed.append(f"{count} step{plural} {'more' if gone > 0 else 'fewer'}")
    return ", ".join(changed)


_UNSURE = {
    Ground.WORK: "The work is no longer known to lie where it did",
    Ground.TOOL: "Another tool than was touched with",
    Ground.DIAL: "The zero of the {0} is no longer known",
    Ground.COUNT: "The count of the {0} is no longer known",
    Ground.PLACE: "Where the {0} stands is to be read",
    Ground.TURN: "Where the {0} stands is to be read with its turns",
    Ground.AWAY: "The {0} was moved away by hand",
    Ground.METAL: "How deep it is cut is to be measured",
    Ground.HELD: "Whether anything moved is to be told",
    Ground.PIECE: "Whether what broke is out of the work is to be told",
    Ground.PLAN: "This version would plan it otherwise: whether the plan is kept is to be told",
}
_SETTLED = {
    Ground.HELD: "nothing was moved",
    Ground.PIECE: "every piece of it is out of the work",
    Ground.PLAN: "which plan it goes on by",
    Ground.COUNT: "the crank is at what was cut last",
}


def _cut_to_come(state: State, step: Measure) -> bool:
    """Whether the plan cuts on and then measures the same size again: `size.2` after `size.1`."""
    plan = state.plan
    later = plan.steps[plan.index(step.id) + 1 :]
    size = step.fact.rpartition(".")[0]
    for place, one in enumerate(later):
        if isinstance(one, Measure) and size and one.fact.rpartition(".")[0] == size:
            return any(isinstance(between, Cut) for between in later[:place])
    return False


def _measured(name: str, value: Quantity, line: Line, before: State, step: Measure) -> Measured:
    """The value with its limits, in their places."""
    unit = before.unit
    base = step.figure or Figure(value, name)
    size = replace(base, low=step.low, high=step.high)
    words, chart = "", None
    if step.low is not None or step.high is not None:
        words = verdict(value, step.limits, unit, before_cut=_cut_to_come(before, step))
        low, high = (
            None if limit is None else float(magnitude(limit, unit))
            for limit in (step.low, step.high)
        )
        chart = band_chart(low, high, float(magnitude(value, unit)), words)
    text = show(Figure(value, "", base.places + FINER), unit)
    return Measured(line.at, name, text, limits_text(size, unit), words, chart, line.taken_back)

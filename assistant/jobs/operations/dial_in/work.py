"""Dialling work in, in a four-jaw chuck: on its outside or in its bore, by halving the reading.

Jaw against opposite jaw, then the other pair, until a whole turn is inside what is allowed. Common
practice, no source; the halving is geometry.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.calc.lathe_setup import dial_in
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.setup import LatheJob, hands, places, read_holding, wanted_lathe
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Facts, Measure, Note, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, is_quantity, quantity

__all__ = ["plan", "read"]

MOST_ROUNDS = 12
"""More readings than this mean that a jaw slips or the work is not round."""
PAIRS = ("one and three", "two and four")
WITHIN = {"inch": "0.001", "mm": "0.02"}
"""Swing allowed over a whole turn where the job gives none."""
WIDEST = {"inch": "0.250", "mm": "6"}
"""A swing beyond this is set by eye first."""


@dataclass(frozen=True, eq=False)
class DialInJob(LatheJob):
    """Work to be brought to run true."""

    inner: bool
    within: Quantity
    """The whole swing allowed over a turn."""


def read(head: Head, fields: Fields) -> DialInJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    work = fields.table_at("work", {})
    job = DialInJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {"how": "four-jaw"}), head.unit),
        inner=work.choice("on", ("outside", "bore"), "outside") == "bore",
        within=work.length("within", head.unit, quantity(WITHIN[head.unit], head.unit)),
    )
    work.done()
    if job.holding.how != "four-jaw":
        fields.refuse("holding.how", job.holding.how, "jaws that move singly: wanted four-jaw")
    return job


def plan(job: DialInJob, machine: Machine, facts: Facts) -> Plan:
    """Readings and moves as far as they were told."""
    wanted_lathe(machine)
    steps: list[Step] = [*checks.first_checks(machine.kind), hands(), _gripped(),
                         _by_hand(job)]  # fmt: skip
    for number in range(1, MOST_ROUNDS + 1):
        whole = _due_whole(job, facts, number)
        steps.append(_reading(job, number, whole))
        swing = facts.get(f"swing.{number}")
        if not is_quantity(swing):
            break
        if whole and swing <= job.within:
            break
        if number == MOST_ROUNDS:
            steps.append(
                Note(id="never-true", title="It does not come true",
                     say=("Still not true. A jaw slips, or it isn't round. Look first.",))
            )  # fmt: skip
        elif swing > job.within:
            steps.append(_move(job, number, swing, whole))
    steps.append(_tight(job))
    within = Figure(job.within, "swing allowed in a turn", places(job.unit), source="the drawing",
                    high=job.within)  # fmt: skip
    return Plan(
        title=job.head.title,
        operation="dial-in",
        unit=job.unit,
        steps=tuple(steps),
        results=(("swing", within),),
        sources=("common practice",),
        answers=(("what_pair", _pair_answer(job, facts)),),
        drawing=(
            ("within", job.within),
            ("inside", quantity(int(job.inner), "dimensionless")),
            *_last_swing(facts),
        ),
        drawing_kind="dial-in",
    )


def _last_swing(facts: Facts) -> tuple[tuple[str, Quantity], ...]:
    """What was read last, for the drawing."""
    for number in range(MOST_ROUNDS, 0, -1):
        swing = facts.get(f"swing.{number}")
        if is_quantity(swing):
            return (("swing", swing),)
    return ()


def _gripped() -> Check:
    return Check(
        id="check-work",
        title="Work gripped",
        say=("All four jaws up on the work, nothing loose?",),
    )


def _by_hand(job: DialInJob) -> Check:
    where = "in the bore" if job.inner else "on the outside, square to it"
    return Check(
        id="check-by-hand",
        title="By hand, out of gear",
        say=("Out of gear, power off: turn the chuck by hand.",
             f"Indicator {where}, on a clean, round place?"),
    )  # fmt: skip


def _due_whole(job: DialInJob, facts: Facts, number: int) -> bool:
    """A whole turn is due once both pairs were inside, one after the other; and again after it."""
    last = [facts.get(f"swing.{n}") for n in (number - 2, number - 1)]
    return number > 2 and all(is_quantity(swing) and swing <= job.within for swing in last)


def _pair_of(number: int) -> str:
    return PAIRS[(number + 1) % 2]


def _pair_answer(job: DialInJob, facts: Facts) -> str:
    number = sum(1 for name in facts if name.startswith("swing.")) + 1
    if _due_whole(job, facts, number):
        return "Both pairs: a whole turn."
    return f"Jaws {_pair_of(number)}."


def _reading(job: DialInJob, number: int, whole: bool) -> Measure:
    nothing = quantity(0, job.unit)
    if whole:
        say = ("Both pairs are in. Now one whole turn by hand.", "How far does the needle swing?")
        title = "A whole turn"
    else:
        pair = _pair_of(number)
        first, second = pair.split(" and ")
        say = (f"Jaws {pair}: jaw {first} to the indicator, then jaw {second}.",
               "How far apart do they read?")  # fmt: skip
        title = f"Jaws {pair}"
    return Measure(
        id=f"read-{number}",
        title=title,
        say=say,
        fact=f"swing.{number}",
        gauge="indicator",
        nominal=nothing,
        high=job.within,
        band_low=nothing,
        band_high=quantity(WIDEST[job.unit], job.unit),
        resolution=Unit(job.unit).size("0.0001", "0.002"),
    )


def _move(job: DialInJob, number: int, swing: Quantity, whole: bool) -> Note:
    """Half of the reading, at the jaw that reads higher."""
    found = dial_in(swing, swing * 0)
    # outside, the high spot lies away from the axis; in a bore it lies nearest to it
    high = "Turn the higher jaw to the indicator." if not whole else "Turn the high spot up."
    how = (
        "Slack the jaw opposite, then tighten this one."
        if not job.inner
        else "Slack this jaw, then tighten the one opposite."
    )
    return Note(
        id=f"move-{number}",
        title="Halve it",
        say=(high, how, "Till the needle has fallen by:"),
        figure=Figure(
            found.move, "half of the reading", places(job.unit), (Term("reading", swing, 0),),
            "half the difference", "geometry",
        ),
    )  # fmt: skip


def _tight(job: DialInJob) -> Check:
    return Check(
        id="all-tight",
        title="All jaws tight",
        say=("Nip all four jaws up evenly. Read a whole turn again: did it move?",
             "Indicator away. Chuck key out."),
    )  # fmt: skip

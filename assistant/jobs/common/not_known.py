"""What a plan has to do without, since the machine's file doesn't tell: said, never passed over."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.jobs.plan import Plan
from assistant.jobs.steps import Cut, Move, Step
from assistant.machine import Axis, Machine
from assistant.replacing import replace


def not_known(plan: Plan, machine: Machine) -> tuple[str, ...]:
    """A line for each thing that the moves of `plan` would need to be held against."""
    axes = [machine.axis(name) for name in dict.fromkeys(axis for axis, _ in _by_the_dial(plan))]
    slack = [axis.name for axis in axes if not axis.backlash_known]
    travel = [axis.name for axis in axes if axis.travel is None]
    lines = []
    if slack:
        lines.append(
            f"Backlash of {_listed(slack)} isn't in the machine's file: none is counted. Measure "
            "it, or come to every setting from the same side."
        )
    if travel:
        lines.append(
            f"Travel of {_listed(travel)} isn't in the machine's file: whether the moves fit the "
            "machine isn't checked."
        )
    return tuple(lines)


def with_unknown_backlash_said(plan: Plan, machine: Machine) -> Plan:
    """`plan`, with a caution at the first setting by each dial whose backlash nobody gave."""
    if all(axis.backlash_known for axis in machine.axes.values()):
        return plan
    cautions: dict[str, str] = {}
    for name, step in _by_the_dial(plan):
        if not machine.axis(name).backlash_known and name not in cautions.values():
            cautions[step.id] = name
    if not cautions:
        return plan
    steps = tuple(
        replace(step, cautions=(*step.cautions, _caution(machine.axis(cautions[step.id]))))
        if step.id in cautions
        else step
        for step in plan.steps
    )
    return replace(plan, steps=steps)


def _caution(axis: Axis) -> str:
    return f"The {axis.name}'s backlash isn't in the machine's file. Take it up yourself."


def _by_the_dial(plan: Plan) -> Iterator[tuple[str, Step]]:
    """Every step that ends at a reading of a dial, with the dial's axis."""
    for step in plan.steps:
        if isinstance(step, Move) and step.target is not None:
            yield step.axis, step
        elif isinstance(step, Cut) and step.feed_target is not None:
            yield step.feed_axis, step


def _listed(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))

"""What the drawing of a set-up shows at the step at hand: a centre found, jaws, a sweep, collars.

Each function adds what changes with the step to the sizes of the plan, in the plan's unit.
"""

from __future__ import annotations

from assistant.jobs.common.facts import last_told
from assistant.jobs.steps import Cut, Index, Plan, Step, Touch
from assistant.session.state import State
from assistant.units import Quantity, is_quantity, magnitude

Sizes = dict[str, float]


def in_unit(size: Quantity, unit: str) -> float:
    """A dimension of the drawing: lengths in the plan's unit, angles and counts as they are."""
    return float(magnitude(size, unit) if size.check("[length]") else size.magnitude)


def on_table(state: State, plan: Plan, step: Step) -> Sizes:
    """The division at hand."""
    if isinstance(step, Index | Cut):
        return {"at": float(step.number)}
    places = [s.number for s in plan.steps[: plan.index(step.id)] if isinstance(s, Index | Cut)]
    return {"at": float(places[-1])} if places else {}


def finding(state: State, plan: Plan, step: Step) -> Sizes:
    """Where the tip is, and what was touched before."""
    place = plan.index(step.id)
    first = {axis: in_unit(dict(plan.drawing)[f"first_{axis}"], plan.unit) for axis in "xy"}
    sizes: Sizes = {}
    for s in plan.steps[:place]:
        words = s.id.split("-")
        if len(words) > 1 and words[1] in first and words[0] in ("touch", "middle", "edge"):
            made = 1.0 if s.id.startswith("touch") and words[-1] == "1" else 2.0
            sizes[f"done_{words[1]}"] = made
    words = step.id.split("-")
    if len(words) > 1 and words[1] in first:
        axis = words[1]
        other = "y" if axis == "x" else "x"
        sizes[f"tip_{other}"] = 0.0
        if words[0] == "touch":
            sizes[f"tip_{axis}"] = first[axis] * (1 if words[-1] == "1" else -1)
            sizes["touching"] = 1.0
        else:
            sizes[f"tip_{axis}"] = 0.0
            sizes[f"done_{axis}"] = 2.0
    elif "done_y" in sizes:
        sizes.update(tip_x=0.0, tip_y=0.0)
    return sizes


def four_jaws(state: State, plan: Plan, step: Step) -> Sizes:
    """The pair of jaws at hand; before the first reading none is out."""
    reading = next(
        (s for s in reversed(plan.steps[: plan.index(step.id) + 1]) if s.id.startswith("read-")),
        None,
    )
    if reading is None or "whole" in reading.title.lower() or step.id == "all-tight":
        return {"pair": 0.0}
    return {"pair": 1.0 if "one" in reading.title.lower() else 2.0}


def swept(state: State, plan: Plan, step: Step) -> Sizes:
    """The direction that is swept, and what was read last in it."""
    words = step.id.split("-")
    if words[0] not in ("sweep", "correct"):
        return {}
    name, number = words[1], int(words[2])
    sizes: Sizes = {"at": 1.0, "across": float(name == "y")}
    told = number if words[0] == "correct" else number - 1
    for side in ("left", "right"):
        value = state.facts.get(f"{name}.{told}.{side}")
        if is_quantity(value):
            sizes[side] = in_unit(value, plan.unit)
    return sizes


def collars(state: State, plan: Plan, step: Step) -> Sizes:
    """Which collar is measured, and what both were at the last trial."""
    sizes: Sizes = {}
    for end in ("head", "tail"):
        trial = last_told(state.facts, "collar", end)
        if trial is not None:
            sizes[end] = in_unit(trial[1], plan.unit)
        if step.id.startswith(f"measure-{end}"):
            sizes[f"{end}_at"] = 1.0
    if step.id.startswith("shift") and "head" in sizes and "tail" in sizes:
        sizes["shift"] = sizes["tail"] - sizes["head"]
    if isinstance(step, Touch):
        sizes["head_at"] = 1.0
    return sizes


def setting_angle(state: State, plan: Plan, step: Step) -> Sizes:
    """The stack, or the rise that was measured last."""
    sizes: Sizes = {"stack_at": float(step.id == "stack")}
    sizes["rise_at"] = float(step.id.startswith("measure-rise"))
    rise = last_told(state.facts, "rise")
    if rise is not None:
        sizes["rise"] = in_unit(rise[1], plan.unit)
    return sizes

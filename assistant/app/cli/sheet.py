"""`wheelcall plan`: the whole step sheet."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime

from assistant.app.opening import begin_job
from assistant.app.paths import find_job
from assistant.jobs.common.not_known import not_known
from assistant.jobs.plan import Plan
from assistant.jobs.steps import IN_ONE_GO, Cut, Index, Measure, Move, Note, Step, Touch
from assistant.present.formatting import show, show_dial
from assistant.present.move_words import printed
from assistant.present.paper.sheet import by_crank, crank_lines
from assistant.session.belief import Belief
from assistant.session.instruct import figure_for
from assistant.session.state import State
from assistant.spoken import Figure
from assistant.units import magnitude


def planned(job: str) -> State:
    """The state of a job just begun; raises `BadFile` and `BadInput` for one that can't be."""
    return begin_job(find_job(job), datetime.now(UTC)).state


def walk(state: State) -> Iterator[tuple[Step, Figure | None]]:
    """Every step with its figure, as if each move were made as planned."""
    for step in state.plan.steps:
        state = replace(state, step_id=step.id)
        yield step, figure_for(state)
        state = replace(state, belief=_made(state.belief, step))


def _made(belief: Belief, step: Step) -> Belief:
    """What is believed once the step is done as planned."""
    if isinstance(step, Touch) and step.keeps:
        assert step.near is not None
        return belief.stand(step.axis, step.near, step.toward, 1)
    if isinstance(step, Touch):
        return belief.zero(step.axis, step.toward, None, step.by, 1)
    if isinstance(step, Move) and step.target is not None:
        there = step.target * (0 if step.zero_after else 1)
        return belief.stand(step.axis, there, step.approach, 1)
    if isinstance(step, Cut) and step.feed_target is not None:
        back = step.feed_returns
        there = step.feed_target * (0 if back else 1)
        return belief.stand(step.feed_axis, there, step.feed_approach * (-1 if back else 1), 1)
    return belief


def print_plan(job: str, *, as_json: bool) -> None:
    """Print the sheet, as text or as JSON."""
    state = planned(job)
    if as_json:
        print(json.dumps(_as_json(state, state.plan), indent=1))
        return
    print(f"{state.plan.title}\n{state.plan.operation} on {state.machine.name}\n")
    unknown = not_known(state.plan, state.machine)
    if unknown:
        print("\n".join(f"! {line}" for line in unknown) + "\n")
    for number, (step, figure) in enumerate(walk(state), 1):
        print(f"{number:3}. {step.title}")
        for line in _lines(step, figure, state.unit):
            print(f"     {line}")
    print("\nResults")
    for name, figure in state.plan.results:
        print(f"  {name}: {show(figure, state.unit)}{_limits(figure, state.unit)}")
        for term in figure.terms:
            sign = {1: "+", -1: "-", 0: " "}[term.sign]
            print(f"      {sign} {term.name} {show(term.value, state.unit)}")
        if figure.formula:
            print(f"      {figure.formula}")
        if figure.source:
            print(f"      source: {figure.source}")


def _lines(step: Step, figure: Figure | None, unit: str) -> Iterator[str]:
    for caution in step.cautions:
        yield f"! {caution}"
    if step.say:
        yield " ".join(step.say)
    if figure is not None and figure.move is not None:
        move = figure.move
        yield f"{printed(step, figure)}: {show_dial(move)}"
        if move.back_off is not None:
            yield f"go {show(move.back_off)} past it, and come back: the backlash is taken up"
    elif figure is not None and not (isinstance(step, Cut) and step.kind not in IN_ONE_GO):
        shown = f"{show(figure, unit)}{_limits(figure, unit)}"
        if isinstance(step, Index) and by_crank(figure):
            shown = crank_lines(step).replace("\n", " + ")
        yield f"{figure.what}: {shown}"
    if isinstance(step, Move) and step.depth_after is not None:
        yield f"depth after the cut: {show(step.depth_after, unit)}"
    if isinstance(step, Cut) and step.kind not in IN_ONE_GO:
        left = "" if step.remaining is None else f", left {show(step.remaining, unit)}"
        yield f"takes {show(step.taken, unit)}, depth {show(step.depth, unit)}{left}"
    yield from step.after


def _limits(figure: Figure, unit: str) -> str:
    if figure.low is None and figure.high is None:
        return ""
    low = "" if figure.low is None else show(figure.low, unit, figure.places)
    high = "" if figure.high is None else show(figure.high, unit, figure.places)
    return f"  (limits {low} to {high})"


def _as_json(state: State, plan: Plan) -> dict[str, object]:
    return {
        "title": plan.title,
        "operation": plan.operation,
        "machine": state.machine.name,
        "not_known": list(not_known(plan, state.machine)),
        "unit": plan.unit,
        "steps": [
            {
                "id": step.id,
                "kind": type(step).__name__.lower(),
                "title": step.title,
                "say": list(step.say),
                "cautions": list(step.cautions),
                "after": list(step.after),
                **_figure_json(figure),
                **_step_json(step),
            }
            for step, figure in walk(state)
        ],
        "results": {name: _figure_json(figure) for name, figure in plan.results},
        "sources": list(plan.sources),
    }


def _step_json(step: Step) -> dict[str, object]:
    if isinstance(step, Cut):
        return {"depth": str(step.depth.magnitude), "remaining": str(step.left.magnitude)}
    if isinstance(step, Measure):
        return {"fact": step.fact, "gauge": step.gauge}
    if isinstance(step, Note):
        return {"setting": step.setting}
    return {}


def _figure_json(figure: Figure | None) -> dict[str, object]:
    if figure is None:
        return {}
    made: dict[str, object] = {
        "value": str(figure.value.magnitude),
        "unit": str(figure.value.units),
        "what": figure.what,
        "terms": [
            [t.name, str(t.value.magnitude), str(t.value.units), t.sign] for t in figure.terms
        ],
        "formula": figure.formula,
        "source": figure.source,
    }
    for name, limit in (("low", figure.low), ("high", figure.high)):
        if limit is not None:
            made[name] = str(limit.magnitude)
    if figure.move is not None:
        move = figure.move
        made["move"] = {
            "axis": move.wheel.axis,
            "direction": move.direction,
            "turns": move.turns,
            "divisions": str(move.divisions),
            "stop_at": str(magnitude(move.reading, str(move.wheel.per_turn.units))),
            "back_off": None if move.back_off is None else str(move.back_off.magnitude),
        }
    return made

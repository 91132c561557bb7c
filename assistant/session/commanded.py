"""What is commanded now, as plain data: what the guard looks at, and nothing else of the plan."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.jobs.common.facts import told_sizes
from assistant.jobs.steps import NO_SURFACE, Cut, Move, SurfaceKey
from assistant.session.cuts import last_cut, measured_since
from assistant.session.row import axes_of
from assistant.session.state import Phase, State
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class Stand:
    """Where an axis has to stand in a cut."""

    axis: str
    target: Quantity
    approach: int
    """The way of its last travel to there."""
    fed: bool
    """Fed by its dial in this cut: it is on its way."""


@dataclass(frozen=True, slots=True)
class Commanded:
    """A move that is given, or a cut that is made."""

    axis: str
    """That is moved; '' where the cut is fed by no dial."""
    target: Quantity | None
    approach: int
    cutting: bool
    """A cut, and not a setting for one."""
    surface: SurfaceKey = NO_SURFACE
    """That is made deeper."""
    set_by: str = ""
    """The axis that sets its depth."""
    set_to: Quantity | None = None
    deeper: int = 0
    """+1 or -1: the way of that axis that goes deeper."""
    limit: Quantity | None = None
    """The furthest that axis may stand."""
    most: Quantity | None = None
    """The most that one pass may take."""
    floor: Quantity | None = None
    """Where that axis stood in the last cut of the surface; None before the first."""
    stands: tuple[Stand, ...] = ()


def commanded(state: State) -> Commanded | None:
    """What the answer commands; None where it gives no move and no cut."""
    step = state.step
    if state.doubts or state.question is not None or state.finished or state.stopped:
        return None
    if isinstance(step, Move) and step.target is not None and state.phase is Phase.ACT:
        return _move(state, step)
    return _cut(state, step) if isinstance(step, Cut) else None


def _move(state: State, step: Move) -> Commanded:
    return Commanded(
        axis=step.axis,
        target=step.target,
        approach=step.approach,
        cutting=False,
        surface=step.surface,
        set_by=step.axis if step.deeper else "",
        set_to=step.target,
        deeper=step.deeper,
        limit=step.limit,
        most=step.pass_limit,
        floor=_floor(state, step.surface, step.axis),
    )


def _cut(state: State, step: Cut) -> Commanded:
    ahead, fed = state.ahead, axes_of(step)
    stands: list[Stand] = []
    setter: Move | None = None
    for axis, place in ahead.setters.items():
        move = state.plan.steps[place]
        if not isinstance(move, Move) or move.target is None:
            continue
        stands.append(Stand(axis, move.target, move.approach, axis in fed))
        if move.surface == step.surface and move.deeper:
            setter = move
    return Commanded(
        axis=fed[0] if fed else "",
        target=step.feed_target,
        approach=step.feed_approach,
        cutting=True,
        surface=step.surface,
        set_by=setter.axis if setter is not None else "",
        set_to=setter.target if setter is not None else None,
        deeper=setter.deeper if setter is not None else 0,
        limit=setter.limit if setter is not None else None,
        most=setter.pass_limit if setter is not None else None,
        stands=tuple(stands),
    )


def _floor(state: State, surface: SurfaceKey, axis: str) -> Quantity | None:
    """Where the axis stood at what is cut of the surface: as measured, else as cut."""
    cut = last_cut(state, surface) if surface != NO_SURFACE else None
    if cut is None or state.axes[axis].zeroed_at > state.confirmed[cut.id]:
        return None
    told = told_sizes(state.facts, surface)
    if told and measured_since(state, cut):
        return told[-1].at
    there = state.belief.cut_at.get(axis)
    return None if there is None else there.position

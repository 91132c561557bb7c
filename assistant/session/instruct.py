"""The figure of the step at hand, worked out from where the dials are now."""

from __future__ import annotations

from assistant.calc import dial
from assistant.jobs.steps import IN_ONE_GO, Cut, Measure, Move
from assistant.machine import Axis
from assistant.replacing import replace
from assistant.session.belief import AxisState
from assistant.session.state import Phase, State
from assistant.spoken import DialMove, Figure
from assistant.units import Quantity


def dial_move(axis: Axis, now: AxisState, target: Quantity, approach: int) -> DialMove:
    """The handwheel move from where the axis stands to `target`, so that the last of it goes
    the way `approach` and the backlash is taken up."""
    travel = target - now.position
    legs = dial.approach(
        travel, approach, axis.per_turn, axis.backlash, slack_taken=now.came in (0, approach)
    )
    counted = dial.split(travel, axis.per_turn, axis.graduation)
    forward = travel.magnitude > 0 or (travel.magnitude == 0 and approach > 0)
    return DialMove(
        wheel=axis.wheel,
        direction=axis.way(1 if forward else -1),
        distance=abs(travel),
        turns=counted.turns,
        part=counted.part,
        divisions=counted.divisions,
        reading=dial_at(axis, now, target),
        back_off=legs.back_off,
    )


def dial_at(axis: Axis, now: AxisState, position: Quantity) -> Quantity:
    """What the dial reads where the axis stands at `position` from its zero."""
    return dial.reading(position, axis.per_turn, axis.rises, now.zero_reading)


def places_of(graduation: Quantity) -> int:
    """Decimal places needed to show a move on a dial: half a graduation is still seen."""
    exponent = (graduation.magnitude / 2).normalize().as_tuple().exponent
    return max(0, -int(exponent))


def figure_for(state: State) -> Figure | None:
    """The figure of the step at hand; None where a number must be withheld or there is none.

    Withheld while there is a doubt: no move is given before it is settled.
    """
    step = state.step
    if step is None or state.doubts:
        return None
    if isinstance(step, Move) and step.target is not None:
        axis = state.machine.axis(step.axis)
        now = state.axes[step.axis]
        move = dial_move(axis, now, step.target, step.approach)
        exact = step.terms_of
        places = places_of(axis.graduation)
        if state.phase is Phase.VERIFY:
            return Figure(
                value=move.reading, what=f"{step.axis} dial should read", places=places, move=move
            )
        return Figure(
            value=move.distance,
            what=f"{step.axis} {move.direction}",
            places=places,
            terms=exact.terms if exact else (),
            formula=exact.formula if exact else "",
            source=exact.source if exact else "",
            move=move,
        )
    if isinstance(step, Cut) and step.feed_target is not None:
        axis = state.machine.axis(step.feed_axis)
        move = dial_move(axis, state.axes[axis.name], step.feed_target, step.feed_approach)
        what = f"feed the {axis.name} {move.direction}"
        return Figure(move.distance, what, places=places_of(axis.graduation), move=move)
    if isinstance(step, Cut) and step.kind not in IN_ONE_GO:
        if step.remaining is None:
            return step.figure
        left = step.figure or Figure(step.remaining, "left to full depth")
        what = " ".join(f"left {step.left_on} after this cut".split())
        return replace(left, value=step.remaining, what=what)
    if isinstance(step, Measure) and step.figure is not None:
        return replace(step.figure, low=step.low, high=step.high)
    return step.figure

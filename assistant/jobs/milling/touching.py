"""Touching off: the touch, the paper, and coming to the metal."""

from __future__ import annotations

from assistant.calc.dial import settle
from assistant.jobs.common import checks
from assistant.jobs.steps import Facts, Move, Step, Touch
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity

HELD_BY = {"vice": "jaws", "v-blocks": "blocks", "clamps": "clamps"}
"""What a shaft is touched clear of, by how it is held."""


def paper_told(facts: Facts, fact: str, expected: Quantity) -> Quantity:
    """The paper as told; until then what is usual."""
    value = facts.get(fact)
    return value if is_quantity(value) else expected


def touch_top(machine: Machine, axis: str, toward: int, paper: Quantity, facts: Facts,
              *, surface: str, say: tuple[str, ...], stays: bool = True,
              name: str = "") -> list[Step]:  # fmt: skip
    """Touch a surface that depths are counted from.

    With paper the axis comes on by its thickness and is zeroed again, so that the dial counts
    from the metal and nobody has to carry the paper in the head. One of several touches of a job
    by the same axis has a `name`, and a paper of its own.
    """
    fact = f"{name}.paper" if name else f"paper.{axis}"
    lead = f"{name}-" if name else ""
    way = machine.axis(axis).way(toward)
    steps: list[Step] = [
        Touch(
            id=f"{lead}touch-{axis}",
            title=f"Touch {surface}",
            spindle="on",
            say=say,
            cautions=checks.TOUCH_CAUTIONS,
            axis=axis,
            toward=toward,
            surface=surface,
            stays=stays,
            paper_fact=fact,
            paper_expected=paper,
        )
    ]
    told = paper_told(facts, fact, paper)
    if told.magnitude:
        thickness = settle(told, machine.axis(axis).graduation)
        steps.append(
            Move(
                id=f"{lead}paper-{axis}",
                title=f"Come {way} by the paper",
                after=("Then zero it again.",) if machine.axis(axis).settable else (),
                axis=axis,
                target=thickness * toward,
                approach=toward,
                lock=False,
                zero_after=True,
                terms_of=Figure(told, f"paper on {surface}", terms=(Term("paper", told),),
                                source="as told"),
            )
        )  # fmt: skip
    return steps

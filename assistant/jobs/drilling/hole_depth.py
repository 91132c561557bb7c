"""The depth of a blind hole or a counterbore measured, and what is still to go taken from that."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Protocol

from assistant.calc.dial import Toward
from assistant.jobs.common import checks
from assistant.jobs.drilling.hole_tools import HoleTool
from assistant.jobs.drilling.quill import Quill
from assistant.jobs.steps import Facts, Measure, Note, Step
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity


@dataclass(frozen=True)
class Asked:
    """What is measured, in words."""

    name: str
    """In facts and ids."""
    title: str
    say: str
    what: str
    tool: str
    """With which it goes on."""


FINEST = {"inch": Decimal("0.001"), "mm": Decimal("0.01")}
"""What the gauge reads to."""
MOST = 3
"""More corrections than this mean that the stop, the drill or the work slips."""


FULL_DIAMETER = Asked(
    "depth", "Depth at full diameter", "Measure the depth, where the wall ends.",
    "deep at full diameter", "drill",
)  # fmt: skip
FLOOR = Asked(
    "counterbore", "Depth of the counterbore", "Measure down to the floor of the counterbore.",
    "deep to its floor", "counterbore",
)  # fmt: skip


class Drilled(Protocol):
    """What was drilled, and how deep from its touch."""

    @property
    def tool(self) -> HoleTool:
        """The drill."""

    @property
    def depth(self) -> Figure:
        """Its travel from the touch."""


@dataclass(frozen=True)
class DepthCheck:
    """The rounds of measuring and going on."""

    quill: Quill
    operation: Drilled
    full: Quantity
    """Depth wanted at full diameter."""
    plus: Quantity
    """How much deeper it may be."""
    asked: Asked = FULL_DIAMETER

    def steps(self, facts: Facts) -> list[Step]:
        """Measure; go on by what is short; measure again, until it is in."""
        unit = self.quill.unit
        finest = FINEST[unit]
        low = magnitude(self.full, unit).quantize(finest, ROUND_CEILING)
        high = magnitude(self.full + self.plus, unit).quantize(finest, ROUND_FLOOR)
        reached = self._stood()
        steps: list[Step] = []
        for round_ in range(1, MOST + 1):
            fact = f"{self.asked.name}.{round_}"
            steps.append(self._measure(fact, low, high))
            told = facts.get(fact)
            if not is_quantity(told):
                break
            size = magnitude(told, unit)
            if size > high:
                steps.append(
                    Note(id="too-deep", title="Too deep", say=("Too deep. Ask before you go on.",))
                )
            if size >= low:
                break
            if round_ == MOST:
                steps.append(
                    Note(id="something-slips", title="Not there after several goes",
                         say=("Still short. Something slips. Look before you go on.",))
                )  # fmt: skip
                break
            reached += low - size
            short = Term("short by", quantity(low - size, unit))
            steps += self._go_on(round_, reached, short, facts)
            reached = magnitude(self.quill.on_dial(reached, Toward.DEEPER), unit)
        return steps

    def _stood(self) -> Decimal:
        """Where the dial stood at the end of the hole, as it was told to be through."""
        value = magnitude(self.operation.depth.value, self.quill.unit)
        return magnitude(self.quill.on_dial(value), self.quill.unit)

    def _measure(self, fact: str, low: Decimal, high: Decimal) -> Measure:
        unit = self.quill.unit
        slack = Unit(unit).size("0.1", "2.5")
        places = Unit(unit).coarse_places
        first, last = quantity(low, unit), quantity(high, unit)
        return Measure(
            id="measure-" + fact.replace(".", "-"),
            title=self.asked.title,
            spindle="off",
            spindle_words="Spindle off.",
            say=(*self.quill.off_to_measure, self.asked.say),
            cautions=checks.MEASURE_CAUTIONS,
            fact=fact,
            gauge="depth gauge",
            figure=Figure(first, self.asked.what, places, low=first, high=last),
            nominal=first,
            low=first,
            high=last,
            band_low=first - slack if slack < first else first / 2,
            band_high=last + slack,
            grows=True,
        )

    def _go_on(self, round_: int, depth: Decimal, short: Term, facts: Facts) -> list[Step]:
        unit, tool = self.quill.unit, self.operation.tool
        before = Term("it stood at", quantity(depth, unit) - short.value)
        figure = Figure(quantity(depth, unit), "from the touch", self.quill.places,
                        (before, short), "from the measurement", "as measured")  # fmt: skip
        return [
            *self.quill.brought_again(tool, figure, round_, facts),
            self.quill.cut(
                f"deeper-{round_}" if tool.name == "drill" else f"{tool.name}-deeper-{round_}",
                "Deeper by what is short", tool, figure,
                say=(f"Not there yet. On with the same {self.asked.tool}.", *self.quill.set_deeper),
                toward=Toward.DEEPER,
            ),
        ]  # fmt: skip

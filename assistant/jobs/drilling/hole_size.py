"""A reamed hole measured, where its drawing has limits: what is tight is reamed once more."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.jobs.common import checks
from assistant.jobs.drilling.hole_depth import Drilled
from assistant.jobs.drilling.quill import Quill
from assistant.jobs.steps import Facts, Measure, Note, Step
from assistant.jobs.to_size.sizing import Toleranced
from assistant.spoken import Figure, Term
from assistant.units import is_quantity, magnitude, quantity

FINEST = {"inch": "0.0001", "mm": "0.001"}
"""What a plug gauge or a bore gauge tells."""
BAND = {"inch": "0.010", "mm": "0.25"}
"""Further off it is a slip of the tongue: no reamer of that name cuts so."""


@dataclass(frozen=True)
class BoreCheck:
    """Measured after the reamer. Tight, the same reamer goes through once more, since a quick feed
    or a chip leaves it so; too big, it can't be mended here. Common practice, no source."""

    quill: Quill
    operation: Drilled
    limits: Toleranced

    def steps(self, facts: Facts) -> list[Step]:
        """Measure; once more through where it is tight, and measure again."""
        steps: list[Step] = [self._measure(1)]
        told = facts.get("bore.1")
        if not is_quantity(told):
            return steps
        size = magnitude(told, self.quill.unit)
        if size < self.limits.low:
            steps += [*self._again(facts), self._measure(2)]
            told = facts.get("bore.2")
            if is_quantity(told):
                size = magnitude(told, self.quill.unit)
                if size < self.limits.low:
                    steps.append(_note("still-tight", "Still tight",
                                       "Still tight: another reamer, or ask."))  # fmt: skip
        if size > self.limits.high:
            steps.append(
                _note("too-big", "Too big", "Too big. Ask about this one.",
                      "Look at the reamer, how true it runs, its speed and the oil.")
            )  # fmt: skip
        return steps

    def _measure(self, round_: int) -> Measure:
        unit = self.quill.unit
        low, high = quantity(self.limits.low, unit), quantity(self.limits.high, unit)
        slack = quantity(BAND[unit], unit)
        return Measure(
            id=f"measure-bore-{round_}",
            title="Reamed size",
            spindle="off",
            spindle_words="Spindle off.",
            say=(*self.quill.off_to_measure, "Measure across the hole."),
            cautions=checks.MEASURE_CAUTIONS,
            fact=f"bore.{round_}",
            gauge="bore gauge",
            figure=Figure(
                low, "across the hole", 4 if unit == "inch" else 3,
                (Term("reamer", self.operation.tool.dia, 0),), low=low, high=high,
            ),
            nominal=quantity(self.limits.nominal, unit),
            low=low,
            high=high,
            band_low=low - slack,
            band_high=high + slack,
            resolution=quantity(FINEST[unit], unit),
            grows=True,
            too_far="too big",
        )  # fmt: skip

    def _again(self, facts: Facts) -> list[Step]:
        tool, depth = self.operation.tool, self.operation.depth
        return [
            *self.quill.brought_again(tool, depth, 1, facts),
            self.quill.cut("ream-again", "Ream once more", tool, depth,
                           say=("Tight. Oil on, and through once more, slowly.",)),
        ]  # fmt: skip


def _note(id_: str, title: str, *say: str) -> Note:
    return Note(id=id_, title=title, say=say)

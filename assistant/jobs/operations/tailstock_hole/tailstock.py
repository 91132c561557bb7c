"""The tailstock's quill: clamped for every tool, fed by its wheel, and set anew where it ends.

Slid along the bed, whatever its dial was zeroed for is gone. So it is touched again whenever it
was unclamped: for the next tool, after the hole was measured, and for a hole that is deeper than
the quill travels. Common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.errors import ImpossibleInput
from assistant.jobs.drilling.hole import ToolWork
from assistant.jobs.drilling.hole_tools import HoleTool, capital
from assistant.jobs.drilling.quill import Quill, feeler_told
from assistant.jobs.steps import Check, FactKey, Facts, Note, Step
from assistant.replacing import replace
from assistant.spoken import Figure
from assistant.units import magnitude

TURNS_KEPT = 2
"""Of the quill's travel: wound right home it throws the tool's taper out, and a turn is wanted to
come to the touch by. Common practice, no source."""


@dataclass(frozen=True)
class TailstockQuill(Quill):
    """The quill of a lathe's tailstock; its depth is kept by the wheel's `dial` or by the `scale`
    along the quill."""

    @property
    def room(self) -> Decimal | None:
        """How far it feeds from a touch, in the job's unit; None where the machine's file doesn't
        tell its travel."""
        if self.axis.travel is None:
            return None
        travel = magnitude(self.axis.travel, self.unit)
        return travel - TURNS_KEPT * magnitude(self.axis.per_turn, self.unit)

    def check_reach(self, work: ToolWork) -> None:
        """Raises `ImpossibleInput` where a tool would have to go deeper than the quill travels.

        A drill that goes through is set anew with its point at the bottom of the hole. The bottom
        of a blind one has to be counted from the face, and a reamer meets none.
        """
        deep = magnitude(work.depth.value, self.unit)
        if self.room is None or deep <= self.room:
            return
        if work.through and work.tool.kind == "drilling":
            return
        sign = "in" if self.unit == "inch" else self.unit
        places = Decimal("0.01") if self.unit == "inch" else Decimal("0.1")
        raise ImpossibleInput(
            f"{work.tool.name} depth",
            f"{deep.quantize(places)} {sign}",
            f"the tailstock's quill feeds {self.room.quantize(places)} {sign} from a touch: "
            "wanted less, or a tool that cuts from the carriage",
        )

    @property
    def brought_up(self) -> tuple[str, ...]:
        """The tailstock brought up with the tool in it, and clamped: for every touch, since what is
        counted from it holds till it is slid."""
        return ("Tailstock up, quill nearly home. Clamp it.",)

    def spot(self) -> list[Step]:
        """A centre drill, fed to no depth and touched to nothing."""
        clamp = Check(id="clamp-spot", title="Tailstock clamped", say=self.brought_up)
        return [clamp, *super().spot()]

    def brought_again(self, tool: HoleTool, depth: Figure, round_: int, facts: Facts) -> list[Step]:
        """The same drill touched again: to be measured it was slid away."""
        touch = self.touch(tool, True, feeler_told(facts, tool, round_), round_)
        return [*touch, *self._scale_read(tool, depth, round_)]

    def from_the_bottom(self, tool: HoleTool, number: int) -> list[Step]:
        """Wound back, brought up to the bottom of the hole, and counted from there."""
        return [
            replace(
                self._touch(tool, "the bottom of the hole", ()),
                id=f"touch-{tool.name}-peck-{number}",
                say=("Quill out of travel. Slide it back, chips out, turn it home.",
                     "Up to the bottom of the hole, and clamp it.",
                     f"{self.name.capitalize()} {self.axis.way(1)}, till the point meets it."),
                stays=False,
            )
        ]  # fmt: skip

    @property
    def at_the_end(self) -> str:
        """Work that turns is stopped before a hand comes to it."""
        return "off"

    @property
    def off_to_measure(self) -> tuple[str, ...]:
        """A depth gauge needs the place where the tool stands."""
        return ("Unclamp the tailstock, slide it well back.",)

    def cautions(self, tool: HoleTool) -> tuple[str, ...]:
        """What a tool held still in turning work does."""
        return ("A tool may grab: keep the feed by the wheel.",)

    def in_the_cut(self, tool: HoleTool, *, clear: bool) -> tuple[str, ...]:
        """How it comes out."""
        if tool.kind == "reaming":
            return ("Out again while it turns. Never turn it backwards.",)
        return ("Right out before the spindle stops.",) if clear else ()

    def _feeler(self) -> str:
        return "Hold a feeler flat across the end."

    def touch(self, tool: HoleTool, over_hole: bool, told: FactKey, again: int = 0) -> list[Step]:
        """To a feeler whether a hole is begun or not: after trouble it is, and the same holds."""
        return super().touch(tool, True, told, again)

    def stop(self, tool: HoleTool, depth: Figure) -> list[Step]:
        """Where its scale stands at the touch."""
        return self._scale_read(tool, depth)

    def _scale_read(self, tool: HoleTool, depth: Figure, again: int = 0) -> list[Step]:
        if self.by != "scale":
            return []
        return [
            Note(
                id=f"{tool.name}-scale-{again}" if again else f"{tool.name}-scale",
                title=f"{capital(tool.words)}: read the quill's scale",
                say=("Read the quill's scale. Add the depth to it.",),
                figure=depth,
                counts_from=self.name,
            )
        ]

    @property
    def without_dial(self) -> tuple[str, ...]:
        """What ends the feed, where its dial doesn't."""
        return ("As far as that on its scale.",) if self.by == "scale" else ()

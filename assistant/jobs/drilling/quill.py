"""A quill that feeds a tool into its hole: its touch, and its depth by dial or by stop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import Toward, settle
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.drilling.hole_tools import HoleTool, capital, feeds_by
from assistant.jobs.steps import (
    Check,
    Cut,
    FactKey,
    Facts,
    Move,
    Note,
    Overrun,
    Step,
    Touch,
    fact_key,
    from_key,
)
from assistant.machine import Axis, Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, magnitude, quantity

DEPTH_BY = ("dial", "stop")
"""By what a quill's depth can be kept."""
FEELER = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""A usual feeler, until its thickness is told."""


def chuck_check() -> Check:
    """The tool in its chuck or taper."""
    return Check(
        id="check-tool",
        title="Tool held",
        say=("Tool tight and running true? Chuck key out again?",),
    )


@dataclass(frozen=True)
class Quill:
    """The quill of a machine, and how its depth is kept."""

    machine: Machine
    unit: str
    by: str
    """`dial` or `stop`."""

    @property
    def name(self) -> str:
        """The axis that it is."""
        return feeds_by(self.machine)

    @property
    def axis(self) -> Axis:
        """Its wheel or lever."""
        return self.machine.axis(self.name)

    @property
    def places(self) -> int:
        """Decimal places of depths."""
        return Unit(self.unit).coarse_places

    # -- what another quill has besides -----------------------------------------------------------

    @property
    def room(self) -> Decimal | None:
        """How far it feeds from a touch; None where that is left to the guard."""
        return None

    @property
    def brought_up(self) -> tuple[str, ...]:
        """What brings a tool that was fitted up to the work, before it is touched."""
        return ()

    def from_the_bottom(self, tool: HoleTool, number: int) -> list[Step]:
        """Set anew for a peck that it no longer reaches, and its zero at the bottom of the hole."""
        raise NotImplementedError

    def brought_again(self, tool: HoleTool, depth: Figure, round_: int, facts: Facts) -> list[Step]:
        """The same tool brought up again after the hole was measured."""
        return []

    @property
    def at_the_end(self) -> str:
        """What the spindle has to do once all is drilled; nothing more where it is left to them."""
        return ""

    @property
    def off_to_measure(self) -> tuple[str, ...]:
        """What has to be out of the way of a depth gauge."""
        return ()

    def cautions(self, tool: HoleTool) -> tuple[str, ...]:
        """Said before its first cut."""
        return ()

    def in_the_cut(self, tool: HoleTool, *, clear: bool) -> tuple[str, ...]:
        """What is said of the feed besides; `clear` where it comes right out after this cut."""
        return ()

    # -- its touch --------------------------------------------------------------------------------

    def touch(self, tool: HoleTool, over_hole: bool, told: FactKey, again: int = 0) -> list[Step]:
        """The point to the face: depths are counted from there, anew for every tool.

        Over a hole that is begun the point would sink in: there it is touched to a feeler laid
        across, and comes on by its thickness, `told` by `paper_fact`, on to the face. `again` is
        which time the same tool comes to it once more.
        """
        down = f"{self.name.capitalize()} {self.axis.way(1)}, till the {end_of(tool)} just touches"
        if not over_hole:
            return [self._touch(tool, "the face", (f"{down} the face.",), again)]
        usual = quantity(FEELER[self.unit], self.unit)
        feeler = from_key(told)
        steps: list[Step] = [
            replace(
                self._touch(tool, "a feeler on the face", (self._feeler(), f"{down} it."), again),
                paper_fact=paper_fact(tool, again),
                paper_expected=usual,
            )
        ]
        thickness = usual if feeler is None else feeler
        if thickness.magnitude:
            on = settle(thickness, self.axis.graduation)
            steps.append(
                Move(
                    id=_id(f"paper-{tool.name}", again),
                    title=f"{self.axis.way(1).capitalize()} by the feeler",
                    say=("Feeler away.",),
                    after=("Then zero it again.",) if self.axis.settable else (),
                    axis=self.name,
                    target=on,
                    lock=False,
                    zero_after=True,
                    terms_of=Figure(thickness, "feeler on the face", self.places,
                                    (Term("feeler", thickness),), source="as told"),
                )
            )  # fmt: skip
        return steps

    def _feeler(self) -> str:
        return "Lay a feeler over the hole."

    def touch_edge(self, tool: HoleTool) -> Touch:
        """A countersink to the edge of its hole: its depth is counted from there."""
        way = f"{self.name.capitalize()} {self.axis.way(1)}"
        say = f"{way}, till the tool just touches the edge of the hole."
        return self._touch(tool, "the edge of the hole", (say,))

    def _touch(self, tool: HoleTool, surface: str, say: tuple[str, ...], again: int = 0) -> Touch:
        return Touch(
            id=_id(f"touch-{tool.name}", again),
            title=f"{capital(tool.words)}: touch {surface}",
            spindle="off",
            say=(*self.brought_up, *say),
            cautions=("Spindle stopped while you touch the tool to the work.",),
            axis=self.name,
            toward=1,
            surface=surface,
        )

    # -- its depth --------------------------------------------------------------------------------

    def stop(self, tool: HoleTool, depth: Figure) -> list[Step]:
        """The stop set, where depth is kept by it."""
        if self.by != "stop":
            return []
        return [
            Note(
                id=f"{tool.name}-stop",
                title=f"{capital(tool.words)}: set the stop",
                say=("Set the stop, counted from the touch.", "Lock its nuts."),
                figure=depth,
                counts_from=self.name,
            )
        ]

    @property
    def without_dial(self) -> tuple[str, ...]:
        """What ends the feed, where its dial doesn't."""
        return ("Down to the stop.",) if self.by == "stop" else ()

    @property
    def set_deeper(self) -> tuple[str, ...]:
        """What has to be set before the same tool goes deeper."""
        return ("Move the stop down by what is short.",) if self.by == "stop" else ()

    def on_dial(self, depth: Decimal, toward: Toward = Toward.NEAREST) -> Quantity:
        """A depth set to what the quill's dial can show."""
        return settle(quantity(depth, self.unit), self.axis.graduation, toward)

    def spot(self) -> list[Step]:
        """A hole begun, to no depth."""
        nothing = quantity(0, self.unit)
        return [
            Cut(id="spot", title="Spot the hole", say=("Spot it, no wider than the drill.",),
                overrun=Overrun.HOLE, number=1, of=1, depth=nothing, taken=nothing,
                kind="spotting", feed_axis=self.name)
        ]  # fmt: skip

    def cut(
        self, id_: str, title: str, tool: HoleTool, depth: Figure, *, say: Sequence[str] = (),
        number: int = 1, of: int = 1, full: Decimal | None = None, taken: Decimal | None = None,
        zero: Decimal = Decimal(0), toward: Toward = Toward.NEAREST,
        answers: tuple[tuple[str, Figure | str], ...] = (),
    ) -> Cut:  # fmt: skip
        """One hole, or one peck of it, to a depth from the touch; `zero` is how deep its dial was
        zeroed, where that isn't at the face."""
        reached = magnitude(depth.value, self.unit)
        left = quantity(max(Decimal(0), (full or reached) - reached), self.unit)
        by_dial = self.by == "dial"
        return Cut(
            id=id_,
            title=title,
            say=(*say, *self.in_the_cut(tool, clear=number == of), *self.without_dial),
            cautions=self.cautions(tool),
            overrun=Overrun.HOLE,
            number=number,
            of=of,
            depth=depth.value,
            taken=depth.value,
            remaining=left,
            kind=tool.kind,
            figure=depth,
            feed_axis=self.name,
            feed_target=self.on_dial(reached - zero, toward) if by_dial else None,
            limit=self.on_dial((full or reached) - zero, toward),
            pass_limit=quantity(taken or reached, self.unit),
            feed_returns=True,
            answers=answers,
        )


def _id(name: str, again: int) -> str:
    return f"{name}-{again}" if again else name


def paper_fact(tool: HoleTool, again: int = 0) -> str:
    """The fact that takes the feeler under this tool."""
    return f"paper.{tool.name}.{again}" if again else f"paper.{tool.name}"


def feeler_told(facts: Facts, tool: HoleTool, again: int = 0) -> FactKey:
    """The feeler under this tool, as it was told."""
    return fact_key(facts, paper_fact(tool, again))


def end_of(tool: HoleTool) -> str:
    """What of a tool touches first, in a word."""
    return "point" if tool.kind in ("drilling", "spotting") else "tool"


def read_depth_by(fields: Fields, ways: tuple[str, ...] = DEPTH_BY) -> str:
    """`depth_by` of a job file."""
    return fields.choice("depth_by", ways, "dial")


def check_stop(by: str, machine: Machine) -> None:
    """Raises `ImpossibleInput` where depth is to be kept by a stop that the machine lacks."""
    if by == "stop" and not machine.depth_stop:
        raise ImpossibleInput(
            "depth_by", "stop", f"{machine.name} has no depth_stop in its profile: wanted dial"
        )

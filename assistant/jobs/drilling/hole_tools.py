"""Tools fed by the quill: how they are called, their speed, and depth by dial or by stop."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache

from assistant.calc import drills, speeds
from assistant.calc.dial import Toward, settle
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common.spindle import Cutting, speed_and_feed
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
    from_key,
)
from assistant.machine import Axis, Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

MACHINES = ("vertical mill", "drill press")
QUILL = "quill"
POINT = 118
"""Degrees of a general-purpose drill's point."""
FEELER = {"inch": Decimal("0.010"), "mm": Decimal("0.25")}
"""A usual feeler, until its thickness is told."""
SLOWER = {
    "reaming": Decimal("0.5"), "counterboring": Decimal("0.5"), "countersinking": Decimal("0.5"),
}  # fmt: skip
"""Of the drilling speed. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class HoleTool:
    """One tool of a hole. Compared by identity: made once, when the job is read."""

    name: str
    """In ids of steps: `drill`, `pilot`."""
    words: str
    """`letter F drill`."""
    dia: Quantity
    kind: str = "drilling"
    """What it does, a kind of `Cut`: `spotting`, `drilling`, `reaming` ..."""
    material: str = ""
    """Of the work."""
    tool: str = "HSS"


def drill_words(name: str) -> str:
    """A drill's name as it is said: `number 7 drill`, `letter F drill`, `6.8 millimetre drill`."""
    if name.startswith("#"):
        return f"number {name[1:]} drill"
    if len(name) == 1 and name.isalpha():
        return f"letter {name} drill"
    return f"{name.replace(' mm', ' millimetre')} drill"


def capital(words: str) -> str:
    """With a capital first letter, the others as they are: `Letter F drill`."""
    return words[:1].upper() + words[1:]


def read_drill(fields: Fields, key: str, unit: str) -> tuple[str, Quantity]:
    """A drill as it is called (`F`, `#7`, `29/64`, `6.8 mm`) or by a size that is in no set."""
    value = fields.take(key, 'wanted a drill such as "#7", "F", "17/64 in" or "6.8 mm"')
    text = str(value).strip()
    named = text.startswith("#") or text.isalpha()
    if not named:
        size = fields.length(key, unit)
        text = f"{size.magnitude:f} {'mm' if 'meter' in str(size.units) else 'in'}"
    try:
        found = drills.drill_named(text)
    except BadInput as bad:
        if named:
            fields.refuse(key, value, bad.want)
        return "drill", size
    return drill_words(found.name), found.diameter


def section(
    tools: Iterable[tuple[HoleTool, Figure]],
) -> tuple[tuple[str, Quantity], ...]:
    """The sizes of a hole's tools for its drawing: `drill_across`, `drill_deep`, `drill_point`.

    The point is what of the depth is not of full diameter.
    """
    sizes: list[tuple[str, Quantity]] = []
    for tool, depth in tools:
        point = next((t.value for t in depth.terms if t.name == "drill point"), depth.value * 0)
        sizes += [
            (f"{tool.name}_across", tool.dia),
            (f"{tool.name}_deep", depth.value),
            (f"{tool.name}_point", point),
        ]
    return tuple(sizes)


def wanted_machine(machine: Machine, why: str) -> None:
    """Raises `ImpossibleInput` on a machine that can't drill, or whose quill has no dial."""
    if machine.kind not in MACHINES:
        raise ImpossibleInput(
            "machine", f"a {machine.kind}", f"{why} wants a {' or a '.join(MACHINES)}"
        )
    if QUILL not in machine.axes:
        raise ImpossibleInput(
            "machine", machine.name, f"{why} wants the quill's dial in the profile: [axes.quill]"
        )


@lru_cache(maxsize=64)
def _cutting(tool: HoleTool) -> Cutting:
    surface = speeds.advised_speed(tool.material or "mild steel", tool.tool, "drilling").low
    feed = speeds.drill_feed_range(tool.dia)
    return Cutting(
        cutter="drill",
        diameter=tool.dia,
        teeth=1,
        tool=tool.tool,
        material=tool.material,
        cut="drilling",
        surface_speed=surface * SLOWER[tool.kind] if tool.kind in SLOWER else None,
        chip_load=feed.low,
        chip_source=feed.source,
        hand_axis=QUILL,
    )


def speed_of(tool: HoleTool, machine: Machine, unit: str, facts: Facts) -> Figure:
    """The spindle speed of a tool."""
    return speed_and_feed(_cutting(tool), machine, unit, facts).speed


@lru_cache(maxsize=32)
def feed_of(tool: HoleTool, unit: str) -> Figure:
    """The feed a turn of the spindle: a guide for feeding by hand."""
    low = quantity(magnitude(speeds.drill_feed_range(tool.dia).low, unit), unit)
    return Figure(
        low,
        "feed for each turn of the spindle",
        4 if unit == "inch" else 3,
        (Term("tool diameter", tool.dia, 0),),
        "by the drill's diameter, the low end; a guide: feed by sound and chip",
        speeds.drill_feed_range(tool.dia).source,
    )


def speed_note(tool: HoleTool, machine: Machine, unit: str, facts: Facts, *,
               main: bool = True) -> Note:  # fmt: skip
    """Fit the tool and set its speed; of the `main` tool the operator may choose another."""
    setting = speed_and_feed(_cutting(tool), machine, unit, facts if main else {})
    rpm = magnitude(setting.speed.value, "rpm")
    return Note(
        id="set-speed" if main else f"{tool.name}-speed",
        title=f"{capital(tool.words)}: {rpm:.0f} rpm",
        spindle="off",
        say=(f"Fit the {tool.words}.", "Set the speed."),
        after=setting.warnings,
        figure=setting.speed,
        setting="speed" if main else "",
    )


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
    def axis(self) -> Axis:
        """Its wheel or lever."""
        return self.machine.axis(QUILL)

    @property
    def places(self) -> int:
        """Decimal places of depths."""
        return 3 if self.unit == "inch" else 2

    def touch(self, tool: HoleTool, over_hole: bool, told: FactKey) -> list[Step]:
        """The point to the face: depths are counted from there, anew for every tool.

        Over a hole that is begun the point would sink in: there it is touched to a feeler laid
        across, and comes on by its thickness, `told` by `paper_fact`, on to the face.
        """
        if not over_hole:
            say = f"Quill down, till the {_end(tool)} just touches the face."
            return [self._touch(tool, "the face", (say,))]
        usual = quantity(FEELER[self.unit], self.unit)
        feeler = from_key(told)
        say = f"Quill down, till the {_end(tool)} just touches it."
        steps: list[Step] = [
            replace(
                self._touch(tool, "a feeler on the face", ("Lay a feeler over the hole.", say)),
                paper_fact=paper_fact(tool),
                paper_expected=usual,
            )
        ]
        thickness = usual if feeler is None else feeler
        if thickness.magnitude:
            on = settle(thickness, self.axis.graduation)
            steps.append(
                Move(
                    id=f"paper-{tool.name}",
                    title="Down by the feeler",
                    say=("Feeler away.",),
                    after=("Then zero it again.",) if self.axis.settable else (),
                    axis=QUILL,
                    target=on,
                    lock=False,
                    zero_after=True,
                    terms_of=Figure(thickness, "feeler on the face", self.places,
                                    (Term("feeler", thickness),), source="as told"),
                )
            )  # fmt: skip
        return steps

    def touch_edge(self, tool: HoleTool) -> Touch:
        """A countersink to the edge of its hole: its depth is counted from there."""
        say = "Quill down, till the tool just touches the edge of the hole."
        return self._touch(tool, "the edge of the hole", (say,))

    def _touch(self, tool: HoleTool, surface: str, say: tuple[str, ...]) -> Touch:
        return Touch(
            id=f"touch-{tool.name}",
            title=f"{capital(tool.words)}: touch {surface}",
            spindle="off",
            say=say,
            cautions=("Spindle stopped while you touch the tool to the work.",),
            axis=QUILL,
            toward=1,
            surface=surface,
        )

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
            )
        ]

    def on_dial(self, depth: Decimal, toward: Toward = Toward.NEAREST) -> Quantity:
        """A depth set to what the quill's dial can show."""
        return settle(quantity(depth, self.unit), self.axis.graduation, toward)

    def cut(
        self, id_: str, title: str, tool: HoleTool, depth: Figure, *, say: tuple[str, ...] = (),
        number: int = 1, of: int = 1, full: Decimal | None = None, taken: Decimal | None = None,
        toward: Toward = Toward.NEAREST, answers: tuple[tuple[str, Figure | str], ...] = (),
    ) -> Cut:  # fmt: skip
        """One hole, or one peck of it, to a depth from the touch."""
        reached = magnitude(depth.value, self.unit)
        left = quantity(max(Decimal(0), (full or reached) - reached), self.unit)
        by_stop = self.by == "stop"
        return Cut(
            id=id_,
            title=title,
            say=(*say, "Down to the stop.") if by_stop else say,
            overrun=Overrun.HOLE,
            number=number,
            of=of,
            depth=depth.value,
            taken=depth.value,
            remaining=left,
            kind=tool.kind,
            figure=depth,
            feed_axis=QUILL,
            feed_target=None if by_stop else self.on_dial(reached, toward),
            limit=self.on_dial(full or reached, toward),
            pass_limit=quantity(taken or reached, self.unit),
            feed_returns=True,
            answers=answers,
        )


def paper_fact(tool: HoleTool) -> str:
    """The fact that takes the feeler under this tool."""
    return f"paper.{tool.name}"


def _end(tool: HoleTool) -> str:
    return "point" if tool.kind in ("drilling", "spotting") else "tool"


def read_depth_by(fields: Fields) -> str:
    """`depth_by` of a job file."""
    return fields.choice("depth_by", ("dial", "stop"), "dial")


def check_stop(by: str, machine: Machine) -> None:
    """Raises `ImpossibleInput` where depth is to be kept by a stop that the machine lacks."""
    if by == "stop" and not machine.depth_stop:
        raise ImpossibleInput(
            "depth_by", "stop", f"{machine.name} has no depth_stop in its profile: wanted dial"
        )

"""Tools fed by a quill: how they are called, and their speed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc import drills, speeds
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common.spindle import Cutting, speed_and_feed
from assistant.jobs.steps import Facts, Note
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Quantity, Unit, magnitude, quantity

MACHINES = ("vertical mill", "drill press")
QUILL, TAILSTOCK = "quill", "tailstock"
POINT = 118
"""Degrees of a general-purpose drill's point."""
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


def feeds_by(machine: Machine) -> str:
    """The axis that feeds a tool into the end of its hole: the quill, or a lathe's tailstock."""
    return TAILSTOCK if machine.kind == "lathe" else QUILL


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
def _cutting(tool: HoleTool, axis: str) -> Cutting:
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
        hand_axis=axis,
    )


def speed_of(tool: HoleTool, machine: Machine, unit: str, facts: Facts) -> Figure:
    """The spindle speed of a tool."""
    return speed_and_feed(_cutting(tool, feeds_by(machine)), machine, unit, facts).speed


@lru_cache(maxsize=32)
def feed_of(tool: HoleTool, unit: str) -> Figure:
    """The feed a turn of the spindle: a guide for feeding by hand."""
    low = quantity(magnitude(speeds.drill_feed_range(tool.dia).low, unit), unit)
    return Figure(
        low,
        "feed for each turn of the spindle",
        Unit(unit).fine_places,
        (Term("tool diameter", tool.dia, 0),),
        "by the drill's diameter, the low end; a guide: feed by sound and chip",
        speeds.drill_feed_range(tool.dia).source,
    )


def speed_note(tool: HoleTool, machine: Machine, unit: str, facts: Facts, *,
               main: bool = True) -> Note:  # fmt: skip
    """Fit the tool and set its speed; of the `main` tool the operator may choose another."""
    cutting = _cutting(tool, feeds_by(machine))
    setting = speed_and_feed(cutting, machine, unit, facts if main else {})
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

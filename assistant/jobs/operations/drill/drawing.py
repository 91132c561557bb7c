"""A hole in section: each tool's share of it, its point, and a thread where it is tapped."""

from __future__ import annotations

from collections.abc import Mapping

from assistant.drawing import (
    Dimension,
    Drawing,
    Drawings,
    Ink,
    Line,
    Point,
    Polygon,
    Primitive,
    Weight,
    rectangle,
    size_label,
    touched,
)
from assistant.jobs.moment import Moment, Now, Sizes, in_unit
from assistant.jobs.steps import Cut, Measure

NEEDS = ("drill_across", "drill_deep", "drill_point")
"""Diameter, depth from the face to the tip, and height of the point of the drill."""
TOOLS = ("pilot", "drill", "ream", "counterbore", "sink")
"""In the order of work; each may have `_across`, `_deep`, `_point`."""


def hole_section(dims: Mapping[str, float]) -> Drawing:
    """Cut through the axis of the hole.

    Also: the other `TOOLS`; `thickness` of the work where the hole goes through it;
    `thread_across`, `thread_deep`, `pitch`. Of each tool `_now` (how deep it has been), and of
    the one in hand `_at` (1), with `_after` where it goes next;
    `thread_now` is 1 once it is tapped.
    """
    tools = [name for name in TOOLS if f"{name}_across" in dims]
    widest = max(dims[f"{name}_across"] for name in (*tools, "thread") if f"{name}_across" in dims)
    deepest = max(dims[f"{name}_deep"] for name in tools)
    floor = dims.get("thickness") or deepest + widest * 0.45
    # No more metal about it than is needed to see the hole: the page gives it height, not width.
    side = max(widest * 0.85, floor * 0.2)
    items: list[Primitive] = [Polygon(rectangle(-side, -floor, side, 0.0), Ink.METAL)]
    in_hand = next((name for name in tools if dims.get(f"{name}_at")), "")
    for name in sorted(tools, key=lambda name: dims[f"{name}_across"]):
        if dims.get(f"{name}_now", 0.0) < dims[f"{name}_deep"]:
            items.append(Polygon(_bored(dims, name, dims[f"{name}_deep"], floor), Ink.TOGO))
    if in_hand:
        after = dims.get(f"{in_hand}_after", 0.0)
        if after > dims.get(f"{in_hand}_now", 0.0):
            items.append(Polygon(_bored(dims, in_hand, after, floor), Ink.NEXT))
    done = [name for name in tools if dims.get(f"{name}_now", 0.0) > 0]
    for name in sorted(done, key=lambda name: dims[f"{name}_across"]):
        items.append(Polygon(_bored(dims, name, dims[f"{name}_now"], floor), Ink.VOID))
    if "thread_across" in dims:
        items += _thread(dims)
    top = max(widest * 0.7, floor * 0.22)
    if in_hand:
        items.append(_tool(dims, in_hand, top))
        if dims.get("touch_top"):
            items += touched((0.0, 0.0), side)
    items.append(
        Line(((0, -floor * 1.06), (0, top)), Ink.FAINT, Weight.THIN, dashed=True),
    )
    full = dims.get("thickness") or dims.get("full_diameter") or deepest
    at = side * 1.08
    items += [
        Line(((side, 0), (at * 1.04, 0)), Ink.FAINT, Weight.THIN),
        Line(((0, -full), (at * 1.04, -full)), Ink.FAINT, Weight.THIN),
        Dimension((at, -full), (at, 0.0), size_label(full)),
    ]
    box = (-side * 1.02, -max(floor, deepest) * 1.04, at * 1.04, top)
    through = "through" if "thickness" in dims else f"{size_label(full)} deep"
    title = f"hole {size_label(dims['drill_across'])}, {through}, in section"
    return Drawing(tuple(items), box, title, room=(0, 0, 3.6, 0))


def _bored(dims: Mapping[str, float], name: str, deep: float, floor: float) -> tuple[Point, ...]:
    """What a tool leaves open with its tip `deep`: the full diameter and the point, or a cone."""
    half, point = dims[f"{name}_across"] / 2, dims.get(f"{name}_point", 0.0)
    if name == "sink":
        hole = _hole(dims)
        full = dims["sink_deep"]
        mouth = hole / 2 + (half - hole / 2) * min(1.0, deep / full if full else 1.0)
        return ((-mouth, 0.0), (-hole / 2, -deep), (hole / 2, -deep), (mouth, 0.0))
    if not point:
        low = min(deep, floor)
        return rectangle(-half, -low, half, 0.0)
    if deep < point:  # only the point has entered
        wide = half * deep / point
        return ((-wide, 0.0), (0.0, -deep), (wide, 0.0))
    shoulder = min(deep - point, floor)
    if deep <= floor:
        return ((-half, 0.0), (-half, -shoulder), (0.0, -deep), (half, -shoulder), (half, 0.0))
    # it comes out underneath: cut off at the bottom of the work
    rest = half * (deep - floor) / point if shoulder < floor else half
    return (
        (-half, 0.0), (-half, -shoulder), (-rest, -floor), (rest, -floor), (half, -shoulder),
        (half, 0.0),
    )  # fmt: skip


def _tool(dims: Mapping[str, float], name: str, top: float) -> Line:
    """The tool in hand, its tip as deep as it has been."""
    half, tip = dims[f"{name}_across"] / 2, -dims.get(f"{name}_now", 0.0)
    point = dims.get(f"{name}_point", 0.0)
    if name == "sink":
        point = half
        tip = -max(dims["sink_deep"], 0.0) if dims.get("sink_now") else 0.0
        tip -= half - (half - _hole(dims) / 2)
    points = ((-half, top), (-half, tip + point), (0.0, tip), (half, tip + point), (half, top))
    return Line(points, Ink.TOOL, Weight.HEAVY)


def _hole(dims: Mapping[str, float]) -> float:
    """The diameter that a countersink is cut into."""
    return max(dims[f"{tool}_across"] for tool in ("drill", "ream") if f"{tool}_across" in dims)


def _thread(dims: Mapping[str, float]) -> list[Primitive]:
    """Both flanks of the thread: its outside dashed till it is cut, its crests to the pitch."""
    outer, inner = dims["thread_across"] / 2, dims["drill_across"] / 2
    deep, pitch = dims["thread_deep"], dims.get("pitch", 0.0)
    cut = bool(dims.get("thread_now"))
    items: list[Primitive] = []
    for sign in (1, -1):
        outside = ((sign * outer, 0.0), (sign * outer, -deep))
        items.append(Line(outside, Ink.EDGE if cut else Ink.GHOST, Weight.THIN, dashed=not cut))
        if pitch and (cut or dims.get("thread_at")):
            count = int(deep / pitch)
            teeth: list[Point] = []
            for number in range(count):
                y = -number * pitch
                teeth += [(sign * inner, y), (sign * outer, y - pitch / 2)]
            teeth.append((sign * inner, -count * pitch))
            ink = Ink.MARK if dims.get("thread_at") else Ink.EDGE
            items.append(Line(tuple(teeth), ink, Weight.NORMAL))
    items.append(Line(((-outer, -deep), (outer, -deep)), Ink.EDGE, Weight.THIN))
    return items


def hole_now(moment: Moment) -> Sizes:
    """How deep each tool has been, and which is in hand."""
    plan, step = moment.plan, moment.step
    sizes: Sizes = {}
    tools = [name.removesuffix("_across") for name, _ in plan.drawing if name.endswith("_across")]
    for cut in moment.done():
        tool = cut.id.partition("-")[0]
        if tool == "tap":
            sizes["thread_now"] = 1.0
        elif tool in tools:
            name = f"{tool}_now"
            sizes[name] = max(sizes.get(name, 0.0), in_unit(cut.depth, plan.unit))
    words = step.id.split("-")
    if "tap" in words and "drill" not in words and isinstance(step, Cut):
        sizes["thread_at"] = 1.0
    for tool in tools:
        if tool in words and not isinstance(step, Measure):
            sizes[f"{tool}_at"] = 1.0
            if isinstance(step, Cut):
                sizes[f"{tool}_after"] = in_unit(step.depth, plan.unit)
    return sizes


DRAWINGS: Drawings = {"hole": (NEEDS, hole_section)}
NOW: Now = {"hole": hole_now}

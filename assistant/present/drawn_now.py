"""What the drawing of a job shows at the step at hand: the sizes of the plan, and how far it is.

The plan tells kind and sizes; which side is touched, how deep it is, which hole or face is at hand
is read from the steps and from what was confirmed and told. Lengths are in the plan's unit.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from assistant.jobs.steps import Cut, Index, Measure, Note, Plan, Step, Touch
from assistant.present.bar_of import coming_cut, depths_now
from assistant.present.drawings import drawable
from assistant.present.drawn_setting import (
    Sizes,
    collars,
    finding,
    four_jaws,
    in_unit,
    on_table,
    setting_angle,
    swept,
)
from assistant.present.glance import Bar
from assistant.session.state import State

_WORDS_ONLY = frozenset({"speed", "feed"})
"""Notes about these are not about the work."""
_NO_PICTURE = frozenset({"machine-notes", "check-person", "check-spindle", "check-hands"})


def drawn_now(state: State, bar: Bar | None) -> tuple[str, tuple[tuple[str, float], ...]]:
    """Kind and dimensions of the drawing for the step at hand; '' where there is none."""
    plan, step = state.plan, state.step
    if step is None:
        return "", ()
    if isinstance(step, Index) and step.circle:
        return "index", _circle(step)
    sizes: Sizes = {name: in_unit(size, plan.unit) for name, size in plan.drawing}
    sizes.update(depths_now(state, bar))
    if isinstance(step, Touch):
        sizes["touch_top" if step.axis == plan.depth_axis else "touch_side"] = 1.0
    hole = _HOLE.search(step.id)
    if hole is not None:
        sizes["at"] = float(hole[1])
    special = _SPECIAL.get(plan.drawing_kind)
    if special is not None:
        sizes.update(special(state, plan, step))
    dims = tuple(sizes.items())
    return (plan.drawing_kind, dims) if drawable(plan.drawing_kind, dims) else ("", ())


def about_the_work(step: Step) -> bool:
    """Whether a step without a move or cut is shown with the drawing of the work."""
    if isinstance(step, Note):
        return step.setting not in _WORDS_ONLY and step.id not in _NO_PICTURE
    return isinstance(step, Measure)


_HOLE = re.compile(r"hole-(\d+)")
_NUMBERS = re.compile(r"\d+")


def _circle(step: Index) -> tuple[tuple[str, float], ...]:
    """The hole circle that an index step counts on."""
    return (
        ("holes", float(step.circle)),
        ("spaces", float(step.holes)),
        ("turns", float(step.turns)),
    )


def _done(state: State, plan: Plan, begins: str = "") -> list[Cut]:
    """Cuts said to be through, in their order."""
    return [
        step
        for step in plan.steps
        if isinstance(step, Cut) and step.id in state.confirmed and step.id.startswith(begins)
    ]


def _hole(state: State, plan: Plan, step: Step) -> Sizes:
    """How deep each tool has been, and which is in hand."""
    sizes: Sizes = {}
    tools = [name.removesuffix("_across") for name, _ in plan.drawing if name.endswith("_across")]
    for cut in _done(state, plan):
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


def _gear(state: State, plan: Plan, step: Step) -> Sizes:
    """The space at hand, the depth of this round of the wheel and of the one before it."""
    found = _NUMBERS.search(step.id)
    rounds = ("rough", "finish")
    name = step.id.partition("-")[0]
    if name not in rounds or found is None:
        deepest = max((in_unit(cut.depth, plan.unit) for cut in _done(state, plan)), default=0.0)
        if not deepest:
            return {"depth_now": 0.0, "depth_after": 0.0}
        spaces = [int(_NUMBERS.findall(cut.id)[0]) for cut in _done(state, plan)]
        return {"at": float(spaces[-1]), "round_now": deepest, "round_before": 0.0,
                "depth_now": deepest, "depth_after": deepest}  # fmt: skip
    teeth = int(in_unit(dict(plan.drawing)["teeth"], plan.unit))
    space = (int(found[0]) - 1) % teeth + 1
    this = [
        in_unit(s.depth, plan.unit)
        for s in plan.steps
        if isinstance(s, Cut) and s.id.startswith(name)
    ]
    before = [
        in_unit(s.depth, plan.unit)
        for s in plan.steps
        if isinstance(s, Cut) and not s.id.startswith(name) and name == "finish"
    ]
    here = _done(state, plan, f"{name}-{found[0]}-")
    left = max(before, default=0.0)
    now = max((in_unit(cut.depth, plan.unit) for cut in here), default=left)
    cut = coming_cut(plan, step)
    after = in_unit(cut.depth, plan.unit) if cut is not None else now
    return {"at": float(space), "round_now": max(this, default=0.0), "round_before": left,
            "depth_now": now, "depth_after": max(now, after)}  # fmt: skip


def _block(state: State, plan: Plan, step: Step) -> Sizes:
    """The face at hand and what comes off it."""
    found = re.search(r"face-(\d)", step.id)
    faces = [int(f[1]) for s in plan.steps if (f := re.search(r"face-(\d)", s.id))]
    place = plan.index(step.id)
    if found is None:
        coming = (re.search(r"face-(\d)", s.id) for s in plan.steps[place:])
        found = next((one for one in coming if one), None)
    at = int(found[1]) if found is not None else max(faces, default=6)
    cuts = [s for s in plan.steps if isinstance(s, Cut) and s.id.startswith(f"face-{at}-")]
    done = [cut for cut in cuts if cut.id in state.confirmed]
    full = max((in_unit(cut.depth, plan.unit) for cut in cuts), default=0.0)
    now = max((in_unit(cut.depth, plan.unit) for cut in done), default=0.0)
    cut = coming_cut(plan, step)
    after = in_unit(cut.depth, plan.unit) if cut in cuts and cut is not None else now
    whole = plan.steps[place].id == "deburr"
    return {"at": float(at), "done": 6.0 if whole else float(at - 1), "depth_full": full,
            "depth_now": now, "depth_after": max(now, after)}  # fmt: skip


def _knurled(state: State, plan: Plan, step: Step) -> Sizes:
    """Whether the knurl is at hand, or rolled."""
    place = plan.index(step.id)
    begins = next((n for n, s in enumerate(plan.steps) if s.id == "check-wheels"), len(plan.steps))
    return {
        "knurl_at": float(place >= begins),
        "knurl_now": float("knurl-cut" in state.confirmed),
    }


def planned_sizes(plan: Plan) -> Sizes:
    """The sizes of the plan's drawing for paper: with the passes of a thread, and the places where
    a tip or an indicator touches."""
    sizes = {name: in_unit(size, plan.unit) for name, size in plan.drawing}
    match plan.drawing_kind:
        case "thread":
            sizes.update(_passes(plan))
        case "centre":  # where it is touched
            sizes.update(done_x=2.0, done_y=2.0)
        case "swept":
            sizes.update(at=1.0)
    return sizes


def _thread(state: State, plan: Plan, step: Step) -> Sizes:
    """The marks of the passes."""
    return _passes(plan)


def _passes(plan: Plan) -> Sizes:
    """The depth of every pass, as the dial counts."""
    cuts = (s for s in plan.steps if isinstance(s, Cut) and s.kind != "spring")
    depths = sorted({in_unit(cut.depth, plan.unit) for cut in cuts})
    return {f"pass_{number}": depth for number, depth in enumerate(depths, 1)}


def _dovetail(state: State, plan: Plan, step: Step) -> Sizes:
    """How far each wall has moved at the root."""
    sizes: Sizes = {}
    cut = coming_cut(plan, step)
    for side in ("first", "second"):
        cuts = [s for s in plan.steps if isinstance(s, Cut) and s.id.startswith(side)]
        if not cuts:
            continue
        whole = in_unit(cuts[0].taken + cuts[0].left, plan.unit)

        def moved(one: Cut, whole: float = whole) -> float:
            return whole - in_unit(one.left, plan.unit)

        now = max((moved(one) for one in cuts if one.id in state.confirmed), default=0.0)
        sizes[f"{side}_now"] = now
        sizes[f"{side}_after"] = max(now, moved(cut)) if cut is not None and cut in cuts else now
        if step.id.startswith(f"touch-{side}"):
            sizes[f"touch_{side}"] = 1.0
    return sizes


def _bore(state: State, plan: Plan, step: Step) -> Sizes:
    """A note that sets the head is for the cut after it."""
    sizes: Sizes = {"touch_top": 1.0} if step.id == "touch-bore" else {}
    if isinstance(step, Note) and step.id.endswith("-set"):
        later = (s for s in plan.steps[plan.index(step.id) :] if isinstance(s, Cut))
        cut = next(later, None)
        if cut is not None:
            sizes["depth_after"] = in_unit(cut.depth, plan.unit)
    return sizes


def _edges(state: State, plan: Plan, step: Step) -> Sizes:
    """The edge that is being touched."""
    if not isinstance(step, Touch) or step.axis not in ("table", "saddle"):
        return {}
    return {"touch_x" if step.axis == "table" else "touch_y": 1.0}


_SPECIAL: Mapping[str, Callable[[State, Plan, Step], Sizes]] = {
    "hole": _hole,
    "holes": _edges,
    "bolt circle": _edges,
    "gear": _gear,
    "block": _block,
    "table": on_table,
    "centre": finding,
    "dial-in": four_jaws,
    "swept": swept,
    "collars": collars,
    "knurled": _knurled,
    "angle": setting_angle,
    "thread": _thread,
    "dovetail": _dovetail,
    "bore": _bore,
}
"""What changes with the step, for the kinds that need more than a depth and a touch."""

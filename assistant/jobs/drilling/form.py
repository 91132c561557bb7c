"""Fields of drilled holes."""

from __future__ import annotations

from functools import cache

from assistant.calc import drills
from assistant.jobs.common.form import held
from assistant.jobs.field import Field, Known, number, pick, size, yes

DRILLING = ("vertical mill", "drill press")


@cache
def _named(inch: bool) -> tuple[str, ...]:
    """Drills that have a name: a letter or a number. Fractions and millimetres are sizes."""
    kinds = ("number", "letter") if inch else ()
    return tuple(one.name for kind in kinds for one in drills.drills(kind))


def named_drills(known: Known) -> tuple[str, ...]:
    """Names of drills in a job of that unit."""
    return _named(known.unit == "inch")


def a_drill(
    key: str, name: str, ask: str, why: str, *, given: str = "", usual: str = "",
    aside: bool = False,
) -> Field:  # fmt: skip
    """A drill, by its size or its name."""
    return size(key, name, ask, why, "0.0135", "3.5", given=given, usual=usual, aside=aside,
                choices=named_drills, free=True)  # fmt: skip


def depth_by(table: str) -> Field:
    """By what a hole's depth is stopped."""
    return pick(f"{table}.depth_by", "depth by", "Depth by the dial, or by the stop?",
                "The stop is set once, the dial is read at every hole.", ("dial", "stop"),
                usual="dial", aside=True)  # fmt: skip


def through_or_blind(table: str, *, deep: str = "at full diameter") -> tuple[Field, ...]:
    """Whether a hole goes through, and how deep it is or how thick the work."""
    gate = f"?{table}.ends"
    return (
        pick(gate, "hole", "Right through, or blind?", "Through, the point has to come out.",
             ("through", "blind"), usual=""),
        size(f"{table}.through", "thickness", "How thick is the work there?",
             "The drill goes on till its point is out at the back.", "0.03", "10",
             given=f"{gate}=through"),
        size(f"{table}.depth", f"depth {deep}", f"How deep, {deep}?",
             "The point comes on top of it.", "0.03", "20", given=f"{gate}=blind"),
    )  # fmt: skip


HELD = held("vice", "clamps", "v-blocks", "angle plate")
_DRILL_POINT = "118"


def point(table: str) -> Field:
    return number(f"{table}.point", "the drill's point", "What angle has the drill's point?",
                  "The point comes on top of the depth.", "60", "150", usual=_DRILL_POINT,
                  aside=True)  # fmt: skip


def spot(table: str) -> Field:
    return yes(f"{table}.spot", "spotted", "A centre drill first?",
               "A stub drill needs none before it.", usual="yes", aside=True)  # fmt: skip

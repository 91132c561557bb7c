"""The next part in the same setting: what isn't asked again, and what the last part found.

A job that is begun by "same again" has every fact of the last part as `previous.NAME`, and where
each axis stands as `previous.AXIS`. The person, the machine, cutter and tools are as they were;
the work is clamped anew, so that its holding, its stock and its top are asked again. What else
still holds an operation says itself: a diameter's dial, since the tool stands where it stood from
the spindle's axis; both slides of a thread; a side at the fixed jaw, an edge at a stop.

Touched anew every time, though the tool is the same: the face of work in a chuck and the place of
a taper along it, since no chucking puts the end where the last one lay; the outside where a piece
is parted off, which the blade comes to anyway; and all of a knurl, whose last tool is not its
first. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.jobs.common.facts import last_told
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Facts, FactValue, Note, Step
from assistant.replacing import replace

PREVIOUS = "previous."
PERSON_AND_MACHINE = frozenset({"check-person", "check-spindle", "check-hands", "machine-notes"})
SETTING = frozenset(
    {
        "check-arbor", "check-dial", "check-direction", "check-holder", "check-slender",
        "check-tool", "divide-arms", "divide-plate", "measure-cutter", "set-feed", "set-speed",
    }
)  # fmt: skip
"""What is set up once for a run of parts, where the same tool stays in to the end; what else an
operation sets up so, it says itself (`Operation.stays`)."""
EDGES = frozenset({"edge-table", "edge-saddle"})
"""Touched with a tip that comes out again for the tool."""


def is_next_part(facts: Facts) -> bool:
    """Whether this is a next part, set as the last one was."""
    return any(name.startswith(PREVIOUS) for name in facts)


def before(facts: Facts, name: str) -> FactValue | None:
    """What the last part found under `name`; None where this is the first or nothing was told."""
    return facts.get(PREVIOUS + name)


def last_size(facts: Facts, begins: str) -> tuple[FactValue, FactValue] | None:
    """The last part's last measured size `BEGINS.N`, and where its axis stood then."""
    found = last_told(facts, PREVIOUS + begins, "at")
    if found is None:
        return None
    number, at = found
    return facts[f"{PREVIOUS}{begins}.{number}"], at


def without_what_still_holds(plan: Plan, facts: Facts, stays: Iterable[str] = ()) -> Plan:
    """The plan as it is, or for a next part without what still holds from the last one; `stays`
    are the operation's own steps that are set up once for a run of parts."""
    if not is_next_part(facts):
        return plan
    gone = PERSON_AND_MACHINE
    if not _changes_tools(plan):
        gone = gone.union(SETTING, stays)
    return replace(plan, steps=tuple(step for step in plan.steps if step.id not in gone))


def _changes_tools(plan: Plan) -> bool:
    """Whether the speed is set more than once, or an edge found: then the tool that this part
    begins with isn't the one that the last ended with."""
    if any(step.id in EDGES for step in plan.steps):
        return True
    return sum(_sets_speed(step) for step in plan.steps) > 1


def _sets_speed(step: Step) -> bool:
    return isinstance(step, Note) and (step.setting == "speed" or step.id.endswith("-speed"))

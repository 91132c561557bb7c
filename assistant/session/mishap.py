"""What breaks, jams or is run into: a table of what each word says first and what it shakes.

One function goes by it, whatever the job: what is asked for afterwards follows from what was
shaken, as with every word of trouble. What to do at the machine is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from assistant.jobs.steps import NO_SURFACE, Cut, Ground, Overrun
from assistant.session.belief import Doubt, DoubtKind
from assistant.session.cuts import anything_cut
from assistant.session.row import axes_of
from assistant.session.state import State
from assistant.session.trouble import touch_again
from assistant.session.work import Work
from assistant.spoken import Intent

Words = tuple[str, ...]


@dataclass(frozen=True)
class Row:
    """One word of trouble."""

    what: Words
    """For the record: what, and what happened to it."""
    running: Words
    """Said first in a cut with the spindle on: what the hands have to do at once."""
    still: Words = ("Leave off.",)
    """The same in one without."""
    then: Words = ()
    """Said wherever the job is."""
    kinds: Mapping[str, Words] = field(default_factory=dict)
    """Instead of all, in a cut of that kind."""
    shakes: tuple[Ground, ...] = ()
    """Whatever the step."""
    cut: bool = False
    """What the cut at hand makes, or else the last one, and where its depth was set."""
    fed: bool = False
    """Where it was fed to, too."""


ROWS: Mapping[str, Row] = MappingProxyType(
    {
        "tool_broke": Row(
            what=("tool", "broke"),
            running=("Stop the feed. Spindle off.",),
            then=("The pieces are sharp: pliers, not fingers.",),
            kinds={
                "tapping": (
                    "Leave off. The pieces are sharp: no fingers.",
                    "Back it out by its flutes. No drill into it.",
                )
            },
            shakes=(Ground.TOOL, Ground.PIECE),
        ),
        "tool_stuck": Row(
            what=("tool", "stuck"),
            running=(
                "Stop the feed. Spindle off. Hands off the work.",
                "At rest, turn it back by hand. Then the chips out.",
            ),
            still=("Leave off. Don't force it.", "Back the way it came. Then the chips out."),
            kinds={
                "reaming": (
                    "Stop the feed. Spindle off. Hands off the work.",
                    "Turn it on by hand, the way it cuts, and out. Never back.",
                ),
                "tapping": (
                    "Don't force it. Back a quarter turn, and on.",
                    "Tight both ways? Right out, chips out, oil.",
                    "Count again from where it bites.",
                ),
            },
            shakes=(Ground.HELD,),
            cut=True,
        ),
        "half_nut_missed": Row(
            what=("half nut", "missed"),
            running=("Tool out at once. Spindle off.",),
            then=(
                "Back to the start, clear of the thread.",
                "There the slide back in to where it was.",
                "Turned by hand: does the point follow its groove?",
                "A second groove? Go no further, and ask.",
            ),
            cut=True,
        ),
        "hit_shoulder": Row(
            what=("tool", "ran into something"),
            running=("Stop the feed. Spindle off.",),
            then=("Look at the edge. Does the work still run true?",),
            shakes=(Ground.TOOL, Ground.HELD),
            cut=True,
            fed=True,
        ),
    }
)


def went_wrong(work: Work, intent: Intent) -> None:
    """By its row: what to do at once, what is unsure now; then what the next cut needs is asked
    for. It never carries the job on."""
    row, cut = ROWS[intent.name], _cut(work.state)
    at_it = isinstance(work.state.step, Cut)
    work.record(*row.what)
    work.say(*_at_once(row, work.state))
    for ground in row.shakes:
        if ground is not Ground.PIECE or at_it or anything_cut(work.state):
            work.shake(ground, "", intent.name.replace("_", " "))
    if row.cut and cut is not None:
        _unsure(work, cut, intent.name.replace("_", " "), fed=row.fed)
    work.place()
    if not work.state.doubts:
        _new_tool(work, Ground.TOOL in row.shakes)
    work.instruct()


def _at_once(row: Row, state: State) -> Words:
    """What is said before anything is asked."""
    step = state.step
    if not isinstance(step, Cut):
        return row.then
    usual = (*(row.running if step.spindle == "on" else row.still), *row.then)
    return row.kinds.get(step.kind, usual)


def piece_out(work: Work, intent: Intent) -> None:
    """Every piece of what broke is out of the work."""
    work.find(Ground.PIECE)
    work.place()
    _new_tool(work, True)
    work.instruct()


def _new_tool(work: Work, fitted: bool) -> None:
    """How another tool is set, where that is due; else it is only fitted."""
    if not fitted or Doubt(DoubtKind.TOOL) in work.state.doubts:  # which says it itself
        return
    if isinstance(work.state.step, Cut):
        work.say("Fit a sound one.")
    else:
        work.say(work.state.plan.new_tool)
    touch_again(work)


def _cut(state: State) -> Cut | None:
    """The cut at hand, else the last one that is made."""
    if isinstance(state.step, Cut):
        return state.step
    made = [state.plan.steps[place] for place in state.plan.cuts]
    done = [one for one in made if isinstance(one, Cut) and one.id in state.confirmed]
    return max(done, key=lambda one: state.confirmed[one.id], default=None)


def _unsure(work: Work, cut: Cut, why: str, *, fed: bool) -> None:
    """What a cut makes is between before and after, and so is where its axes stand."""
    for axis in axes_of(cut) if fed else ():
        if work.state.axes[axis].zeroed:
            work.shake(Ground.TURN, axis, why)
    for surface in cut.ends:
        work.shake(Ground.METAL, surface, why)
    if axes_of(cut) or cut.overrun is not Overrun.DEPTH or cut.surface == NO_SURFACE:
        return
    setter = work.state.ahead.setter_of(cut.surface)
    if setter and work.state.axes[setter].zeroed:
        work.shake(Ground.PLACE, setter, why)
    work.shake(Ground.METAL, cut.surface, why)

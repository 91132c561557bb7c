"""Set-up checks that every job at a kind of machine begins with.

The assistant can't see a guard, a clamp or the machine: it asks, and withholds what comes next
until it is answered. It never says that something is safe; the machine's manual, the local rules
and qualified people decide. Common practice, no source.
"""

from __future__ import annotations

from assistant.jobs.steps import Check, Ground, Step

DEFER = "The machine's manual and the shop's rules come first."


def person() -> Check:
    """The operator's own: clothing, eyes, and nobody alone without someone in call."""
    return Check(
        id="check-person",
        title="Clothing and eyes",
        say=("No gloves, rings, loose sleeves or long hair.", "Eyes covered?"),
        cautions=(DEFER,),
    )


def spindle(kind: str) -> Check:
    """Spanners and keys off, gears changed at a stop."""
    words = {
        "horizontal mill": ("Drawbar spanner off?", "Change gears with the spindle stopped."),
        "vertical mill": ("Drawbar spanner off?", "Change speeds as the manual says."),
        "lathe": ("Chuck key out, and in its place?", "Bar out of the back supported and guarded?"),
        "drill press": ("Chuck key out?", "Clamp the work. Never hold it by hand."),
        "press": ("Press steady? Work square on the table, and backed up?",),
    }
    title = "Press" if kind == "press" else "Spindle"
    return Check(id="check-spindle", title=title, say=words[kind])


def arbor() -> Check:
    """The arbor of a horizontal mill."""
    return Check(
        id="check-arbor",
        title="Arbor and overarm",
        say=("Arbor keyed? Overarm support in place before the nut was tightened?",),
    )


def holder() -> Check:
    """An end mill's holder."""
    return Check(
        id="check-holder",
        title="Collet or holder",
        say=("End mill in a collet or holder, never in a drill chuck?",),
    )


def work(holding: str, overhang: bool, what: str = "shaft") -> Check:
    """The work and what holds it; `what` is the work in a word."""
    thing = what.capitalize()
    words = {
        "vice": f"{thing} tight and level in the vice, with soft jaws or parallels?"
        if what == "shaft"
        else f"{thing} tight in the vice, tapped down on parallels?",
        "v-blocks": f"{thing} clamped down hard in both V blocks?",
        "clamps": f"{thing} clamped down, with packing under each clamp?",
        "dividing head": f"{thing} tight in the dividing head, tailstock up, head locked?",
        "block": f"{thing} tight in the block, and the block tight in the vice?",
        "angle plate": f"{thing} clamped to the angle plate, and the plate to the table?",
    }
    say = [words[holding], "Vice, clamps and column clear of the whole travel? Table clear?"]
    if overhang:
        say.insert(1, "It stands out a long way. Support the end.")
    return Check(id="check-work", title="Work holding", say=tuple(say), rests=(Ground.WORK,))


def start_hole() -> Check:
    """A cutter that can't plunge wants a hole to begin in."""
    return Check(
        id="check-start-hole",
        title="Start hole",
        say=(
            "This cutter can't plunge. Drill a start hole first.",
            "Keep it shallower than the floor.",
        ),
    )


def direction(axis: str = "table") -> Check:
    """Feed against the rotation: with backlash in the screw, the other way snatches."""
    return Check(
        id="check-direction",
        title="Conventional, no climbing",
        say=(f"Conventional, no climbing. Which way is that for the {axis}? Check it.",),
    )


TOUCH_CAUTIONS = (
    "Feelers: spindle stopped and isolated, cutter turned backwards by hand.",
    "Turning cutter: only oiled paper stuck on, hands well away.",
)
"""Spoken before the first touch, once a job."""

MEASURE_CAUTIONS = (
    "Spindle off and standing still before you measure.",
    "Chips by brush, never by finger or rag.",
)
"""Spoken before the first measurement, once a job."""


def first_checks(kind: str) -> list[Step]:
    """Those that don't depend on the operation."""
    return [person(), spindle(kind)]


NEW_LATHE_TOOL = "New tool: set it on centre. Then touch again."
NEW_POINT = "New tool: touch its point again."
"""Said where another tool is fitted in the middle of a job."""

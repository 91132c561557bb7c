"""The set-up of a lathe job: how the work is held, checks, and the machine that is wanted."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from assistant.calc.dial import diameter_change
from assistant.calc.lathe_setup import slenderness
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common import checks
from assistant.jobs.jobfile import Head
from assistant.jobs.steps import Check, Ground, Note, Step
from assistant.jobs.to_size.sizing import in_words
from assistant.machine import Axis, Machine
from assistant.units import Quantity, Unit, is_quantity, magnitude, quantity

CROSS = "cross slide"
"""The axis that sets diameters."""
HOLDINGS = ("three-jaw", "four-jaw", "collet", "between centres", "faceplate")

TOUCH_CAUTIONS = ("Hands, brush and rag away from the turning work.",)
"""Spoken before the first touch, once a job."""


@dataclass(frozen=True)
class Holding:
    """How the work is held."""

    how: str
    stick_out: Quantity | None
    """From the jaws to the far end."""
    tailstock: bool
    steady: bool


@dataclass(frozen=True, eq=False)
class LatheJob:
    """What every lathe job has. Compared by identity, see `jobs.planning.read_job`."""

    head: Head
    holding: Holding

    @property
    def unit(self) -> str:
        """`inch` or `mm`."""
        return self.head.unit

    def m(self, size: Quantity) -> Decimal:
        """A size in the job's unit."""
        return magnitude(size, self.unit)

    def q(self, size: Decimal) -> Quantity:
        """A magnitude of the job's unit as a size."""
        return quantity(size, self.unit)

    def told(self, value: object, usual: Quantity) -> Decimal:
        """A size as told, else the usual one, in the job's unit."""
        return self.m(value if is_quantity(value) else usual)


def read_holding(fields: Fields, unit: str) -> Holding:
    """The `[holding]` table."""
    how = fields.choice("how", HOLDINGS, "three-jaw")
    held = Holding(
        how=how,
        stick_out=fields.optional_length("stick_out", unit),
        tailstock=fields.flag("tailstock", how == "between centres"),
        steady=fields.flag("steady", False),
    )
    if how == "between centres" and not held.tailstock:
        fields.fail("tailstock", "False", "work between centres is on the tailstock")
    fields.done()
    return held


def check_stick_out(job: LatheJob, fields: Fields, length: Quantity, what: str) -> None:
    """Raises `BadFile` where `length` from the end face goes on into the jaws."""
    out = job.holding.stick_out
    if job.holding.how != "between centres" and out is not None and out <= length:
        want = f"the {what} would lie in the jaws: wanted more than {job.m(length).normalize():f}"
        fields.fail("holding.stick_out", f"{job.m(out).normalize():f} {job.unit}", want)


def wanted_lathe(machine: Machine, *axes: str) -> None:
    """Raises `ImpossibleInput` on another machine, or on one without a handwheel that is used."""
    if machine.kind != "lathe":
        raise ImpossibleInput("machine", f"a {machine.kind}", "this job wants a lathe")
    for axis in axes:
        if axis not in machine.axes:
            raise ImpossibleInput(
                "machine", machine.name, f"this job uses the {axis}, which its profile lacks"
            )


def hands() -> Check:
    """What hurts most at a lathe. Common practice, no source."""
    return Check(
        id="check-hands",
        title="Hands and chuck",
        say=(
            "No emery wrapped round the work, ever.",
            "Never brake the chuck by hand. Clear?",
        ),
    )


def tool(words: str = "Tool tight, on centre, with little overhang?") -> Check:
    """The tool in its post."""
    return Check(id="check-tool", title="Tool", say=(words,))


def clears() -> Check:
    """Turned by hand before it is switched on."""
    return Check(
        id="check-clear",
        title="Turned by hand",
        say=(
            "Turn the chuck round by hand.",
            "Jaws, slide and carriage clear to the end of the cut?",
        ),
    )


_WORK = {
    "three-jaw": "Work tight in the chuck, with the jaws well over it?",
    "four-jaw": "All four jaws tight, and the work running true?",
    "collet": "Right collet for the size, and tight?",
    "between centres": "Dog tight and its tail clear? Tailstock centre oiled, not too tight?",
    "faceplate": "Bolts tight on the faceplate, and balanced?",
}


def work_check(holding: Holding) -> Check:
    """What holds the work."""
    say = [_WORK[holding.how]]
    if holding.tailstock and holding.how != "between centres":
        say.append("Tailstock up, locked, centre oiled?")
    if holding.steady:
        say.append("Steady set to the work, oiled and locked?")
    return Check(id="check-work", title="Work holding", say=tuple(say), rests=(Ground.WORK,))


def springs(job: LatheJob, diameter: Quantity) -> bool:
    """Whether the work springs away from the tool: more than three diameters out of the chuck,
    whatever carries the other end. Common practice, no source."""
    ratio = _diameters_out(job, job.m(diameter))
    return ratio is not None and ratio > 3


@lru_cache(maxsize=32)
def _diameters_out(job: LatheJob, diameter: Decimal) -> Decimal | None:
    out = job.holding.stick_out
    if out is None:
        return None
    return slenderness(out, job.q(diameter), job.holding.tailstock).ratio


def slender_check(job: LatheJob, diameter: Quantity, most: Decimal | None) -> list[Step]:
    """A caution for long work, by how many diameters it stands out; `most` is the deepest cut on
    one side where the work stands no more; None where that is left to the tool."""
    ratio = _diameters_out(job, job.m(diameter))
    if ratio is None or not springs(job, diameter):
        return []
    said = f"It stands out {ratio:.0f} diameters."
    cuts = () if most is None else (f"Cuts of {a_side(most, job.unit)} at most.",)
    if not job.holding.tailstock and not job.holding.steady:
        advice = ("Bring up the tailstock. Without it the end springs away.", *cuts)
    elif ratio > 10 and not job.holding.steady:
        advice = ("It wants a steady: it springs, and comes out large, midway.", *cuts)
    else:
        advice = ("Light finishing cuts, then spring passes. Measure at the middle too.", *cuts)
    return [Check(id="check-slender", title="Long work springs", say=(said, *advice))]


def a_side(cut: Decimal, unit: str) -> str:
    """A depth of cut on one side, as it is said."""
    return f"{in_words(cut, unit)} a side"


def first_checks(
    job: LatheJob, machine: Machine, diameter: Quantity, *extra: Step, tool_words: str = "",
    most: Decimal | None = None,
) -> list[Step]:  # fmt: skip
    """Every check before the spindle is started; `most` as in `slender_check`."""
    return [
        *checks.first_checks(machine.kind),
        hands(),
        work_check(job.holding),
        *slender_check(job, diameter, most),
        tool(tool_words) if tool_words else tool(),
        *extra,
        clears(),
        *(
            [Note(id="machine-notes", title="About this machine", say=machine.notes)]
            if machine.notes
            else []
        ),
    ]


def dial_check(machine: Machine) -> Check:
    """Which kind the cross slide's dial is: taken for the other, every cut is twice or half."""
    axis = machine.axis(CROSS)
    say = (
        ("The cross slide dial counts the diameter.", "Ten on the dial takes ten off it. So?")
        if axis.diameter_reading
        else (
            "The cross slide dial counts the tool.",
            "Ten on it takes twenty off. So?",
        )
    )
    return Check(id="check-dial", title="What the cross slide dial counts", say=say)


def dial_share(axis: Axis) -> Decimal:
    """What the cross slide's dial counts for a change of one in the diameter."""
    one = quantity(1, "inch")
    reads = "diameter" if axis.diameter_reading else "radius"
    return 1 / Decimal(diameter_change(one, reads).magnitude)  # type: ignore[arg-type]


def places(unit: str) -> int:
    """Decimal places in which measured sizes are shown."""
    return Unit(unit).places


def finish_note(what: str = "Break the edges. Spindle off to handle the work.") -> Note:
    """After the last size."""
    return Note(id="break-edges", title="Break the edges", spindle="off", say=(what,))

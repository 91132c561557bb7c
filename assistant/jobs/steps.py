"""The typed steps of a plan: what every operation is made of.

An operation works out a `Plan` from its job file, the machine profile and the facts told so far.
The session walks it without knowing which operation it is. Steps keep their `id` when a plan is
worked out again, so the place in the job is kept.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType

from assistant.jobs.ground import IN_ONE_GO as IN_ONE_GO
from assistant.jobs.ground import NO_SURFACE as NO_SURFACE
from assistant.jobs.ground import Ground as Ground
from assistant.jobs.ground import OneOfMany as OneOfMany
from assistant.jobs.ground import Overrun as Overrun
from assistant.jobs.ground import SurfaceKey as SurfaceKey
from assistant.spoken import Figure
from assistant.spoken.limits import Limits
from assistant.units import Quantity, is_quantity, quantity, unit_name

FactValue = Quantity | str
Facts = Mapping[str, FactValue]
"""What the operator told so far: `shaft.diameter`, `paper.side`, `pass.2`, `size.1` ..."""

NO_FACTS: Facts = MappingProxyType({})


Answer = Figure | str
"""What an operation's own question is answered with."""

FactKey = tuple[Decimal, str] | None
"""A told quantity as something cheap to hash: pint converts to base units to hash one."""


def fact_key(facts: Facts, name: str) -> FactKey:
    """The quantity told under `name`, as a key; None where none was."""
    value = facts.get(name)
    return (Decimal(value.magnitude), unit_name(value)) if is_quantity(value) else None


def from_key(key: FactKey) -> Quantity | None:
    """The quantity of a key."""
    return None if key is None else quantity(*key)


@dataclass(frozen=True, kw_only=True)
class Step:
    """What every step has. Sentences are each under about four seconds when spoken."""

    id: str
    """Unique in its plan and stable when the plan is worked out again: `rough-2-set`."""
    title: str
    """A few words for the step sheet and the screen."""
    say: tuple[str, ...] = ()
    """Spoken before the figure."""
    again: tuple[str, ...] = ()
    """Spoken instead of `say` where that was spoken before: what comes often is short."""
    after: tuple[str, ...] = ()
    """Spoken after the figure: `Lock it.`"""
    cautions: tuple[str, ...] = ()
    """Spoken first, once a job for each wording; also printed on the sheet."""
    figure: Figure | None = None
    """The number of the step where it does not depend on where the dial is; a Move has none."""
    answers: tuple[tuple[str, Answer], ...] = ()
    """The operation's own questions that this step answers: intent -> figure or sentence."""
    rests: tuple[Ground, ...] = ()
    """Done, it holds until one of these is shaken; then it is due again."""
    anew: tuple[Ground, ...] = ()
    """What doing it makes anew: another tool fitted, the work turned over."""
    one_of_many: OneOfMany | None = None
    """What is made here, where it can be left out by itself; None where it can't."""
    spindle: str = ""
    """`on` or `off` where the step needs it so; asked for where it isn't (`spindle_states`)."""
    spindle_after: str = ""
    """How the step leaves it, where that is another."""
    spindle_words: str = ""
    """How the step asks for it, whatever the state; empty for the usual words, where needed."""

    @cached_property
    def said_after(self) -> dict[str, Step]:
        """The same step with such words before its own, as far as it was asked for: it comes with
        them in one plan after another."""
        return {}


@dataclass(frozen=True, kw_only=True)
class Check(Step):
    """Something to be confirmed, or consciously skipped, before the job goes on."""


@dataclass(frozen=True, kw_only=True)
class Touch(Step):
    """Touch the cutter to a surface, tell the paper, set the dial to zero."""

    axis: str
    """The axis whose dial is zeroed there: `saddle`, `knee` ..."""
    toward: int
    """+1 or -1: the way the axis travels when it touches."""
    surface: str
    """`the side of the shaft`, `the top of the shaft`."""
    found: tuple[str, ...] = ()
    """Spoken once it touches: `That's your side.`"""
    paper_fact: str = ""
    """Fact that takes the thickness of paper or feeler; empty where none is asked."""
    paper_expected: Quantity | None = None
    keeps: str = ""
    """Fact that takes where the axis stands, instead of a zero: the second of two touches, read
    off the dial with its whole turns."""
    near: Quantity | None = None
    """About where it stands then, counted from its zero."""
    stays: bool = True
    """What is touched is still there once it has been cut: the top beside a slot, the crest of a
    thread; not the bar that is turned down."""
    at_the_cut: bool = False
    """Done again, it is done where the next cut is: over that hole, not where the first was."""
    by: tuple[Ground, ...] = (Ground.WORK, Ground.TOOL)
    """What the zero rests on besides its dial; an edge that is found for the spindle doesn't rest
    on the tool that is in it."""


@dataclass(frozen=True, kw_only=True)
class Move(Step):
    """Move one axis to a position counted from its zero."""

    axis: str
    target: Quantity | None
    """Travel from the axis' zero, positive the axis' positive way, already set to the dial's
    graduation; None for a free move (`run the table out till the cutter's off the end`)."""
    approach: int = 1
    """+1 or -1: the way the last travel must go, so that the backlash is taken up."""
    lock: bool = True
    verify: bool = False
    """Lock, read again and tell: an axis that must not have moved."""
    zero_after: bool = False
    """The dial is zeroed when it is set (after coming up the paper's thickness)."""
    done_words: str = "ready_set"
    """Intent that ends it: `ready_set`, or `clear` for a free move."""
    terms_of: Figure | None = None
    """The exact target with its derivation, for `why`."""
    depth_after: Quantity | None = None
    """Cumulative depth once it is cut, for the step sheet and the depth bar."""
    surface: SurfaceKey = NO_SURFACE
    """The surface that the cut after it makes deeper by this axis."""
    deeper: int = 0
    """+1 or -1: the way of the axis that goes deeper into it, whichever way it is set from; 0
    where the move sets no depth."""
    limit: Quantity | None = None
    """The furthest position allowed on this axis (finished depth); beyond it is asked back."""
    leaves_inside: Quantity | None = None
    """How far under its limit the size will be after this cut: `four inside`."""
    size_places: int = 3
    """Decimal places in which that size's limits hold."""
    optional: bool = False
    """May be skipped: a correction that is offered."""
    pass_number: int = 0
    """The pass that this move sets, from 1; 0 where it sets none."""
    pass_fact: str = ""
    """The fact by which the operator takes another depth of cut for it."""
    pass_limit: Quantity | None = None
    """The most that the cutter may take in this pass, a finishing one too: as tool, machine and
    set-up have it."""


@dataclass(frozen=True, kw_only=True)
class Cut(Step):
    """A pass with the cutter in the work; ends with `that's through`."""

    spindle: str = "on"
    number: int
    """Which pass, from 1."""
    of: int
    """Passes in all."""
    depth: Quantity
    """Cumulative depth of this pass."""
    taken: Quantity
    """What this pass takes."""
    surface: SurfaceKey = NO_SURFACE
    """The surface that it makes deeper; none for a cut to no common depth."""
    remaining: Quantity | None = None
    """What is left to full depth after it; None for a cut that goes to no depth: a spot, a trial
    cut, a skim till it is clean."""
    left_on: str = ""
    """What `remaining` is counted on, where the size wanted is a diameter: `on the radius`."""
    kind: str = "roughing"
    """`witness`, `roughing`, `finishing`, `spring`, or one of `IN_ONE_GO`."""
    feed_axis: str = "table"
    feed_target: Quantity | None = None
    """Where the feed has to stop, counted from the feed axis' zero; None where it runs out."""
    feed_approach: int = 1
    """The way the feed goes."""
    limit: Quantity | None = None
    """Where the feed itself goes to depth (a plunge, a drill, parting): the furthest position."""
    pass_limit: Quantity | None = None
    """And the most that it may take then."""
    feed_returns: bool = False
    """The feed axis is let back to its zero when the cut is finished: a quill."""
    half: bool = False
    """The first of two that are measured together, and the other still to come at this depth."""
    overrun: Overrun = Overrun.DEPTH
    """What can be gone past in it."""
    ends: tuple[SurfaceKey, ...] = ()
    """Other surfaces that its feed makes at its end: a shoulder."""
    leaves: Quantity | None = None
    """The size that its surface should measure after it."""
    made: str = "the floor"
    """What it makes, in words, for coming to it again: `the floor`, `what was turned`."""
    traced: bool = False
    """Every pass goes along one groove in step with the spindle: a thread. One that was begun in
    another hold doesn't come to it by its depth."""
    past_fact: str = ""
    """The fact that is told where it was gone past: the plan then measures what it made."""
    alone: bool = False
    """It can't be measured yet: there is no other cut beside it, to measure what is between."""

    @property
    def left(self) -> Quantity:
        """What remains, where it does; nothing for a cut that goes to no full depth."""
        nothing: Quantity = self.taken * 0
        return nothing if self.remaining is None else self.remaining


@dataclass(frozen=True, kw_only=True)
class Measure(Step):
    """Measure something and tell it."""

    spindle: str = "off"
    fact: str
    """The fact that takes the value: `size.1`, `shaft.diameter`; walls take `.left`, `.right`."""
    gauge: str
    """`micrometer`, `caliper`, `by eye` ..."""
    kind: str = "size"
    """`size`: one value; `walls`: left and right; `even`: yes or no by eye; `gauge`: yes or
    no by a gauge, told as `yes` or `no`."""
    nominal: Quantity | None = None
    low: Quantity | None = None
    high: Quantity | None = None
    """Limits of the size, where it has any."""
    band_low: Quantity | None = None
    band_high: Quantity | None = None
    """Outside this it is a slip of the tongue or of the ear: asked back."""
    at_axis: str = ""
    """Axis whose position is kept with the value (`size.1.at`)."""
    resolution: Quantity | None = None
    """The finest the gauge reads."""
    sides: tuple[str, str] = ("front wall", "back wall")
    """What is told first and second where `kind` is `walls`: told as left and right as well."""
    sum_low: Quantity | None = None
    sum_high: Quantity | None = None
    """What both values of `walls` together can be: outside this one of them is wrong."""
    grows: bool = False
    """Cutting makes the size larger (a slot, a bore, a depth): the low limit is met first."""
    too_far: str = "too deep"
    """What it means to be past the last limit, in the verdict: `too deep`, `too wide`."""
    surface: SurfaceKey = NO_SURFACE
    """The surface that it tells the depth of: size = `at_none` + `slope` x depth."""
    number: int = 0
    """Which of that surface's measurements it is, from 1."""
    instead: SurfaceKey = NO_SURFACE
    """The surface that it tells the depth of while that is in doubt, though it is measured for
    something else: the small end of a taper."""
    at_none: Quantity | None = None
    slope: Decimal = Decimal(0)
    optional: bool = False

    @property
    def limits(self) -> Limits:
        """Its limits, in the places in which its number is said and shown."""
        places = self.figure.places if self.figure is not None else 3
        return Limits(self.low, self.high, places, self.grows, self.too_far)


@dataclass(frozen=True, kw_only=True)
class Index(Step):
    """Turn the crank of a dividing head, or the wheel of a rotary table, to the next division."""

    number: int
    """Which division, from 1."""
    of: int
    turns: int
    """Whole turns of the crank."""
    holes: int = 0
    """Holes beyond them, not counting the one the pin is in."""
    circle: int = 0
    """On which hole circle; 0 where whole turns do."""
    done_words: str = "ready_set"


@dataclass(frozen=True, kw_only=True)
class Note(Step):
    """Something to set or know: a speed, a feed, deburr, try the key."""

    setting: str = ""
    """`speed` or `feed` where the operator may answer with a choice of their own."""
    counts_from: str = ""
    """The axis from whose touch it is set: a depth stop. Touched anew, it is set anew."""
    done_words: str = "ready_set"

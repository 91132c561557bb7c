"""What a thread job file says: the thread, how it is fed in, how it is checked."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction
from functools import cached_property, lru_cache

from assistant.calc.exact import shown, to_step
from assistant.calc.metric_limits import MetricLimits
from assistant.calc.thread_dial import DialRule, dial_rule, pitch_as_fraction
from assistant.calc.thread_infeed import compound_infeed
from assistant.calc.thread_series import Thread, find_thread
from assistant.calc.thread_sizes import thread_limits
from assistant.calc.thread_wires import best_wire, size_over_wires
from assistant.calc.threads import DEPTH_BASES, basic_thread, single_depth
from assistant.calc.unified_limits import UnifiedLimits
from assistant.errors import BadInput, ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.jobfile import Head
from assistant.jobs.lathe.setup import LatheJob, check_stick_out, read_holding
from assistant.jobs.lathe.slender import GRAIN, deepest, help_for
from assistant.jobs.lathe.speed import Turning, a_turn, read_turning
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.units import Quantity, magnitude, quantity

NOT_LEFT_HAND = (
    "not planned here: it is cut with the lead screw reversed, from a groove at the shoulder "
    "toward the tailstock. Only right-hand threads"
)
NOT_SEVERAL_STARTS = (
    "not planned here: the work has to be indexed between the starts. Only single-start threads"
)
USUAL: dict[str, dict[str, Decimal]] = {
    "inch": {
        "first_cut": Decimal("0.010"),
        "least_cut": Decimal("0.003"),
        "scratch": Decimal("0.002"),
        "finish": Decimal("0.003"),
        "step": Decimal("0.001"),
    },
    "mm": {
        "first_cut": Decimal("0.25"),
        "least_cut": Decimal("0.07"),
        "scratch": Decimal("0.04"),
        "finish": Decimal("0.08"),
        "step": Decimal("0.02"),
    },
}
"""Where a job file is silent, square to the axis: common practice, no source. `finish` is left
for the cuts after the first measurement, `step` is a cut between two tries of the gauge."""

BASIS = {"external": "17/24 H", "internal": "5/8 H"}
"""The depth that a job means where it names none; what is cut to is the pitch diameter."""

ENDS = ("shoulder", "open")
"""What lies past the end of the thread. Where a job file is silent it is taken for a shoulder, and
the carriage kept slower."""

Limits = UnifiedLimits | MetricLimits


@dataclass(frozen=True, eq=False)
class ThreadJob(LatheJob):
    """One single-point thread. Lengths in the job's unit, cuts square to the axis."""

    thread: Thread
    inner: bool
    thread_class: str
    limits: Limits
    length: Quantity
    to_metal: bool
    """A shoulder, a floor or the jaws lie past the end, near enough to be run into."""
    basis: str
    by_compound: bool
    set_over: Quantity
    """Of the compound, from square to the axis."""
    first_cut: Decimal
    least_cut: Decimal
    scratch: Decimal
    finish: Decimal
    step: Decimal
    spring_passes: int
    by_wires: bool
    wire: Quantity
    pick_up: bool
    turning: Turning

    @property
    def axis_name(self) -> str:
        """What sets the depth."""
        return "compound" if self.by_compound else "cross slide"

    @cached_property
    def depth(self) -> Decimal:
        """Single depth on the basis named, square to the axis, from a full blank."""
        return self.m(single_depth(self.thread.pitch, self.basis))

    @cached_property
    def blank(self) -> tuple[Quantity, Quantity, Quantity]:
        """Basic, least and most of the diameter that the thread is cut into."""
        basic = basic_thread(self.thread.major, self.thread.pitch)
        if self.inner:
            least = self.limits.minor_min
            assert least is not None
            return basic.minor_int, least, self.limits.minor_max
        most = self.limits.major_max
        assert most is not None
        return self.thread.major, self.limits.major_min, most

    @cached_property
    def pitch_dia(self) -> Decimal:
        """Basic pitch diameter."""
        return self.m(basic_thread(self.thread.major, self.thread.pitch).pitch_dia)

    @cached_property
    def aim_depth(self) -> Decimal:
        """From a full blank to the middle of the class, square to the axis."""
        middle = (self.m(self.limits.pitch_min) + self.m(self.limits.pitch_max)) / 2
        return self.depth + abs(middle - self.pitch_dia) / 2

    @cached_property
    def compound_travel(self) -> Decimal:
        """Of the compound for one square to the axis."""
        return self.m(compound_infeed(quantity(1, self.unit), self.set_over).travel)

    def over_wires(self, pitch_dia: Quantity | Decimal, wire: Quantity) -> Decimal:
        """The size over wires for a pitch diameter."""
        size = self.q(pitch_dia) if isinstance(pitch_dia, Decimal) else pitch_dia
        return self.m(size_over_wires(size, self.thread.pitch, wire))


def read(head: Head, fields: Fields) -> ThreadJob:
    """The job from its file; every error is a `BadFile` that names file, key and value."""
    unit = head.unit
    table = fields.table_at("thread")
    inner = table.choice("side", ("external", "internal")) == "internal"
    if table.choice("hand", ("right", "left"), "right") == "left":
        table.fail("hand", "'left'", NOT_LEFT_HAND)
    if table.whole("starts", 1, 12, 1) > 1:
        table.fail("starts", "more than one", NOT_SEVERAL_STARTS)
    thread, name, limits = _thread(table, inner)
    feed = fields.table_at("infeed", {})

    def cut(key: str) -> Decimal:
        return magnitude(feed.length(key, unit, quantity(USUAL[unit][key], unit)), unit)

    by_compound = feed.choice("method", ("compound", "straight"), "compound") == "compound"
    check = fields.table_at("check", {})
    by_wires = check.choice("by", ("wires", "gauge"), "gauge" if inner else "wires") == "wires"
    wire = check.optional_length("wire", unit)
    tool = fields.table_at("tool", {})
    turning = read_turning(tool, head.material, unit, thread.major.to(unit), share=(1, 4))
    turning = replace(turning, lead=thread.pitch.to(unit))
    job = ThreadJob(
        head=head,
        holding=read_holding(fields.table_at("holding", {}), unit),
        thread=thread,
        inner=inner,
        thread_class=name,
        limits=limits,
        length=table.length("length", unit),
        to_metal=table.choice("end", ENDS, ENDS[0]) == ENDS[0],
        basis=table.choice("basis", tuple(DEPTH_BASES), BASIS["internal" if inner else "external"]),
        by_compound=by_compound,
        set_over=quantity(
            feed.number("set_over", 0, 30, Decimal("29.5")) if by_compound else 0, "degree"
        ),
        first_cut=cut("first_cut"),
        least_cut=cut("least_cut"),
        scratch=cut("scratch"),
        finish=cut("finish"),
        step=cut("step"),
        spring_passes=feed.whole("spring_passes", 0, 6, 1),
        by_wires=by_wires,
        wire=wire if wire is not None else best_wire(thread.pitch).to(unit),
        pick_up=fields.choice("start", ("new", "pick up"), "new") == "pick up",
        turning=turning,
    )
    for part in (table, feed, check, tool):
        part.done()
    _check(job, fields, feed, check)
    return job


def _thread(table: Fields, inner: bool) -> tuple[Thread, str, Limits]:
    text = table.text("name", "wanted a thread such as 3/4-10 or M20x1.5")
    try:
        thread = find_thread(text)
    except BadInput as bad:
        table.refuse("name", text, bad.want)
    usual = ("6H" if inner else "6g") if thread.metric else ("2B" if inner else "2A")
    name = table.text("class", "wanted a class such as 2A or 6g", usual)
    if name[-1:] not in (("B", "G", "H") if inner else ("A", "e", "f", "g", "h")):
        side = "internal: wanted 2B, 6H or such" if inner else "external: wanted 2A, 6g or such"
        table.refuse("class", name, f"the thread is {side}")
    try:
        return thread, name, thread_limits(text, name)
    except BadInput as bad:
        table.refuse("class", name, bad.want)


def _check(job: ThreadJob, fields: Fields, feed: Fields, check: Fields) -> None:
    """What can't go together, found before anything is planned."""
    if job.inner and job.by_wires:
        check.fail("by", "'wires'", "wires measure external threads: an internal one takes a gauge")
    if job.pick_up and not job.by_wires:
        fields.fail("start", "'pick up'", "what is left has to be measured: wanted check by wires")
    if job.pick_up and not job.by_compound:
        fields.fail(
            "start", "'pick up'", "both slides find the groove: wanted the compound's infeed"
        )
    check_stick_out(job, fields, job.length, "thread")
    if job.least_cut > job.first_cut:
        feed.fail("least_cut", str(job.least_cut), f"more than the first cut, {job.first_cut}")
    if job.depth <= job.scratch + job.finish + job.least_cut:
        feed.fail("finish", str(job.finish), f"nothing left to rough: depth {job.depth:.4f}")
    if job.by_wires:
        try:
            job.over_wires(job.pitch_dia, job.wire)
        except ImpossibleInput as bad:
            check.fail("wire", str(bad.value), bad.want)


FULL_FORM = Decimal("1.1547")
"""How wide a 60 degree groove is for one deep: twice the tangent of 30 degrees."""


@lru_cache(maxsize=16)
def on_slender_work(job: ThreadJob) -> ThreadJob:
    """The job with first cuts as light as work that stands out far wants them; kept, since jobs are
    compared by identity.

    A cut into a groove takes about its width times what it goes deeper, a first one half of its
    own width and depth. Raises `ImpossibleInput` where the work would spring too far at the least
    cut at full depth.
    """
    if job.inner:
        return job
    root = job.m(job.thread.major) - 2 * job.depth
    most = deepest(job, job.turning, ((job.m(job.length), root),), job.m(job.thread.major))
    if most is None:
        return job
    chip = most * job.m(a_turn(job.turning.feed))
    out = job.holding.stick_out
    if out is not None and chip < FULL_FORM * job.depth * job.least_cut:
        raise ImpossibleInput(
            "holding.stick_out", shown(out),
            f"springs too far at the lightest cut of the thread: {help_for(job)}",
        )  # fmt: skip
    first = min(job.first_cut, to_step((2 * chip / FULL_FORM).sqrt(), GRAIN[job.unit], ROUND_FLOOR))
    return job if first == job.first_cut else replace(job, first_cut=max(first, job.least_cut))


def lead_screw_rule(job: ThreadJob, machine: Machine) -> DialRule:
    """Where the half nut may be closed; raises `ImpossibleInput` where there is no lead screw."""
    return _rule(job, machine)


@lru_cache(maxsize=16)
def _rule(job: ThreadJob, machine: Machine) -> DialRule:
    if machine.lead_screw is None:
        raise ImpossibleInput("machine", machine.name, "its profile names no lead_screw")
    tpi = job.thread.tpi
    pitch = pitch_as_fraction(
        None if tpi is None else Fraction(tpi), job.thread.pitch if tpi is None else None, "thread"
    )
    screw = pitch_as_fraction(None, machine.lead_screw, "lead screw")
    # without a thread dial only a nut that drops in right everywhere may be opened
    gear, marks = machine.thread_dial or (1, 1)
    return dial_rule(pitch, screw, gear, marks)

"""Slots, steps and faces on a block that lies along the table: what they have in common.

Lengths across the block are counted from the side that is touched, inwards: the way in which the
saddle then goes on. Metal still to be cut always lies ahead of it, so every row is milled the
same, conventional way.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.exact import at_least
from assistant.calc.milling import face_rows
from assistant.errors import ImpossibleInput
from assistant.fields import Fields
from assistant.jobs.common.next_part import before
from assistant.jobs.jobfile import Head
from assistant.jobs.milling import mill
from assistant.jobs.milling.centring import SideTouch
from assistant.jobs.milling.mill import Milling
from assistant.jobs.milling.strokes import Row, RowsStroke, ThroughStroke, conventional_way
from assistant.jobs.milling.touching import touch_top
from assistant.jobs.steps import Facts, Move, Step
from assistant.jobs.to_size.depth_work import DepthWork
from assistant.jobs.to_size.infeed import IS_IT_EVEN
from assistant.jobs.to_size.sizing import Sizing, Toleranced
from assistant.machine import Axis, Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, magnitude, quantity

ACROSS = "saddle"
DRAWING = "the drawing"
MACHINES = ("horizontal mill", "vertical mill")
KINDS = ("end mill", "slotting cutter", "face mill")
HOLDINGS = ("vice", "clamps", "angle plate")
COVERED = "Saddle: cutter over the middle, so that it covers the face."
"""Before a face that is cut in one row."""
OVERLAP = Decimal("0.95")
"""Of its width, the most that a cutter goes over from row to row: common practice, no source."""
MOST_ROWS = 60
"""More rows at each depth are a slip in the cutter's size, not a plan."""


@dataclass(frozen=True, eq=False)
class BlockJob(Milling):
    """A cut along a block."""

    side: str
    """The side that is touched: `back` (toward the column) or `front`."""
    step_over: Quantity
    """The most that a row beside another may take."""
    wall: Decimal
    """Stock left on a wall for the finishing cuts."""
    fixed_jaw: str
    """`back` or `front`: the side of the vice that doesn't move, for the next part."""


def common(head: Head, fields: Fields, kinds: tuple[str, ...] = KINDS) -> dict[str, object]:
    """The fields of `BlockJob` from a job file."""
    base = mill.common(head, fields, kinds, HOLDINGS)
    cutter = base["cutter"]
    assert isinstance(cutter, mill.MillCutter)
    unit = head.unit
    usual = quantity(mill.DEFAULTS[unit]["wall"], unit)
    step_over = fields.length("step_over", unit, cutter.width * Decimal("0.6"))
    if step_over > cutter.width:
        fields.fail("step_over", str(step_over), f"over {cutter.width} would leave ribs")
    return {
        **base,
        "side": fields.choice("touch_side", ("back", "front"), "back"),
        "step_over": step_over,
        "wall": magnitude(fields.length("wall_stock", unit, usual), unit),
        "fixed_jaw": fields.choice("fixed_jaw", ("back", "front"), "back"),
    }


@dataclass(frozen=True)
class BlockWork:
    """The job on one machine with what was told."""

    job: BlockJob
    machine: Machine
    facts: Facts

    @property
    def way(self) -> int:
        """Travel of the saddle from the touched side over the block: in from the back."""
        return 1 if self.job.side == "back" else -1

    @property
    def ahead(self) -> str:
        """The side toward which the rows go."""
        return "front" if self.job.side == "back" else "back"

    @cached_property
    def cutter(self) -> Decimal:
        """What the cutter cuts, as measured."""
        return mill.cutter_size(self.job, self.facts)

    def floor_at(self, what: str, depth: Toleranced, look: str = IS_IT_EVEN) -> DepthWork:
        """The floor of a cut that far below the top, by the drawing."""
        job = self.job
        return DepthWork(
            unit=job.unit,
            machine=self.machine,
            facts=self.facts,
            axis_name=job.depth_axis,
            sizing=Sizing(
                what, "depth gauge", depth.low, depth.high, Decimal(0), job.unit,
                places=mill.size_places(job.unit), source=DRAWING, how="Burrs off the top first.",
            ),
            aim=depth.aim(job.aim_inside),
            limit=job.m(job.cutter.max_pass),
            witness=job.witness,
            finish=job.finish,
            gives=mill.GIVES,
            terms=(Term("depth on the drawing", job.q(depth.nominal)),),
            look=look,
        )  # fmt: skip

    @property
    def step_over(self) -> Decimal:
        """The most that a row beside another takes: so much less than the cutter, as measured, that
        no fin is left between two that are set by hand."""
        return min(self.job.m(self.job.step_over), self.cutter * OVERLAP)

    @cached_property
    def side(self) -> SideTouch:
        """The touched side."""
        return SideTouch(
            self.machine.axis(ACROSS), self.way, self.job.unit, self.facts, self.cutter / 2,
            f"the {self.job.side} of the block",
        )  # fmt: skip

    @cached_property
    def depth_axis(self) -> Axis:
        """The axis that sets the depth."""
        return self.machine.axis(self.job.depth_axis)

    @cached_property
    def feed_axis(self) -> Axis:
        """The axis that feeds."""
        return self.machine.axis(self.machine.feed_axis)

    @property
    def on_arbor(self) -> bool:
        """A horizontal mill: the arbor's rotation says which way to feed."""
        return self.machine.kind == "horizontal mill"

    def stroke(self, uncut: str = "", *, sideways: bool = False) -> ThroughStroke:
        """Right through, with the metal to be cut on one side; in a full slot either way is half
        conventional, half climbing, so it goes the way of the rows after it."""
        way = 0 if self.on_arbor else conventional_way(uncut or self.ahead)
        return ThroughStroke(
            self.depth_axis, self.feed_axis, way, "" if self.on_arbor else uncut, sideways=sideways
        )

    def rows(self, centres: tuple[Decimal, ...], full_first: bool) -> RowsStroke:
        """Rows at these places of the cutter's centre, from the touched side."""
        places = mill.places(self.job.unit)
        rows = tuple(
            Row(
                self.side.position(at),
                self.side.figure(
                    at, Term("side to the row", self.job.q(at)), what="row", places=places
                ),
            )
            for at in centres
        )
        return RowsStroke(
            rows, ACROSS, self.way,
            self.stroke("" if full_first else self.ahead), self.stroke(self.ahead),
        )  # fmt: skip

    def check_rows(self, count: int) -> None:
        """Raises `ImpossibleInput` where a cut would take more rows than anybody mills."""
        if count > MOST_ROWS:
            raise ImpossibleInput(
                "cutter", f"{self.cutter.normalize():f} {self.job.unit}",
                f"would take {count} rows side by side: take a wider cutter",
            )  # fmt: skip

    def face_centres(self, width: Decimal) -> tuple[Decimal, ...]:
        """Places of the cutter's centre for rows that cover `width` from the touched side."""
        job = self.job
        self.check_rows(at_least(width, self.step_over))
        found = face_rows(job.q(width), job.q(self.cutter), job.q(self.step_over))
        return tuple(job.m(at) for at in found)

    # -- steps --------------------------------------------------------------------------------

    def setup(self, *extra: Step) -> list[Step]:
        """Checks, cutter, speed and feed."""
        return mill.setup(
            self.job, self.machine, self.facts, what="work", extra=extra, direction=self.on_arbor
        )

    @property
    def side_stays(self) -> bool:
        """Whether the touch of the part before still holds: the side lies at the jaw that stays."""
        kept = before(self.facts, ACROSS) is not None
        return kept and self.job.holding == "vice" and self.job.side == self.job.fixed_jaw

    def touch_side(self) -> list[Step]:
        """The side that places across the block are counted from."""
        if self.side_stays:
            return []
        return [self.side.touch("Cutter beside the block, below its top.")]

    def to_first(self, at: Decimal, *terms: Term, title: str = "To the first row") -> Move:
        """From the side to the first cut, over the block."""
        figure = self.side.figure(at, *terms, what="side to the cut",
                                  places=mill.places(self.job.unit))  # fmt: skip
        down = f"{self.job.depth_axis.capitalize()} {self.depth_axis.way(-1)}"
        stay = () if self.side_stays else ("Don't back it off.",)
        return self.side.move(
            "to-first", title, figure, at, *stay, f"{down}, clear of the top. Then:"
        )

    def touch_top(
        self, *lead: str, off_the_end: bool = True, stays: bool = True, name: str = ""
    ) -> list[Step]:
        """The top that depths are counted from, and off the end before the depth is set; `lead` is
        said first. One of several in a job has a `name`."""
        axis, up = self.job.depth_axis, self.depth_axis.way(1)
        touched = touch_top(
            self.machine, axis, 1, self.job.paper, self.facts,
            surface="the top of the work",
            stays=stays,
            name=name,
            say=(*lead, f"Now touch the top: {axis} {up}, gently."),
        )  # fmt: skip
        if not off_the_end:
            return touched
        way = self._begins(self.ahead) or "out"
        say = f"Run the table {way} till the cutter's off the end."
        run = f"{name}-table-out" if name else "table-out"
        return [*touched, self._run(run, f"Table out before the {axis} comes {up}", say)]

    def _begins(self, uncut: str) -> str:
        """The way of the table to where a cut begins: a cut that has to go one way can't begin off
        the other end. Nothing where the arbor's rotation says the way."""
        return "" if self.on_arbor else self.feed_axis.way(-conventional_way(uncut))

    def _run(self, id_: str, title: str, say: str) -> Move:
        """Along the table, not counted."""
        return Move(
            id=id_, title=title, say=(say,), axis=self.feed_axis.name, target=None,
            done_words="clear",
        )  # fmt: skip

    def off_the_end(self, name: str, uncut: str) -> Move:
        """From a wall that was touched to the end where its cuts begin."""
        say = f"Run the table {self._begins(uncut) or 'out'} till the cutter's off the end."
        return self._run(f"{name}-table-out", "Table out before the cut is set", say)

    def other_end(self, name: str, uncut: str) -> list[Step]:
        """Through to the end where a wall's cuts begin, in the cut made before it with its way of
        the table the other one; `name` is the wall's, `uncut` the side on which its metal lies."""
        way = self._begins(uncut)
        if not way:
            return []
        say = f"Run the table {way}, till the cutter's off the other end."
        run = self._run(f"{name}-other-end", "Through to the other end", say)
        return [replace(run, spindle="off", spindle_words="Spindle off.")]

    def check_reach(self, depth: Decimal) -> None:
        """Raises `ImpossibleInput` where cutter and machine don't go together, or where the
        cutter can't get so deep."""
        job = self.job
        end = job.cutter.kind in ("end mill", "face mill")
        wanted = "vertical mill" if end else "horizontal mill"
        mill.wanted_machine(self.machine, (wanted,), f"a {job.cutter.kind}")
        reach = job.cutter.reach
        if not end and job.cutter.body is not None:
            reach = (job.cutter.diameter - job.cutter.body) / 2
        if reach is not None and job.m(reach) <= depth:
            raise ImpossibleInput(
                "cutter reach", f"{job.m(reach):.4f} {job.unit}",
                f"the cut is {depth:.4f} deep: wanted a longer cutter, or a smaller collar",
            )  # fmt: skip

    def spindle_results(self) -> tuple[tuple[str, Figure], ...]:
        """Speed and feed."""
        setting = mill.speed_of(self.job, self.machine, self.facts)
        return (("speed", setting.speed), ("feed", setting.feed))

    @property
    def which_feed(self) -> str:
        """Which way the table is fed, in words."""
        return self._fed(self.ahead)

    def _fed(self, uncut: str) -> str:
        if self.on_arbor:
            return "Against the rotation of the cutter. No climbing."
        way = self.feed_axis.way(conventional_way(uncut))
        return f"{self.feed_axis.name.capitalize()} {way}: conventional, no climbing."

    def fed_by(self, uncut: str, steps: list[Step]) -> list[Step]:
        """The steps of a wall, each answering which way is fed for the side on which its metal
        lies: what is right for the rows may be climbing there."""
        answer = ("which_feed", self._fed(uncut))
        return [replace(step, answers=(*step.answers, answer)) for step in steps]

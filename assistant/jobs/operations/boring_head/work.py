"""Boring to size with a boring head: its own dial sets the cut, each from the last measured bore.

The head's dial reads what comes off the diameter, or what the tool moves: the job says which. No
handwheel of the machine sets the size; the quill or the knee only feeds.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from assistant.calc.cutting import PassKind
from assistant.calc.dial import Toward, settle
from assistant.calc.turning import TurnPass, to_diameter
from assistant.jobs.common import checks, spindle
from assistant.jobs.common.facts import ToldSize, told_sizes
from assistant.jobs.common.spindle import SpeedAndFeed, speed_and_feed
from assistant.jobs.milling import mill
from assistant.jobs.operations.boring_head.job import COMMON, BoringJob, cutting, passes_for, read
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Check, Cut, Facts, Ground, Measure, Note, Step, SurfaceKey
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.spoken.limits import Limits, Standing
from assistant.spoken.rounding import round_places
from assistant.units import Quantity, Unit, is_quantity, magnitude

__all__ = ["plan", "read"]

MOST_ROUNDS = 6
SIZE = SurfaceKey("size")
"""The bore, as what is measured of it is kept."""
DRAWING = "the drawing"


@dataclass(frozen=True)
class _Work:
    job: BoringJob
    machine: Machine
    facts: Facts

    def _m(self, size: Quantity) -> Decimal:
        return magnitude(size, self.job.unit)

    @cached_property
    def hole(self) -> Quantity:
        """The hole as measured."""
        told = self.facts.get("hole.diameter")
        return told if is_quantity(told) else self.job.hole

    @cached_property
    def passes(self) -> tuple[TurnPass, ...]:
        """Roughing cuts and the finishing cut, before anything is measured."""
        return tuple(passes_for(self.job, self.hole))

    def _open(self, id_: str, title: str, now: Quantity, wanted: Quantity) -> Note:
        """How far to open the head from the bore as it is, set to its own dial."""
        job = self.job
        dial = self._on_dial(now, wanted)
        divisions = (dial / job.graduation).to("dimensionless").magnitude.normalize()
        figure = Figure(
            dial, "open the head", 4,
            (Term("wanted", wanted), Term("bore now", now, -1)),
            "wanted - bore now" + (", halved: its dial reads the radius"
                                   if job.reads == "radius" else ""), COMMON,
        )  # fmt: skip
        return Note(
            id=id_,
            title=title,
            spindle="off",
            spindle_words="Spindle stopped and isolated.",
            say=("Slacken its lock.",),
            figure=figure,
            after=(f"That's {divisions:f} more on its dial. Lock it.",),
        )

    def _on_dial(self, now: Quantity, wanted: Quantity) -> Quantity:
        """To the nearest half division for the last cut, but not so that a hand a little off the
        mark makes it too big; never beyond for the cuts before it."""
        job = self.job
        exact = to_diameter(now, wanted, job.reads).dial
        short = settle(exact, job.graduation, Toward.SHALLOWER, halves=True)
        if wanted != job.q(job.aim):
            return short
        nearest = settle(exact, job.graduation, Toward.NEAREST, halves=True)
        on_bore = 1 if job.reads == "diameter" else 2
        furthest = job.q(job.size.high) - job.graduation * on_bore / 4
        return short if short.magnitude and now + nearest * on_bore > furthest else nearest

    def _cut(self, name: str, number: int, of: int, one: tuple[Quantity, Quantity], kind: str,
             *, spring: bool = False) -> list[Step]:  # fmt: skip
        """One pass through the bore; `one` is the bore before and after it. With `spring` once more
        at the same setting: the next cut is taken from what is measured then, and would else take
        what the bar sprang off as well."""
        job = self.job
        before, after = one
        target = job.q(job.aim)
        through = "through" if job.through else "to the depth stop"
        none = job.q(Decimal(0))
        left = (target - after) * job.share
        down = f"Quill down, {through}. Steady and slow."
        cut = Cut(
            id=f"{name}-cut",
            title=f"Bore, pass {number} of {of}",
            say=(down,),
            number=number,
            of=of,
            depth=(after - self.hole) * job.share,
            taken=(after - before) * job.share,
            remaining=left if left > none else none,
            left_on=f"on the {job.reads}",
            kind=kind,
            surface=SIZE,
            leaves=after,
            made="the bore",
            figure=Figure(
                (target - self.hole) * job.share, f"to come off the {job.reads}", 4, source=DRAWING
            ),
        )
        out = Note(
            id=f"{name}-out",
            title="Out of the bore",
            spindle="off",
            spindle_words="Spindle off.",
            say=("Turn the tool clear by hand, then quill up.",),
        )
        if not spring:
            return [cut, out]
        again = replace(
            cut, id=f"{name}-spring-cut", title="Spring pass", kind="spring", taken=cut.taken * 0,
            say=("Same setting, head untouched. A spring pass.", down),
        )  # fmt: skip
        return [cut, replace(out, id=f"{name}-spring-out"), again, out]

    # -- steps ----------------------------------------------------------------------------------

    def steps(self, setting: SpeedAndFeed) -> list[Step]:
        """The whole order of the work."""
        steps = [*checks.first_checks(self.machine.kind), *self._checks()]
        steps += spindle.notes(setting)
        steps.append(self._measure_hole())
        steps.append(
            Note(
                id="touch-bore",
                rests=(Ground.TOOL,),
                title="Touch the wall of the hole",
                spindle="off",
                spindle_words="Spindle stopped, turned by hand.",
                say=("Open the head till the tool just scrapes.",
                     "Set its dial to zero."),
            )
        )  # fmt: skip
        steps += self._passes()
        steps.append(mill.deburr("Break the edge of the bore.", "Spindle off."))
        return steps

    @cached_property
    def told(self) -> tuple[ToldSize, ...]:
        """The bore as measured so far, each with the passes finished by then."""
        found: list[ToldSize] = []
        for one in told_sizes(self.facts, SIZE):
            cuts = one.cuts
            if cuts is None and found:
                still = self._still(found[-1].size, None, finishing=False)
                cuts = (found[-1].cuts or 0) + max(1, len(still) - 1)
            elif cuts is None:
                cuts = 1 if self._trial_comes else len(self.passes) - 1
            found.append(replace(one, cuts=cuts))
        return tuple(found)

    def _passes(self) -> list[Step]:
        """From one measurement to the next: what was cut, and what is still to be cut, till it is
        in. Each pass is set from the bore as it was measured last, else as the last pass left it.
        The first is measured by itself where several follow: a hole that lay to one side, or a bar
        that sprang, leaves more for those after it.
        """
        steps: list[Step] = []
        following = len(self.told) + 1
        bore, todo, number, rounds = self.hole, list(self.passes), 0, 0
        measured = False
        for told in (*self.told, None):
            while todo and (told.cuts or 0) > number if told else todo:
                last = len(todo) == 1
                if last and not told and not measured:
                    break  # the finishing cut is taken from a measurement
                number, rounds = number + 1, rounds + last
                one = todo.pop(0)
                steps += self._pass(number, rounds if last else 0, bore, one.diameter, len(todo))
                bore, measured = one.diameter, False
                if number == 1 and told is None and self._trial_comes:
                    steps.append(self._measured(following, bore))
                    following += 1
            at = told.number if told else following
            if told or not measured:
                steps.append(self._measured(at, bore if todo else None))
            if told is None:
                if todo:
                    one = todo.pop(0)
                    steps += self._pass(number + 1, rounds + 1, bore, one.diameter, 0)
                    steps.append(self._measured(at + 1, None))
                return steps
            wet = todo[0] if told.begun and todo else None
            bore, measured = told.size, True
            todo = self._still(told.size, wet, finishing=len(todo) <= 1)
            if self._limits.standing(told.size, self.job.unit) is Standing.PAST:
                words = "Too big. Ask before you go on: a bush, or a new part."
                return [*steps, Note(id="too-far", title="Too big", say=(words,))]
            if not todo:
                return steps
            if rounds == MOST_ROUNDS - 1:
                words = "Still under. The bar springs, or the lock slips. Look."
                return [*steps, Note(id="something-springs", title="Still under", say=(words,))]
        return steps

    @property
    def _trial_comes(self) -> bool:
        """Whether the first cut is measured by itself."""
        return len(self.passes) > 2

    def _still(self, size: Quantity, wet: TurnPass | None, *, finishing: bool) -> list[TurnPass]:
        """The passes from a measured bore: one that was begun is finished as it was set, where that
        is more; the finishing cut to the size in one, where that is no more than a cut may take."""
        job = self.job
        aim = job.q(job.aim)
        first = [wet] if wet is not None and size < wet.diameter else []
        now = first[0].diameter if first else size
        if self._limits.standing(now, job.unit) is not Standing.SHORT:
            return first
        if finishing and (aim - now) / 2 <= job.most:
            return [*first, TurnPass(PassKind.FINISH, (aim - now) / 2, aim)]
        return [*first, *passes_for(job, now)]

    def _pass(
        self, number: int, round_: int, bore: Quantity, wanted: Quantity, left: int
    ) -> list[Step]:
        """The head opened from the bore as it is, and one pass; `left` are those to come, `round_`
        counts finishing cuts."""
        name = f"finishing-{round_}" if round_ else f"pass-{number}"
        title = "Set the finishing cut" if round_ else f"Set pass {number}"
        kind = "finishing" if round_ else "roughing"
        return [
            self._open(f"{name}-set", title, bore, wanted),
            *self._cut(name, number, number + left, (bore, wanted), kind, spring=left <= 1),
        ]

    def _checks(self) -> list[Step]:
        return [
            Check(
                id="check-work",
        rests=(Ground.WORK,),
                title="Work and spindle",
                say=("Spindle over the middle, table and saddle locked? Room below the bore?",),
            ),
            Check(
                id="check-head",
                title="Boring head",
                say=("Head tight in the spindle, tool tight in the head, edge leading?",
                     "Turn it once round by hand. Does it clear everything?"),
                cautions=("It throws its weight about. Start slow, and stand clear.",),
            ),
        ]  # fmt: skip

    def _measure_hole(self) -> Measure:
        slack = self.job.q(Decimal(mill.SLACK[self.job.unit]))
        return Measure(
            id="measure-hole",
            title="The hole that is there",
            say=("Measure the hole.",),
            cautions=checks.MEASURE_CAUTIONS[:1],
            fact="hole.diameter",
            gauge="bore gauge",
            figure=Figure(self.job.hole, "the hole", mill.places(self.job.unit)),
            nominal=self.job.hole,
            band_low=self.job.hole - slack,
            band_high=self.job.hole + slack,
            optional=True,
        )

    def _measured(self, number: int, foreseen: Quantity | None) -> Measure:
        """One of the measurements that the passes go by; `foreseen` before the last of them."""
        job, fact = self.job, f"{SIZE}.{number}"
        low, high = job.q(job.size.low), job.q(job.size.high)
        slack = job.q(Decimal("0.030") if job.unit == "inch" else Decimal("0.8"))
        places = mill.places(job.unit)
        told = job.q(round_places(self._m(foreseen or low), places))
        figure = Figure(told, "the bore" if told == low else "about now, the bore", places,
                        source=DRAWING)  # fmt: skip
        return Measure(
            id="measure-" + fact.replace(".", "-"),
            title="The bore, measured",
            spindle_words="Spindle off.",
            say=("Measure the bore.",),
            cautions=checks.MEASURE_CAUTIONS,
            fact=fact,
            gauge="bore gauge",
            figure=figure,
            nominal=told,
            low=low,
            high=high,
            band_low=min(told, low) - slack,
            band_high=high + slack,
            resolution=Unit(job.unit).size("0.0001", "0.005"),
            grows=self._limits.grows,
            too_far=self._limits.too_far,
            surface=SIZE,
            number=number,
            at_none=self.hole,
            slope=1 / self.job.share,
        )

    @property
    def _limits(self) -> Limits:
        size, job = self.job.size, self.job
        places = mill.places(job.unit)
        return Limits(job.q(size.low), job.q(size.high), places, grows=True, too_far="too big")


def plan(job: BoringJob, machine: Machine, facts: Facts) -> Plan:
    """The plan; `ImpossibleInput` where the hole as measured is larger than the bore."""
    mill.wanted_machine(machine, ("vertical mill",), "a boring head")
    machine.axis("quill")
    made = _Work(job, machine, facts)
    setting = speed_and_feed(cutting(job), machine, job.unit, facts)
    size = Figure(job.q(job.size.nominal), "the bore", mill.places(job.unit),
                  low=job.q(job.size.low), high=job.q(job.size.high), source=DRAWING)  # fmt: skip
    side = job.full_depth(made.hole)
    results = (("the bore", size), ("full depth", side), ("speed", setting.speed),
               ("feed", setting.feed))  # fmt: skip
    reads = "the diameter" if job.reads == "diameter" else "the radius: twice that comes off"
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="boring-head",
        unit=job.unit,
        steps=tuple(made.steps(setting)),
        results=results,
        sources=tuple(dict.fromkeys(figure.source for _, figure in results if figure.source)),
        answers=(
            ("how_many_passes", f"{len(made.passes)} passes."),
            ("what_cutter", f"The head's dial reads {reads}."),
        ),
        full_depth=side.value,
        drawing=(("bore", job.q(job.aim)), ("hole", made.hole), ("depth", job.depth),
                 ("share", job.q_share)),
        drawing_kind="bore",
    )  # fmt: skip

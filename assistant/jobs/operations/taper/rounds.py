"""Two diameters measured, the setting put right, a proving cut, until the taper is right."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.dial import settle
from assistant.calc.tapers import (
    compound_reading,
    tailstock_correction,
    taper_correction,
)
from assistant.jobs.common.checks import MEASURE_CAUTIONS
from assistant.jobs.common.facts import ToldSize, size_told, told_sizes
from assistant.jobs.lathe.diameter import Diameter, LengthwiseStroke
from assistant.jobs.lathe.setup import CROSS, places
from assistant.jobs.operations.taper.job import MOST_ROUNDS, PROVE, TaperJob
from assistant.jobs.steps import NO_SURFACE, Cut, Facts, Measure, Move, Note, Step, SurfaceKey
from assistant.jobs.to_size.depth_work import BAND, FINEST
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import Quantity, is_quantity, quantity

SIZE = SurfaceKey("size")
"""The taper where its size is held."""
_MARK = {"large": "large mark", "small": "small end"}
"""Where the two diameters are measured: at the small end, which the first pass cuts already, and
so far from it toward the chuck as the job's spacing."""


@dataclass(frozen=True)
class Round:
    """One measuring of both diameters."""

    number: int
    large: Quantity | None
    small: Quantity | None
    at: Quantity | None
    """Where the cross slide stood."""

    @property
    def told(self) -> bool:
        """Whether both are known."""
        return self.large is not None and self.small is not None


def rounds_of(job: TaperJob, facts: Facts) -> list[Round]:
    """Rounds told, and the one that is due."""
    found: list[Round] = []
    for number in range(1, MOST_ROUNDS + 1):
        large, small, at = (
            value if is_quantity(value) else None
            for value in (facts.get(f"{n}.{number}{s}")
                          for n, s in (("large", ""), ("small", ""), ("small", ".at")))
        )  # fmt: skip
        found.append(Round(number, large, small, at))
        if not found[-1].told or _right(job, found[-1]):
            break
    return found


def _right(job: TaperJob, one: Round) -> bool:
    assert one.large is not None
    assert one.small is not None
    return abs(job.m(one.large - one.small) - job.wanted) <= job.within


def known(job: TaperJob, facts: Facts, rounds: list[Round], roughed: int) -> tuple[Facts, int]:
    """The size that the last round measured is the one before the finishing cut. What was told
    before the taper was right was of the small end, which every pass cuts; since then it was of the
    size that is held. Also which of them is the one that the two diameters tell."""
    last, names = rounds[-1], list(facts)
    right = last.told and last.at is not None and _right(job, last)
    held = ToldSize(0, _held(job, last), last.at, roughed, False, None) if right else None
    sizes: list[ToldSize] = []
    place = 0
    for one in told_sizes(facts, SIZE):
        since = right and names.index(f"{SIZE}.{one.number}") > names.index(f"small.{last.number}")
        if since and held is not None:
            sizes.append(held)
            held, place = None, len(sizes)
        away = Decimal(0) if since else job.taper.ratio * job.away
        sizes.append(replace(one, size=job.q(job.m(one.size) + away)))
    if held is not None:
        sizes.append(held)
    kept = {name: value for name, value in facts.items() if not name.startswith(f"{SIZE}.")}
    for number, one in enumerate(sizes, 1):
        kept |= size_told(SIZE, replace(one, number=number))
    return kept, place or len(sizes) + (not right)


def _held(job: TaperJob, one: Round) -> Quantity:
    """The held size, from the diameter measured at the large mark."""
    assert one.large is not None
    return job.q(job.m(one.large) + job.taper.ratio * (job.away - job.spacing))


def based(job: TaperJob, machine: Machine, facts: Facts, rounds: list[Round]) -> Diameter:
    """The held size as it would be at the dial's zero: stock at the small end, or as measured."""
    axis = machine.axis(CROSS)
    change = 1 if axis.diameter_reading else 2
    for one in reversed(rounds):
        if one.large is not None and one.at is not None:
            return replace(job.one, stock=job.m(_held(job, one)) + change * job.m(one.at))
    return replace(job.one, stock=job.one.stock + job.taper.ratio * job.away)


@dataclass(frozen=True, kw_only=True)
class TaperStroke(LengthwiseStroke):
    """Passes along the taper; before the finishing cut the taper is measured and put right."""

    job: TaperJob
    rounds: tuple[Round, ...]

    def back(self, name: str) -> list[Step]:
        """After the last roughing pass: two diameters, until they differ as they should."""
        steps = super().back(name)
        # the last that is roughed, whatever was measured on the way to it
        last = [one for leg in self.work.legs for one in (leg.begun, *leg.passes) if one][-1]
        if name != self.work.id(f"{last.kind}-{last.number}"):
            return steps
        for one in self.rounds:
            steps += self._measured(one)
            if not one.told or _right(self.job, one):
                break
            if one.number == MOST_ROUNDS:
                steps.append(
                    Note(
                        id="slips",
                        title="The angle does not hold",
                        say=("Still not right. Something slips: look first.",),
                    )
                )
                break
            steps += [self._corrected(one), *self._proving_cut(one)]
        return steps

    def _measured(self, one: Round) -> list[Step]:
        job, unit = self.job, self.job.unit
        slack = quantity(BAND[unit] * 4, unit)
        ratio = job.taper.ratio
        cut = self.work.aim - self.work.finishing_cut
        held = self.work.sizing.size_of(cut)
        large = held + ratio * (job.spacing - job.away)
        steps: list[Step] = []
        for name, size in (("large", large), ("small", large - job.wanted)):
            apart = f"{job.spacing.normalize():f} {'in' if unit == 'inch' else unit} apart"
            say: tuple[str, ...] = ("Now the smaller, at the small end.",)
            if name == "large":
                say = (
                    f"Two marks on the taper, {apart}.",
                    "Measure the larger, at the mark toward the chuck.",
                )
            steps.append(
                Measure(
                    id=f"measure-{name}-{one.number}",
                    title=f"{_MARK[name].capitalize()}, measured",
                    spindle_words="Spindle off.",
                    say=say, cautions=MEASURE_CAUTIONS, fact=f"{name}.{one.number}",
                    instead=SIZE if name == "small" else NO_SURFACE,
                    at_none=job.q(job.one.stock) if name == "small" else None,
                    gauge="micrometer",
                    figure=Figure(job.q(size), f"the {_MARK[name]}, about", places(unit)),
                    nominal=job.q(size), band_low=job.q(size) - slack,
                    band_high=job.q(size) + slack, at_axis=CROSS if name == "small" else "",
                    resolution=quantity(FINEST[unit], unit),
                )
            )  # fmt: skip
        return steps

    def _corrected(self, one: Round) -> Note:
        """What puts the angle right."""
        job = self.job
        assert one.large is not None
        assert one.small is not None
        terms = (Term("larger", one.large), Term("smaller", one.small, -1),
                 Term("should differ by", job.q(job.wanted), 0))  # fmt: skip
        spacing = job.q(job.spacing)
        if job.total is not None:
            change = tailstock_correction(
                one.large, one.small, spacing, job.total, job.taper.ratio
            ).to(job.unit)
            more = change.magnitude > 0
            way = "toward you" if more else "away from you"
            return Note(
                id=f"correct-{one.number}", title="Correct the set-over",
                say=(f"Too {'slow' if more else 'steep'} a taper. Tailstock {way} by:",),
                figure=Figure(change * (1 if more else -1),
                              f"set {'more' if more else 'less'} over", 4, terms,
                              "total length x the error of the taper / 2", "geometry"),
            )  # fmt: skip
        found = taper_correction(one.large, one.small, spacing, job.taper.half_angle)
        travel = PROVE[job.unit]
        reads, should = (
            compound_reading(travel, half).to(job.unit)
            for half in (found.cut.half_angle, job.taper.half_angle)
        )
        more = found.steeper
        over = "one inch" if job.unit == "inch" else "25 millimetres"
        swung = found.half_angle_change * (1 if more else -1)
        return Note(
            id=f"correct-{one.number}",
            title="Correct the compound's angle",
            say=(
                f"Too {'slow' if more else 'steep'} a taper.",
                f"Swing the compound a hair {'further' if more else 'back'}. On the indicator:",
            ),
            figure=Figure(
                (should - reads) * (1 if more else -1),
                f"{'more' if more else 'less'} over {over}",
                places(job.unit),
                (*terms, Term("angle to swing", swung, 0)),
                "travel x (sin of the half angle wanted - sin of the half angle cut)",
                "geometry",
            ),
        )

    def _gone(self, one: Round) -> Decimal:
        """By how much one end of the taper, or of the work that is set over, has moved on the
        diameter; no more than half of what is left."""
        assert one.large is not None
        assert one.small is not None
        job = self.job
        whole = job.length if job.total is None else job.m(job.total)
        error = abs(job.m(one.large - one.small) - job.wanted)
        left = max(Decimal(0), job.m(_held(job, one)) - job.one.size.high)
        return min(error * whole / job.spacing, left / 2)

    def _proving_cut(self, one: Round) -> list[Step]:
        """A light cut at the new setting, from where the dial stood: so deep that it cuts the whole
        length, though one end has gone from the tool by what was put right."""
        assert one.at is not None
        job, work = self.job, self.work
        light = max(work.least_cut, work.witness / 2) + self._gone(one) * work.on_dial
        target = settle(one.at + job.q(light), work.axis.graduation, halves=False)
        number = len(work.passes)
        name = f"prove-{one.number}"
        move = Move(id=f"{name}-set", title="A light cut at the new setting", axis=CROSS,
                    target=target, approach=1, lock=False,
                    depth_after=job.q(work.depth_at(target)),
                    limit=work.deepest(), deeper=work.sign, pass_limit=job.q(work.limit),
                    say=("Gibs and clamps tight.",))  # fmt: skip
        cut = Cut(
            id=f"{name}-cut", title="Proving cut", number=number, of=work.count,
            depth=job.q(work.depth_at(target)), taken=job.q(light),
            remaining=job.q(max(Decimal(0), work.aim - work.depth_at(target))),
            left_on=work.counted, figure=work.aim_figure,
        )  # fmt: skip
        return [move, self._feed(cut, (self.feed_words,), self._after(cut)), *self.returned(name)]

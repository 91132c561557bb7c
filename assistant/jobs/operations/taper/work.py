"""Turning an outside taper by the compound, or by setting the tailstock over.

Standard tapers, taper per foot, an angle or two diameters. The angle that the graduations give is
proved with an indicator, then put right from two diameters of the taper itself, before the size is
cut. The small end lies at the tailstock. Common practice, no source, where a step names none.
"""

from __future__ import annotations

from assistant.calc.tapers import (
    compound_reading,
    tailstock_offset,
)
from assistant.jobs.common import checks
from assistant.jobs.lathe.diameter import diameter_work, touch_work
from assistant.jobs.lathe.setup import (
    CROSS,
    dial_check,
    finish_note,
    first_checks,
    places,
    springs,
    wanted_lathe,
)
from assistant.jobs.lathe.slender import kept_to, lighter, stands
from assistant.jobs.lathe.speed import lathe_speed, notes, results
from assistant.jobs.operations.taper.job import PROVE, TaperJob, read
from assistant.jobs.operations.taper.rounds import TaperStroke, based, known, rounds_of
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Answer, Check, Facts, Note, Step
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure, Term
from assistant.units import magnitude, quantity

__all__ = ["plan", "read"]


def plan(job: TaperJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` where it can't be done there."""
    wanted_lathe(machine, CROSS, *(("compound",) if job.by_compound else ()))
    rounds = rounds_of(job, facts)
    slender = springs(job, job.q(job.one.stock))
    small = job.one.size.nominal - job.taper.ratio * job.away
    most = stands(job, machine, job.turning, job.one.max_cut,
                  ((job.length, small),), job.one.stock)  # fmt: skip
    one = lighter(based(job, machine, facts, rounds), most)
    roughed = len(diameter_work(job, machine, facts, one, springy=slender).passes)
    facts, otherwise = known(job, facts, rounds, roughed)
    work = replace(diameter_work(job, machine, facts, one, springy=slender), otherwise=otherwise)
    speed = lathe_speed(job.turning, machine, facts)
    stroke = TaperStroke(
        work, job.one,
        "Carriage locked. Compound by hand, evenly, the whole length." if job.by_compound
        else "Feed along the whole length.",
        feed_axis="compound" if job.by_compound else "carriage",
        measured_first=False, spring=slender, job=job, rounds=tuple(rounds),
    )  # fmt: skip
    setting = _setting(job, machine)
    steps: list[Step] = [
        *first_checks(
            job, machine, job.q(job.one.stock), dial_check(machine), tool_words=_TOOL,
            most=kept_to(most, job.one.max_cut),
        ),
        *_set_up(job, setting),
        *notes(speed),
        replace(
            touch_work(job.one, machine),
            title="Touch at the small end",
            spindle="on",
            spindle_words="Spindle on.",
            say=("Tool at the small end of the work, carriage locked."
                if job.by_compound
                else "Tool at the small end of the work.",
                "Cross slide in, gently, till it just marks there.",
            ),
            surface="the work at its small end",
        ),
        *stroke.returned("start", ""),
        *work.steps(stroke),
        Check(id="try-gauge", title="Tried in the gauge",
              spindle="off",
              spindle_words="Spindle off.",
              say=("A blue line along it, and try it in its socket.",
                   "Does it rub along the whole length?")),
        finish_note(),
    ]  # fmt: skip
    answers: tuple[tuple[str, Answer], ...] = (
        ("what_diameter", work.sizing.figure),
        ("what_angle", setting if job.by_compound else _half(job)),
        ("what_offset", "The compound does this taper, not the tailstock."
         if job.by_compound else setting),
    )  # fmt: skip
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="taper",
        unit=job.unit,
        steps=tuple(steps),
        results=(
            (job.one.what, work.sizing.figure),
            ("full depth", work.aim_figure),
            ("half angle", _half(job)),
            ("setting", setting),
            ("difference", _difference(job)),
            *results(speed),
        ),
        sources=tuple(dict.fromkeys((job.source, speed.speed.source))),
        answers=answers,
        depth_axis=CROSS,
        full_depth=job.q(work.aim),
        drawing_kind="taper",
        drawing=(
            ("large", job.q(job.one.size.nominal + job.taper.ratio * (job.length - job.away))),
            ("small", job.q(job.one.size.nominal - job.taper.ratio * job.away)),
            ("length", job.q(job.length)),
        ),
    )


_TOOL = "Tool tight and exactly on centre? Off centre, the taper comes out hollow."


# -- the setting ---------------------------------------------------------------------------------


def _half(job: TaperJob) -> Figure:
    return Figure(
        job.taper.half_angle, "from the centre line", 3,
        (Term("taper of its length", quantity(job.taper.ratio, "dimensionless"), 0),),
        "half of the taper's included angle", job.source,
    )  # fmt: skip


def _setting(job: TaperJob, machine: Machine) -> Figure:
    """What the compound's scale reads, or how far the tailstock is set over."""
    if job.total is not None:
        return Figure(
            tailstock_offset(job.total, job.taper.ratio), "set over", places(job.unit),
            (Term("total length", job.total, 0),), "total length x taper / 2", job.source,
        )  # fmt: skip
    half = magnitude(job.taper.half_angle, "degree")
    along = machine.compound_zero == "axis"
    return Figure(
        quantity(half if along else 90 - half, "degree"), "the compound reads", 3,
        (Term("from the centre line", job.taper.half_angle, 0),),
        f"half the included angle; this scale reads 0 {'along' if along else 'square to'} the axis",
        job.source,
    )  # fmt: skip


def _difference(job: TaperJob) -> Figure:
    """By how much the two diameters must differ."""
    return Figure(
        job.q(job.wanted), "between the two diameters", places(job.unit),
        (Term("apart", job.q(job.spacing), 0),), "taper x the distance apart", job.source,
    )  # fmt: skip


def _set_up(job: TaperJob, setting: Figure) -> list[Step]:
    if not job.by_compound:
        return [
            Note(id="set-over", title="Tailstock set over", figure=setting,
                 say=("Small end at the tailstock: it comes toward you.",
                      "By an indicator on its barrel, set it over:"),
                 after=("Clamp it, and read again. Centres oiled.",))
        ]  # fmt: skip
    travel = PROVE[job.unit]
    return [
        Note(id="set-compound", title="Compound set", figure=setting,
             say=("Swing the compound, small end toward the tailstock.",),
             after=("Gibs snug. Enough travel for the whole taper?",)),
        Check(id="prove-compound", title="Compound proved",
              say=("Prove it: indicator on a true bar, compound along by "
                   f"{'one inch' if job.unit == 'inch' else '25 millimetres'}.",),
              figure=Figure(compound_reading(travel, job.taper.half_angle).to(job.unit),
                            "the indicator moves", places(job.unit), (Term("travel", travel, 0),),
                            "travel x sin of the half angle", "geometry")),
    ]  # fmt: skip

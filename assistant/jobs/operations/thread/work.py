"""Single-point thread, unified or metric, external or internal.

Fed in by the compound or straight, in passes of equal chip area, from a scratch pass that proves
the pitch; stopped by wires or by a gauge. A thread may be picked up again after regrinding.
"""

from __future__ import annotations

from assistant.calc.hand_stop import HandStop
from assistant.calc.thread_dial import DialRule
from assistant.calc.thread_wires import helix_correction
from assistant.calc.threads import length_over_threads
from assistant.jobs.common import checks
from assistant.jobs.lathe.setup import CROSS, finish_note, first_checks, wanted_lathe
from assistant.jobs.lathe.slender import kept_to
from assistant.jobs.lathe.speed import lathe_speed, notes, results
from assistant.jobs.operations.thread import setup
from assistant.jobs.operations.thread.infeed import (
    ThreadWork,
    depth_figure,
    dials_hold,
    thread_work,
)
from assistant.jobs.operations.thread.job import ThreadJob, lead_screw_rule, on_slender_work, read
from assistant.jobs.operations.thread.stroke import ThreadStroke
from assistant.jobs.plan import Plan
from assistant.jobs.steps import Answer, Check, Facts, Step
from assistant.machine import Machine
from assistant.spoken import Figure, Term
from assistant.units import Unit, quantity

__all__ = ["plan", "read"]

PICK_UP = (
    "Tool square again and on centre. Half nut closed, spindle turned forward by hand. "
    "Slack taken up, work the tool into the groove with both slides. "
    "Then zero both dials, and back out."
)
"""How a thread is picked up again: common practice, no source."""


def plan(job: ThreadJob, machine: Machine, facts: Facts) -> Plan:
    """The plan on this machine; raises `ImpossibleInput` where it can't be cut there."""
    wanted_lathe(machine, CROSS, job.axis_name)
    wanted, job = job.first_cut, on_slender_work(job)
    rule = lead_screw_rule(job, machine)
    work = thread_work(job, machine, facts)
    closed = not rule.open_half_nut
    stop = HandStop(job.to_metal, by_spindle=closed)
    speed = lathe_speed(job.turning, machine, facts, stop)
    stroke = ThreadStroke(work, job, closed, _line(rule), speed.too_fast)
    steps: list[Step] = [
        *first_checks(
            job, machine, job.thread.major, *setup.checks(job, machine, rule),
            most=kept_to(job.first_cut, wanted),
            tool_words="Threading tool square by the centre gauge, and on centre?",
        ),
        *notes(speed),
    ]  # fmt: skip
    steps += setup.wires(job) if job.by_wires else []
    if job.pick_up:
        steps += setup.picked_up(job, machine)
    else:
        held = dials_hold(job, facts) is not None
        begin = setup.to_zeros if held else setup.touch
        asked = setup.blank_expected(job).asked(facts, job.unit)
        steps += [setup.blank(job), *asked, *begin(job, machine)]
    body = work.steps(stroke) if job.by_wires else work.gauge_steps(stroke, job.step * work.square)
    steps += _with_scratch_proved(job, body)
    steps.append(finish_note("Break the sharp start of the thread with a file, spindle off."))
    figures = _results(job, work, facts)
    return Plan(
        new_tool=checks.NEW_LATHE_TOOL,
        title=job.head.title,
        operation="thread",
        unit=job.unit,
        steps=tuple(steps),
        results=(*figures, *results(speed)[:1], ("feed", _lead(job))),
        sources=tuple(dict.fromkeys(f.source for _, f in figures if f.source)),
        answers=_answers(job, rule, figures),
        depth_axis=job.axis_name,
        full_depth=job.q(work.aim),
        drawing_kind="thread",
        drawing=(
            # both as the dial counts, so that the picture keeps its shape
            ("pitch", job.q(job.m(job.thread.pitch) * work.square)),
            ("depth_full", job.q(work.aim)),
            ("infeed", job.set_over if job.by_compound else quantity(0, "degree")),
        ),
    )


def _line(rule: DialRule) -> str:
    """Where to close the half nut, as it is said."""
    if rule.anywhere:
        return "Close the half nut wherever it drops in."
    return f"{rule.rule[:1].upper()}{rule.rule[1:]}."


def _with_scratch_proved(job: ThreadJob, body: list[Step]) -> list[Step]:
    """After the scratch pass a rule shows whether the gears are right."""
    places = [n for n, step in enumerate(body) if step.id == "witness-1-back"]
    if not places:
        return body
    tpi = job.thread.tpi
    count = 10 if tpi is None else int(tpi if tpi == tpi.to_integral_value() else tpi * 2)
    prove = Check(
        id="prove-pitch",
        title="Pitch proved",
        spindle="off",
        spindle_words="Spindle off.",
        say=("Lay a rule on the scratch, or a pitch gauge.",),
        figure=Figure(
            length_over_threads(job.thread.pitch, count).to(job.unit), f"over {count} threads", 3,
            (Term("pitch", job.thread.pitch.to(job.unit), 0),), "pitch x threads",
            job.thread.source,
        ),
        after=("Wrong? Go no deeper: look at the gears.",),
    )  # fmt: skip
    return [*body[: places[0] + 1], prove, *body[places[0] + 1 :]]


# -- results and own questions -------------------------------------------------------------------


def _results(job: ThreadJob, work: ThreadWork, facts: Facts) -> tuple[tuple[str, Figure], ...]:
    unit, places = job.unit, Unit(job.unit).fine_places
    low, high = job.limits.pitch_min.to(unit), job.limits.pitch_max.to(unit)
    pitch_dia = Figure(high, "pitch diameter", places, source=job.thread.source)
    found: list[tuple[str, Figure]] = []
    wire = job.q(job.told(facts.get("wire.size"), job.wire))
    if job.by_wires:
        helix = helix_correction(job.q(job.pitch_dia), job.thread.pitch, job.wire).to(unit)
        found = [
            ("over the wires", work.sizing.figure),
            ("wire", Figure(wire, "wire", places, source="Machinery's Handbook")),
            ("helix, left out", Figure(helix, "left out for the helix", 5,
                                       source="Machinery's Handbook")),
        ]  # fmt: skip
    return (
        *found,
        ("full depth", work.aim_figure),
        ("thread depth", depth_figure(job)),
        ("pitch diameter", pitch_dia),
        ("least pitch diameter", Figure(low, "least pitch diameter", places,
                                        source=job.thread.source)),
        ("run", Figure(job.length.to(unit), "to run", places, source="the drawing")),
    )  # fmt: skip


def _lead(job: ThreadJob) -> Figure:
    """What the carriage goes a turn."""
    return Figure(
        job.thread.pitch.to(job.unit), "a turn: the feed is the pitch",
        5 if job.unit == "inch" else 3, source=job.thread.source,
    )  # fmt: skip


def _answers(
    job: ThreadJob, rule: DialRule, figures: tuple[tuple[str, Figure], ...]
) -> tuple[tuple[str, Answer], ...]:
    named = dict(figures)
    no_wires = "This thread is stopped by a gauge, not by wires."
    return (
        ("which_line", _line(rule)),
        ("what_wire", named.get("wire", no_wires)),
        ("over_wires", named.get("over the wires", no_wires)),
        ("thread_depth", named["thread depth"]),
        ("pick_up", PICK_UP),
    )

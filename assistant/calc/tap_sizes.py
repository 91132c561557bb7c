"""Tap drills of threads by name."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from assistant.calc.drills import kinds_of
from assistant.calc.tapping import (
    TapDrill,
    metric_tap_drill,
    percent_of_thread,
    tap_drill,
    tap_hole,
)
from assistant.calc.thread_series import Thread, find_thread
from assistant.calc.threads import pitch_given
from assistant.errors import BadInput
from assistant.units import Quantity


def tap_drill_for(thread: str, percent: Decimal, basis: str, drills: str, rule: str) -> TapDrill:
    """The tap drill of a named thread from the sets `drills`: `inch`, `metric` or `all`."""
    found = find_thread(thread)
    return tap_drill(found.major, found.pitch, percent, basis, _sets(drills, found), rule)


def metric_tap_drill_for(thread: str) -> TapDrill:
    """The tap drill of a metric thread: ISO 2306 where it has it, else about D - P."""
    found = find_thread(thread)
    if not found.metric:
        raise BadInput("thread", thread, "wanted a metric thread such as M8")
    return metric_tap_drill(found.major, found.pitch)


def tap_hole_for(
    major: Quantity,
    percent: Decimal,
    basis: str,
    tpi: Decimal | None = None,
    pitch: Quantity | None = None,
) -> Quantity:
    """The exact hole for a percentage of thread."""
    return tap_hole(major, pitch_given(tpi, pitch), percent, basis)


def percent_for(
    major: Quantity,
    drill: Quantity,
    basis: str,
    tpi: Decimal | None = None,
    pitch: Quantity | None = None,
) -> Decimal:
    """The percentage of thread that a drill leaves."""
    return percent_of_thread(major, pitch_given(tpi, pitch), drill, basis)


def _sets(drills: str, thread: Thread) -> Sequence[str]:
    if drills == "usual":
        drills = "metric" if thread.metric else "inch"
    return kinds_of(drills)

"""What is asked about a thread by its name: its sizes, limits, wires and tap drill."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from assistant.calc.metric_limits import MetricLimits, metric_limits
from assistant.calc.thread_infeed import CompoundInfeed, compound_infeed
from assistant.calc.thread_series import find_thread
from assistant.calc.thread_wires import best_wire, helix_correction, size_over_wires
from assistant.calc.threads import (
    BasicThread,
    basic_thread,
    depth_basis,
    pitch_given,
    single_depth,
)
from assistant.calc.unified_limits import CLASSES, UnifiedLimits, unified_limits
from assistant.errors import BadInput
from assistant.units import Quantity


@dataclass(frozen=True, slots=True)
class ThreadSizes:
    """A thread and its basic dimensions."""

    name: str
    series: str
    major: Quantity
    pitch: Quantity
    tpi: Decimal | None
    pitch_dia: Quantity
    minor_int: Quantity
    minor_ext: Quantity
    """UNR for unified threads, with the rounded root of ISO 68-1 for metric ones."""
    source: str


def thread_sizes(thread: str) -> ThreadSizes:
    """The basic dimensions of a thread such as 1/2-13 or M8x1."""
    found = find_thread(thread)
    basic = basic_thread(found.major, found.pitch)
    return ThreadSizes(
        name=found.name, series=found.series, major=found.major, pitch=found.pitch, tpi=found.tpi,
        pitch_dia=basic.pitch_dia, minor_int=basic.minor_int,
        minor_ext=basic.minor_ext_rounded if found.metric else basic.minor_ext_unr,
        source=found.source,
    )  # fmt: skip


def basic_dimensions(
    major: Quantity, tpi: Decimal | None = None, pitch: Quantity | None = None
) -> BasicThread:
    """Basic dimensions from a diameter and either threads an inch or a pitch."""
    return basic_thread(major, pitch_given(tpi, pitch))


def thread_limits(thread: str, thread_class: str) -> UnifiedLimits | MetricLimits:
    """Limits of a named thread: class 1A to 3B for a unified one, 6g, 6H and such for metric."""
    found = find_thread(thread)
    if found.metric:
        if thread_class in CLASSES:
            raise BadInput("class", thread_class, f"{found.name} is metric: wanted 6g, 6H or such")
        return metric_limits(found.major, found.pitch, thread_class)
    assert found.tpi is not None
    return unified_limits(found.major, found.tpi, thread_class, found.engagement)


@dataclass(frozen=True, slots=True)
class WireLimits:
    """What a thread must measure over three wires."""

    wire: Quantity
    best: Quantity
    basic: Quantity
    """For the basic pitch diameter."""
    most: Quantity
    """For the largest pitch diameter of the class."""
    least: Quantity
    helix: Quantity
    """What the lead angle would add to each; left out of them."""


def wire_limits(thread: str, thread_class: str, wire: Quantity | None = None) -> WireLimits:
    """Limits over wires of an external thread of a class, with the best wire or the one given."""
    found = find_thread(thread)
    if thread_class.upper().endswith("B") or thread_class[-1:] in ("G", "H"):
        raise BadInput("class", thread_class, "wires measure external threads: wanted 2A, 6g")
    limits = thread_limits(thread, thread_class)
    best = best_wire(found.pitch)
    used = wire if wire is not None else best
    basic = basic_thread(found.major, found.pitch).pitch_dia
    return WireLimits(
        wire=used,
        best=best,
        basic=size_over_wires(basic, found.pitch, used),
        most=size_over_wires(limits.pitch_max, found.pitch, used),
        least=size_over_wires(limits.pitch_min, found.pitch, used),
        helix=helix_correction(basic, found.pitch, used),
    )


@dataclass(frozen=True, slots=True)
class DepthFactor:
    """A thread depth as a share of the pitch."""

    single: Decimal
    """On one side."""
    double: Decimal
    """On the diameter."""
    meaning: str


def depth_factor(basis: str) -> DepthFactor:
    """The depth on a named basis, of the pitch."""
    found = depth_basis(basis)
    return DepthFactor(found.factor, 2 * found.factor, found.meaning)


def thread_compound(
    basis: str, set_over: Quantity, tpi: Decimal | None = None, pitch: Quantity | None = None
) -> CompoundInfeed:
    """Travel of the compound for the whole depth of a thread, on the basis named."""
    return compound_infeed(single_depth(pitch_given(tpi, pitch), basis), set_over)

"""Limits of size of unified threads, worked from the formulas of ASME B1.1.

The printed tables of the standard add and take away values already rounded to 0.0001 in, and so
does this module: 1/2-13 UNC-2A has 0.4485 - 0.0050 = 0.4435 for its smallest pitch diameter,
where unrounded arithmetic would end in 6. Where a printed allowance still differs, the table
`b1_1_departures.csv` has it.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from assistant.calc.exact import in_unit, positive, shown
from assistant.calc.table import rows
from assistant.calc.threads import basic_thread, pitch_of
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches

CLASSES = ("1A", "2A", "3A", "1B", "2B", "3B")
_TOLERANCE_SHARE = {
    "1A": Decimal("1.5"), "2A": Decimal(1), "3A": Decimal("0.75"),
    "1B": Decimal("1.95"), "2B": Decimal("1.3"), "3B": Decimal("0.975"),
}  # fmt: skip
_MAJOR_SHARE = {"1A": Decimal("0.09"), "2A": Decimal("0.06"), "3A": Decimal("0.06")}
_ALLOWANCE = Decimal("0.3")
_TWO_THIRDS = Decimal(2) / 3
_THIRD = Decimal(1) / 3
_NUMBER_6 = Decimal("0.138")
"""From this size up the minor diameter of classes 1B and 2B is printed to three places."""


@dataclass(frozen=True, slots=True)
class UnifiedLimits:
    """Limits of one unified thread, each to the 0.0001 in of the standard's own tables."""

    thread_class: str
    engagement: Quantity
    """Length of engagement that the pitch diameter tolerance is worked for."""
    allowance: Quantity
    """Between the largest external thread and basic size; zero for 3A and internal threads."""
    major_min: Quantity
    major_max: Quantity | None
    """None for an internal thread: the root may run out."""
    pitch_min: Quantity
    pitch_max: Quantity
    minor_min: Quantity | None
    """None for an external thread: the root contour decides."""
    minor_max: Quantity
    """For an external thread the UNR reference minor diameter."""


def unified_limits(
    major: Quantity, tpi: Decimal, thread_class: str, engagement: Quantity | None = None
) -> UnifiedLimits:
    """Limits of a unified thread of class 1A, 2A, 3A, 1B, 2B or 3B (ASME B1.1).

    `engagement` is the length of engagement: the diameter for UNC, UNF and the 4, 6 and 8 thread
    series, nine pitches for UNEF, finer constant pitches and specials. Where it is not given the
    diameter is taken. Raises `BadInput` for another class and `ImpossibleInput` for a thread that
    can't be.
    """
    if thread_class not in CLASSES:
        raise BadInput("class", thread_class, "wanted one of " + ", ".join(CLASSES))
    diameter = in_unit(positive("major", major), "inch")
    length = positive("engagement", engagement) if engagement is not None else major
    pitch = in_unit(pitch_of(tpi), "inch")
    basic = basic_thread(inches(diameter), pitch_of(tpi))
    tolerance = pitch_tolerance(major, tpi, length)
    pitch_dia = _four(in_unit(basic.pitch_dia, "inch"))
    spread = _four(tolerance * _TOLERANCE_SHARE[thread_class])
    if thread_class.endswith("B"):
        low, high = _minor_internal(diameter, pitch, tpi, thread_class)
        return UnifiedLimits(
            thread_class=thread_class,
            engagement=length,
            allowance=inches(0),
            major_min=inches(_four(diameter)),
            major_max=None,
            pitch_min=inches(pitch_dia),
            pitch_max=inches(pitch_dia + spread),
            minor_min=inches(low),
            minor_max=inches(high),
        )
    allowance = Decimal(0) if thread_class == "3A" else _allowance(diameter, tpi, tolerance)
    largest = _four(diameter) - allowance
    crest = _four(_MAJOR_SHARE[thread_class] * _power(pitch, _TWO_THIRDS))
    return UnifiedLimits(
        thread_class=thread_class,
        engagement=length,
        allowance=inches(allowance),
        major_min=inches(largest - crest),
        major_max=inches(largest),
        pitch_min=inches(pitch_dia - allowance - spread),
        pitch_max=inches(pitch_dia - allowance),
        minor_min=None,
        minor_max=inches(_four(in_unit(basic.minor_ext_unr, "inch")) - allowance),
    )


def pitch_tolerance(major: Quantity, tpi: Decimal, engagement: Quantity) -> Decimal:
    """The class 2A pitch diameter tolerance in inches, to the six places of the standard.

    0.0015 D^(1/3) + 0.0015 LE^(1/2) + 0.015 P^(2/3), all in inches (ASME B1.1).
    """
    diameter = in_unit(positive("major", major), "inch")
    length = in_unit(positive("engagement", engagement), "inch")
    if length > 3 * diameter:
        raise ImpossibleInput(
            "engagement", shown(engagement), "three diameters at the most for this formula"
        )
    pitch = in_unit(pitch_of(tpi), "inch")
    tolerance = Decimal("0.0015") * (_power(diameter, _THIRD) + length.sqrt())
    tolerance += Decimal("0.015") * _power(pitch, _TWO_THIRDS)
    return tolerance.quantize(Decimal("0.000001"))


def _allowance(diameter: Decimal, tpi: Decimal, tolerance: Decimal) -> Decimal:
    """0.3 of the class 2A tolerance, or what the standard's table prints where it differs."""
    for row in rows("b1_1_departures"):
        if Decimal(row["major"]) == diameter and Decimal(row["tpi"]) == tpi:
            return Decimal(row["allowance"])
    return _four(_ALLOWANCE * tolerance)


def _minor_internal(
    diameter: Decimal, pitch: Decimal, tpi: Decimal, thread_class: str
) -> tuple[Decimal, Decimal]:
    """Minor diameter limits of an internal thread (ASME B1.1, minor diameter tolerances)."""
    low = _four(diameter - Decimal("1.08253175") * pitch)
    small = Decimal("0.05") * _power(pitch, _TWO_THIRDS) + Decimal("0.03") * pitch / diameter
    small = min(small - Decimal("0.002"), Decimal("0.394") * pitch)
    if thread_class == "3B":
        if tpi >= 13:
            least = Decimal("0.23") * pitch - Decimal("1.5") * pitch**2
        else:
            least = Decimal("0.12") * pitch
        return low, low + _four(max(small, least))
    if tpi >= 4:
        flat_rate = Decimal("0.25") * pitch - Decimal("0.4") * pitch**2
    else:
        flat_rate = Decimal("0.15") * pitch
    tolerance = flat_rate if diameter >= Decimal("0.25") else max(small, flat_rate)
    high = low + _four(tolerance)
    if diameter < _NUMBER_6:
        return low, high
    return _three(low), _three(high)


def _power(base: Decimal, exponent: Decimal) -> Decimal:
    # Rounded, or 64 threads an inch would give 0.0625 less a hair, and a tie would fall down.
    return (base**exponent).quantize(Decimal("1e-12"))


def _four(value: Decimal) -> Decimal:
    return value.quantize(Decimal("0.0001"), ROUND_HALF_EVEN)


def _three(value: Decimal) -> Decimal:
    # The table prints a fourth place that is always a nought.
    return value.quantize(Decimal("0.001"), ROUND_HALF_EVEN).quantize(Decimal("0.0001"))

"""Limits of size of ISO metric threads, worked from the formulas of ISO 965-1.

Each tolerance is worked from its formula and set to a preferred number of the R40 series, as the
standard does; one grade finer or coarser is then four steps of the series. Where the standard's
printed tables depart from the nearest preferred number 'to keep the progression smooth', the
printed value is taken from `tables/iso965_departures.csv`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from itertools import pairwise

from assistant.calc.exact import in_unit, positive, shown
from assistant.calc.table import rows
from assistant.calc.threads import basic_thread
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, mm

_DECADE = (
    100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236, 250, 265, 280,
    300, 315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630, 670, 710, 750, 800, 850,
    900, 950,
)  # fmt: skip
# Under 100 the standard prints whole micrometres: 33.5 as 34 and 42.5 as 42 (ISO 497, R'40).
PREFERRED = (
    *(int((Decimal(n) / 10).to_integral_value(ROUND_HALF_EVEN)) for n in _DECADE),
    *_DECADE,
    *(n * 10 for n in _DECADE),
)
"""Preferred numbers from 10 to 9500 micrometres, one step of R40 apart."""

_BANDS = tuple(map(Decimal, ("0.99", "1.4", "2.8", "5.6", "11.2", "22.4", "45", "90", "180")))
_EXTERNAL_STEPS = {3: -12, 4: -8, 5: -4, 6: 0, 7: 4, 8: 8, 9: 12}
_INTERNAL_STEPS = {4: -3, 5: 1, 6: 5, 7: 9, 8: 13}
_GRADES = {"d": (4, 6, 8), "d2": (3, 4, 5, 6, 7, 8, 9), "D": (4, 5, 6, 7, 8)}
_DEVIATIONS = {"g": (15, 11), "h": (0, 0), "G": (15, 11), "H": (0, 0)}


@dataclass(frozen=True, slots=True)
class MetricLimits:
    """Limits of one metric thread, each to the 0.001 mm of the standard's own tables."""

    tolerance: str
    """As asked for: `6g`, `5g6g`, `6H`."""
    deviation: Quantity
    """es (below basic) or EI (above basic), without a sign."""
    major_min: Quantity
    major_max: Quantity | None
    """None for an internal thread: the root may run out."""
    pitch_min: Quantity
    pitch_max: Quantity
    minor_min: Quantity | None
    """None for an external thread: the root contour decides."""
    minor_max: Quantity


def metric_limits(major: Quantity, pitch: Quantity, tolerance: str) -> MetricLimits:
    """Limits of a metric thread 1 to 180 mm for a class such as 6g, 4h, 5g6g, 6H or 5H6H.

    With two parts the first is the pitch diameter's, the second the crest's, as on a drawing.
    Source: ISO 965-1, formulas and tables. Raises `BadInput` for a class that does not exist.
    """
    diameter, p = in_unit(positive("major", major), "mm"), in_unit(positive("pitch", pitch), "mm")
    if not Decimal("0.2") <= p <= 8:
        raise ImpossibleInput("pitch", shown(pitch), "ISO 965-1 covers 0.2 to 8 mm")
    (pitch_grade, letter), (crest_grade, crest_letter) = _parts(tolerance)
    if letter != crest_letter:
        raise BadInput(
            "tolerance", tolerance, "wanted the same letter for pitch and crest diameter"
        )
    basic = basic_thread(major, pitch)
    pitch_dia = _thousandth(in_unit(basic.pitch_dia, "mm"))
    minor = _thousandth(in_unit(basic.minor_int, "mm"))
    shift = _microns(_deviation(p, letter))
    pitch_tolerance = _microns(_pitch_tolerance(diameter, p, letter.isupper(), pitch_grade))
    crest_tolerance = _microns(_crest_tolerance(p, letter.isupper(), crest_grade))
    if letter.isupper():
        return MetricLimits(
            tolerance=tolerance,
            deviation=mm(shift),
            major_min=mm(diameter + shift),
            major_max=None,
            pitch_min=mm(pitch_dia + shift),
            pitch_max=mm(pitch_dia + shift + pitch_tolerance),
            minor_min=mm(minor + shift),
            minor_max=mm(minor + shift + crest_tolerance),
        )
    return MetricLimits(
        tolerance=tolerance,
        deviation=mm(shift),
        major_min=mm(diameter - shift - crest_tolerance),
        major_max=mm(diameter - shift),
        pitch_min=mm(pitch_dia - shift - pitch_tolerance),
        pitch_max=mm(pitch_dia - shift),
        minor_min=None,
        minor_max=mm(minor - shift),
    )


def _parts(tolerance: str) -> tuple[tuple[int, str], tuple[int, str]]:
    found = re.fullmatch(r"([3-9])([ghGH])(?:([4-8])([ghGH]))?", tolerance.strip())
    want = "wanted a class such as 6g, 6h, 5g6g, 6H or 6G"
    if found is None:
        raise BadInput("tolerance", tolerance, want)
    first = (int(found[1]), found[2])
    second = (int(found[3]), found[4]) if found[3] else first
    internal = first[1].isupper()
    if first[0] not in (_INTERNAL_STEPS if internal else _EXTERNAL_STEPS):
        raise BadInput("tolerance", tolerance, want)
    if second[0] not in _GRADES["D" if internal else "d"]:
        raise BadInput("tolerance", tolerance, f"{want}; there is no crest grade {second[0]}")
    return first, second


def _pitch_tolerance(diameter: Decimal, pitch: Decimal, internal: bool, grade: int) -> int:
    if not _BANDS[0] <= diameter <= _BANDS[-1]:
        raise ImpossibleInput("major", f"{diameter} mm", "tolerances are worked for 1 to 180 mm")
    low, high = next((a, b) for a, b in pairwise(_BANDS) if a <= diameter <= b)
    # ISO 965-1: T_d2(6) = 90 P^0.4 d^0.1, d the geometric mean of the diameter band.
    mean = (low * high).sqrt()
    formula = 90 * pitch ** Decimal("0.4") * mean ** Decimal("0.1")
    sixth = _printed("pitch diameter", pitch, formula, band=low)
    return _stepped(sixth, (_INTERNAL_STEPS if internal else _EXTERNAL_STEPS)[grade])


def _crest_tolerance(pitch: Decimal, internal: bool, grade: int) -> int:
    if not internal:
        # ISO 965-1: T_d(6) = 180 P^(2/3) - 3.15 / sqrt P.
        formula = 180 * pitch ** (Decimal(2) / 3) - Decimal("3.15") / pitch.sqrt()
        return _stepped(_printed("major external", pitch, formula), _EXTERNAL_STEPS[grade])
    if pitch < 1:
        # ISO 965-1: T_D1(6) = 433 P - 190 P^1.22 under 1 mm, 230 P^0.7 from there.
        formula = 433 * pitch - 190 * pitch ** Decimal("1.22")
    else:
        formula = 230 * pitch ** Decimal("0.7")
    return _stepped(_printed("minor internal", pitch, formula), _EXTERNAL_STEPS[grade])


def _deviation(pitch: Decimal, letter: str) -> int:
    constant, slope = _DEVIATIONS[letter]
    if not slope:
        return 0
    # ISO 965-1: g and G 15 + 11 P. Positions e and f are left out: their printed values keep to
    # no one rule.
    return _printed(f"deviation {letter.lower()}", pitch, constant + slope * pitch)


def _printed(what: str, pitch: Decimal, formula: Decimal, band: Decimal | None = None) -> int:
    for row in rows("iso965_departures"):
        if (
            row["tolerance"] == what
            and Decimal(row["pitch"]) == pitch
            and (band is None or Decimal(row["over"]) == band)
        ):
            return int(row["micrometres"])
    return min(PREFERRED, key=lambda number: abs(number - formula))


def _stepped(base: int, steps: int) -> int:
    return PREFERRED[PREFERRED.index(base) + steps]


def _microns(value: int) -> Decimal:
    return Decimal(value) / 1000


def _thousandth(value: Decimal) -> Decimal:
    return value.quantize(Decimal("0.001"))

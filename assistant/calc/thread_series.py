"""Threads by what they are called: `1/2-13`, `10-24 UNC`, `M8`, `M10x1.25`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from assistant.calc.table import Row, rows
from assistant.calc.threads import basic_thread, pitch_of
from assistant.errors import BadInput
from assistant.units import Quantity, inches, mm

LONG_ENGAGEMENT = Decimal(9)
"""Pitches of engagement of UNEF, of 12 and more threads an inch, and of specials (ASME B1.1)."""

_UNIFIED = re.compile(
    r"""^\s*(?P<number>\#|no\.?\s*)?(?P<size>\d+-\d+/\d+|\d+\s+\d+/\d+|\d+/\d+|\d*\.\d+|\d+)\s*
        (?:in|")?\s*[-x\s]\s*(?P<tpi>\d+(?:\.\d+|-1/2)?)
        \s*[-\s]?\s*(?P<series>[A-Z]*)\s*$""",
    re.VERBOSE | re.IGNORECASE,
)
_METRIC = re.compile(
    r"^\s*M\s*(?P<major>\d+(?:\.\d+)?)(?:\s*[x×\-]\s*(?P<pitch>\d*\.?\d+))?\s*$", re.IGNORECASE
)
WANT = "wanted a thread such as 1/2-13, 10-24 UNC, M8 or M10x1.25"


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread as it is called and what that stands for."""

    name: str
    """`1/2-13 UNC`, `M10x1.25`."""
    series: str
    """UNC, UNF, UNEF, UN or UNS for a special; coarse, fine or special for metric threads."""
    major: Quantity
    pitch: Quantity
    tpi: Decimal | None
    """Threads an inch; None for a metric thread."""
    source: str

    @property
    def metric(self) -> bool:
        """Whether it is an ISO metric thread."""
        return self.tpi is None

    @property
    def engagement(self) -> Quantity:
        """The length of engagement its standard tolerance is worked for (ASME B1.1)."""
        short = self.tpi is not None and self.series in ("UNC", "UNF", "UN") and self.tpi <= 8
        if self.series in ("UNC", "UNF") or short:
            return self.major
        length: Quantity = self.pitch * LONG_ENGAGEMENT
        return length


def find_thread(text: str) -> Thread:
    """The thread that `text` names; a combination in no series is a special (UNS).

    Raises `BadInput` for what is no thread's name, and for a series name that does not have this
    combination; `ImpossibleInput` for a pitch too coarse for the diameter.
    """
    if found := _METRIC.match(text):
        return _metric(text, found)
    if found := _UNIFIED.match(text):
        return _unified(text, found)
    raise BadInput("thread", text, WANT)


def threads_of(series: str) -> tuple[Thread, ...]:
    """All threads of a series: UNC, UNF, UNEF, UN, coarse or fine."""
    found = [_from_unified(row) for row in rows("unified_threads") if row["series"] == series]
    found += [_from_metric(row) for row in rows("metric_threads") if row["series"] == series]
    if not found:
        raise BadInput("series", series, "wanted one of UNC, UNF, UNEF, UN, coarse, fine")
    return tuple(found)


def _metric(text: str, found: re.Match[str]) -> Thread:
    major = Decimal(found["major"])
    sizes = [row for row in rows("metric_threads") if Decimal(row["major"]) == major]
    if found["pitch"] is None:
        for row in sizes:
            if row["series"] == "coarse":
                return _from_metric(row)
        raise BadInput("thread", text, f"M{major:f} has no coarse pitch: say M{major:f} x pitch")
    pitch = Decimal(found["pitch"])
    for row in sizes:
        if Decimal(row["pitch"]) == pitch:
            return _from_metric(row)
    basic_thread(mm(major), mm(pitch))
    return Thread(f"M{major:f}x{pitch:f}", "special", mm(major), mm(pitch), None, "no series")


def _from_metric(row: Row) -> Thread:
    return Thread(
        name=row["size"], series=row["series"], major=mm(row["major"]), pitch=mm(row["pitch"]),
        tpi=None, source=row["source"],
    )  # fmt: skip


def _unified(text: str, found: re.Match[str]) -> Thread:
    size = re.sub(r"\s+", "-", found["size"])
    tpi = Decimal(found["tpi"].replace("-1/2", ".5"))
    wanted = found["series"].upper()
    numbered = found["number"] is not None
    for row in rows("unified_threads"):
        if Decimal(row["tpi"]) == tpi and _same_size(row, size, numbered):
            thread = _from_unified(row)
            if wanted in ("", "UN", "UNS", "UNR", thread.series, f"{thread.series}R"):
                return thread
            raise BadInput("thread", text, f"{size}-{tpi:f} is {thread.series}, not {wanted}")
    if wanted and not wanted.startswith("UN"):  # another standard may well have it
        want = "not supported: wanted a unified thread as 1/2-13, or a metric one as M12x1.75"
        raise BadInput("thread", text, f"{wanted} threads are {want}")
    if wanted not in ("", "UN", "UNS", "UNR"):
        raise BadInput("thread", text, f"{wanted} has no {size}-{tpi:f}")
    # No series has it. A whole number is inches on a coarse special and a number size on a fine
    # one, unless it is written with a number sign; no number size is larger than 12.
    if size.isdigit() and int(size) <= 12 and (numbered or int(size) > 4 or tpi >= 24):
        major = Decimal("0.060") + Decimal("0.013") * int(size)
    else:
        major = _inches(text, size)
    if not tpi or not major:
        raise BadInput("thread", text, WANT)
    basic_thread(inches(major), pitch_of(tpi))
    return Thread(f"{size}-{tpi:f} UNS", "UNS", inches(major), pitch_of(tpi), tpi, "no series")


def _same_size(row: Row, size: str, numbered: bool) -> bool:
    """Whether a row's size is the one written, as `1/2`, `.5`, `10` or `#10`."""
    if row["size"] == size:
        return not numbered or Decimal(row["major"]) < 1
    return "." in size and Decimal(row["major"]) == Decimal(size)


def _from_unified(row: Row) -> Thread:
    tpi = Decimal(row["tpi"])
    return Thread(
        name=f"{row['size']}-{tpi:f} {row['series']}", series=row["series"],
        major=inches(row["major"]), pitch=pitch_of(tpi), tpi=tpi, source=row["source"],
    )  # fmt: skip


def _inches(text: str, size: str) -> Decimal:
    try:
        total = sum((Fraction(part) for part in size.split("-")), Fraction(0))
    except ZeroDivisionError:
        raise BadInput("thread", text, WANT) from None
    return Decimal(total.numerator) / Decimal(total.denominator)

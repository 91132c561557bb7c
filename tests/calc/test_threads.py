"""Thread form, depths, names and series."""

from __future__ import annotations

from decimal import Decimal

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.exact import in_unit
from assistant.calc.thread_series import find_thread, threads_of
from assistant.calc.thread_sizes import thread_sizes
from assistant.calc.threads import (
    DEPTH_BASES,
    basic_thread,
    depth_for_tool,
    pitch_of,
    sharp_height,
    single_depth,
)
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import inches, mm

mpmath.mp.dps = 40
PITCHES = st.decimals("0.2", "8", places=3)


@pytest.mark.parametrize(
    ("basis", "factor"),
    [("5/8 H", "0.5413"), ("11/16 H", "0.5954"), ("17/24 H", "0.6134"), ("3/4 H", "0.6495")],
)
def test_the_four_depths_in_print(basis: str, factor: str) -> None:
    """The factors as TRAPS.md of the check values quotes them from print."""
    assert round(DEPTH_BASES[basis].factor, 4) == Decimal(factor)


@given(PITCHES)
def test_height_is_that_of_an_equilateral_triangle(pitch: Decimal) -> None:
    """mpmath, by the tangent of 60 degrees and not by a square root."""
    expected = mpmath.mpf(str(pitch)) / 2 * mpmath.tan(mpmath.pi / 3)
    got = mpmath.mpf(str(in_unit(sharp_height(mm(pitch)), "mm")))
    assert abs(got - expected) < mpmath.mpf("1e-15")


@given(PITCHES, st.sampled_from(sorted(DEPTH_BASES)))
def test_inch_and_metric_depths_agree(pitch: Decimal, basis: str) -> None:
    metric = single_depth(mm(pitch), basis)
    inch = single_depth(mm(pitch).to("inch"), basis)
    assert abs(in_unit(metric - inch, "mm")) < Decimal("1e-15")


@given(PITCHES)
def test_depth_by_tool_meets_the_named_depths(pitch: Decimal) -> None:
    """A flat of P/8 cuts 3/4 H, a flat of P/4 cuts 5/8 H: geometry of the basic profile."""
    whole = mm(pitch)
    for flat, basis in ((whole / 8, "3/4 H"), (whole / 4, "5/8 H")):
        apart = depth_for_tool(whole, flat) - single_depth(whole, basis)
        assert abs(in_unit(apart, "mm")) < Decimal("1e-15")


def test_a_nose_wider_than_a_quarter_pitch_is_refused() -> None:
    with pytest.raises(ImpossibleInput, match="a quarter of the pitch"):
        depth_for_tool(mm(1), mm("0.3"))


@pytest.mark.parametrize(
    ("major", "pitch", "pitch_dia", "minor", "rounded"),
    [
        # ISO 724 basic diameters and ISO 68-1 d3, from memory.
        ("6", "1", "5.350", "4.917", "4.773"),
        ("8", "1.25", "7.188", "6.647", "6.466"),
        ("10", "1.5", "9.026", "8.376", "8.160"),
        ("20", "2.5", "18.376", "17.294", "16.933"),
        ("36", "4", "33.402", "31.670", "31.093"),
    ],
)
def test_metric_basic_diameters(
    major: str, pitch: str, pitch_dia: str, minor: str, rounded: str
) -> None:
    basic = basic_thread(mm(major), mm(pitch))
    got = (basic.pitch_dia, basic.minor_int, basic.minor_ext_rounded)
    assert [str(round(in_unit(size, "mm"), 3)) for size in got] == [pitch_dia, minor, rounded]


@pytest.mark.parametrize(
    ("text", "name", "major", "pitch"),
    [
        ("1/2-13", "1/2-13 UNC", "0.5 in", 13),
        ("1/2-13 UNC", "1/2-13 UNC", "0.5 in", 13),
        ("1/2-20", "1/2-20 UNF", "0.5 in", 20),
        ("1/2-28", "1/2-28 UNEF", "0.5 in", 28),
        ("1/2-16", "1/2-16 UN", "0.5 in", 16),
        ("1/2-14", "1/2-14 UNS", "0.5 in", 14),
        (".5-13", "1/2-13 UNC", "0.5 in", 13),
        ("10-24", "10-24 UNC", "0.19 in", 24),
        ("#10-32 UNF", "10-32 UNF", "0.19 in", 32),
        ("No. 4-40", "4-40 UNC", "0.112 in", 40),
        ("1-8", "1-8 UNC", "1 in", 8),
        ("1-64", "1-64 UNC", "0.073 in", 64),
        ("#1-64", "1-64 UNC", "0.073 in", 64),
        ("1-1/4-7", "1-1/4-7 UNC", "1.25 in", 7),
        ("1 1/4-7", "1-1/4-7 UNC", "1.25 in", 7),
        ("2-4.5", "2-4.5 UNC", "2 in", "4.5"),
        ("2-4-1/2", "2-4.5 UNC", "2 in", "4.5"),
    ],
)
def test_unified_names(text: str, name: str, major: str, pitch: int | str) -> None:
    thread = find_thread(text)
    assert thread.name == name
    assert in_unit(thread.major, "inch") == Decimal(major.split()[0])
    assert thread.tpi == Decimal(pitch)


@pytest.mark.parametrize(
    ("text", "name", "series", "pitch"),
    [
        ("M8", "M8", "coarse", "1.25"),
        ("m10 x 1.25", "M10x1.25", "fine", "1.25"),
        ("M10-1.5", "M10", "coarse", "1.5"),
        ("M12×1", "M12x1", "fine", "1"),
        ("M10x1.12", "M10x1.12", "special", "1.12"),
    ],
)
def test_metric_names(text: str, name: str, series: str, pitch: str) -> None:
    thread = find_thread(text)
    assert (thread.name, thread.series) == (name, series)
    assert in_unit(thread.pitch, "mm") == Decimal(pitch)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "wanted a thread such as"),
        ("banana", "wanted a thread such as"),
        ("1/2", "wanted a thread such as"),
        ("1/0-13", "wanted a thread such as"),
        ("1/2-0", "wanted a thread such as"),
        ("M", "wanted a thread such as"),
        ("M5.5", "no coarse pitch"),
        ("1/2-13 UNF", "is UNC, not UNF"),
        ("1/2-14 UNF", "UNF has no 1/2-14"),
        ("1/2-12 BSW", "BSW threads are not supported"),
        ("1/2-14 NPT", "NPT threads are not supported"),
        ("1/2-10 ACME", "ACME threads are not supported"),
        ("1/2-2", "too coarse"),
        ("M4x4", "too coarse"),
    ],
)
def test_what_is_no_thread_is_refused_with_the_reason(text: str, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        find_thread(text)


def test_every_thread_of_the_tables_is_found_by_its_own_name() -> None:
    for series in ("UNC", "UNF", "UNEF", "UN", "coarse", "fine"):
        for thread in threads_of(series):
            assert find_thread(thread.name) == thread
            assert thread_sizes(thread.name).source == thread.source


# threadlib, design/UIS_thread.csv at 315d3b9: threads per inch of whole series, as read there.
# Its UNC list has 4 threads an inch at 2 and 2-1/4 in, where the standard has 4-1/2.
THREADLIB_UNC = "64 56 48 40 40 32 32 24 24 20 18 16 14 13 12 11 10 9 8 7 7 6 6 5 4 4 4 4 4 4 4 4 4"
THREADLIB_UNF = "80 72 64 56 48 44 40 36 32 28 28 24 24 20 20 18 18 16 14 12 12 12 12 12"
THREADLIB_UNEF = "32 32 32 32 28 28 24 24 24 20 20 20 20 20 18 18 18 18 18 18 18 18 18 18 18"
THREADLIB_ERRORS = {"2-4.5 UNC", "2-1/4-4.5 UNC"}


@pytest.mark.parametrize(
    ("series", "text"),
    [("UNC", THREADLIB_UNC), ("UNF", THREADLIB_UNF), ("UNEF", THREADLIB_UNEF)],
)
def test_series_agree_with_an_open_table(series: str, text: str) -> None:
    ours = threads_of(series)
    theirs = [Decimal(tpi) for tpi in text.split()]
    differ = {thread.name for thread, tpi in zip(ours, theirs, strict=True) if thread.tpi != tpi}
    assert differ == (THREADLIB_ERRORS if series == "UNC" else set())


def test_number_sizes_step_by_thirteen_thousandths() -> None:
    """Major diameter of size N is 0.060 + 0.013 N inches (ASME B1.1)."""
    for series in ("UNC", "UNF"):
        for thread in threads_of(series):
            size = thread.name.split("-")[0]
            if size.isdigit() and in_unit(thread.major, "inch") < Decimal("0.25"):
                assert in_unit(thread.major, "inch") == Decimal("0.06") + int(size) * Decimal(
                    "0.013"
                )


def test_pitch_of_needs_threads() -> None:
    with pytest.raises(ImpossibleInput, match="tpi"):
        pitch_of(Decimal(0))
    assert in_unit(pitch_of(Decimal(20)), "inch") == Decimal("0.05")
    assert find_thread("1/4-20").engagement == inches("0.25")
    assert in_unit(find_thread("1/2-28").engagement, "inch").quantize(Decimal("1e-6")) == Decimal(
        "0.321429"
    )

"""Limits of size, against printed tables."""

from __future__ import annotations

from decimal import Decimal

import mpmath
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.calc.exact import in_unit
from assistant.calc.metric_limits import metric_limits
from assistant.calc.thread_series import find_thread, threads_of
from assistant.calc.thread_sizes import thread_limits
from assistant.calc.unified_limits import CLASSES, pitch_tolerance, unified_limits
from assistant.errors import BadInput, ImpossibleInput
from assistant.units import Quantity, inches, mm

# External: major max, min, pitch max, min. Internal: minor min, max, pitch min, max.
# ASME B1.1 limits as printed in an engineering reference page (efunda.com, unified screw threads,
# standard series; 0-80 to 3-48), in a web reprint (5/8-11 to 5/8-28), and, marked m, from memory
# of the same handbook table.
UNIFIED = """
0-80     2A .0595 .0563 .0514 .0496   2B .0465 .0514 .0519 .0542
0-80     3A .0600 .0568 .0519 .0506   3B .0465 .0514 .0519 .0536
1-64     2A .0724 .0686 .0623 .0603   2B .0561 .0623 .0629 .0655
1-64     3A .0730 .0692 .0629 .0614   3B .0561 .0623 .0629 .0648
1-72     2A .0724 .0689 .0634 .0615   2B .0580 .0635 .0640 .0665
1-72     3A .0730 .0695 .0640 .0626   3B .0580 .0635 .0640 .0659
2-56     2A .0854 .0813 .0738 .0717   2B .0667 .0737 .0744 .0772
2-56     3A .0860 .0819 .0744 .0728   3B .0667 .0737 .0744 .0765
2-64     2A .0854 .0816 .0753 .0733   2B .0691 .0753 .0759 .0786
2-64     3A .0860 .0822 .0759 .0744   3B .0691 .0753 .0759 .0779
3-48     2A .0983 .0938 .0848 .0825   2B .0764 .0845 .0855 .0885
5/8-11   2A .6234 .6113 .5644 .5589   2B .5270 .5460 .5660 .5732
5/8-18   2A .6236 .6149 .5875 .5828   2B .5650 .5780 .5889 .5949
m 4-40   2A .1112 .1061 .0950 .0925   2B .0849 .0939 .0958 .0991
m 5-44   2A .1243 .1195 .1095 .1070   2B .1004 .1079 .1102 .1134
m 10-24  2A .1890 .1818 .1619 .1586   2B .1450 .1560 .1629 .1672
m 10-32  2A .1891 .1831 .1688 .1658   2B .1560 .1640 .1697 .1736
m 1/4-20 2A .2489 .2408 .2164 .2127   2B .1960 .2070 .2175 .2224
m 1/4-28 2A .2490 .2425 .2258 .2225   2B .2110 .2200 .2268 .2311
m 3/8-16 2A .3737 .3643 .3331 .3287   2B .3070 .3210 .3344 .3401
m 1/2-13 2A .4985 .4876 .4485 .4435   2B .4170 .4340 .4500 .4565
m 3/4-10 2A .7482 .7353 .6832 .6773   2B .6420 .6630 .6850 .6927
m 1-8    2A .9980 .9830 .9168 .9100   2B .8650 .8900 .9188 .9276
"""


def _unified_rows() -> list[tuple[str, str, list[Decimal]]]:
    rows = []
    for line in UNIFIED.strip().splitlines():
        words = line.removeprefix("m ").split()
        rows.append((words[0], words[1], [Decimal(word) for word in words[2:6]]))
        rows.append((words[0], words[6], [Decimal(word) for word in words[7:11]]))
    return rows


@pytest.mark.parametrize(("thread", "thread_class", "printed"), _unified_rows())
def test_unified_limits_as_printed(thread: str, thread_class: str, printed: list[Decimal]) -> None:
    limits = thread_limits(thread, thread_class)
    if thread_class.endswith("A"):
        got = (limits.major_max, limits.major_min, limits.pitch_max, limits.pitch_min)
    else:
        got = (limits.minor_min, limits.minor_max, limits.pitch_min, limits.pitch_max)
    assert [in_unit(size, "inch") for size in got if size is not None] == printed


@pytest.mark.parametrize(
    ("thread", "minor_max"),
    [("5/8-11", ".5391"), ("5/8-12", ".5463"), ("5/8-16", ".5662"), ("5/8-18", ".5730"),
     ("5/8-20", ".5787"), ("5/8-24", ".5869")],
)  # fmt: skip
def test_class_3b_minor_diameters_as_printed(thread: str, minor_max: str) -> None:
    """Largest minor diameter, class 3B, from the web reprint of the table for 5/8 in."""
    assert in_unit(thread_limits(thread, "3B").minor_max, "inch") == Decimal(minor_max)


def test_handbook_example_of_an_extra_fine_thread() -> None:
    """1/2-28 UNEF-2A: Machinery's Handbook, 31st ed., Table 3, as quoted in the check values."""
    limits = thread_limits("1/2-28", "2A")
    assert limits.pitch_max == inches("0.4757")
    assert limits.pitch_min == inches("0.4720")
    assert limits.major_max == inches("0.4989")


@given(
    st.decimals("0.06", "4", places=4),
    st.integers(4, 80),
    st.decimals("0.1", "1.5", places=2),
)
def test_pitch_tolerance_against_mpmath(major: Decimal, tpi: int, share: Decimal) -> None:
    length = major * share
    got = pitch_tolerance(inches(major), Decimal(tpi), inches(length))
    d, le = mpmath.mpf(str(major)), mpmath.mpf(str(length))
    expected = (
        mpmath.mpf("0.0015") * mpmath.cbrt(d)
        + mpmath.mpf("0.0015") * mpmath.sqrt(le)
        + mpmath.mpf("0.015") * mpmath.exp(-mpmath.log(tpi) * 2 / 3)
    )
    assert abs(mpmath.mpf(str(got)) - expected) <= mpmath.mpf("5.1e-7")


@pytest.mark.parametrize("thread_class", CLASSES)
def test_unified_limits_are_in_order_for_every_thread(thread_class: str) -> None:
    for series in ("UNC", "UNF", "UNEF", "UN"):
        for thread in threads_of(series):
            limits = thread_limits(thread.name, thread_class)
            assert in_unit(limits.pitch_min, "inch") < in_unit(limits.pitch_max, "inch")
            if limits.major_max is not None:
                assert limits.minor_max < limits.pitch_min < limits.pitch_max < limits.major_min
            else:
                assert limits.minor_min is not None
                assert limits.minor_min < limits.minor_max < limits.pitch_max


def test_classes_tighten() -> None:
    def spread(name: str) -> Decimal:
        limits = thread_limits("3/4-10", name)
        return in_unit(limits.pitch_max - limits.pitch_min, "inch")

    assert spread("1A") > spread("2A") > spread("3A")
    assert spread("1B") > spread("2B") > spread("3B")


# Limits as read in an open table, threadlib design/metric_thread.csv at 227f481 (values 'given in
# the norm' of the 6g and 6H columns): major max, min, pitch max, min; minor min, max, pitch max.
METRIC = """
M1     .982 .915 .820 .767        .729 None .909
M1.6   1.581 1.496 1.354 1.291    1.221 1.321 1.458
M2     1.981 1.886 1.721 1.654    1.567 1.679 1.830
M2.5   2.480 2.380 2.188 2.117    2.013 2.138 2.303
M3     2.980 2.874 2.655 2.580    2.459 2.599 2.775
M3.5   3.479 3.354 3.089 3.004    2.850 3.010 3.222
M4     3.978 3.838 3.523 3.433    3.242 3.422 3.663
M5     4.976 4.826 4.456 4.361    4.134 4.334 4.605
M6     5.974 5.794 5.324 5.212    4.917 5.153 5.500
M8     7.972 7.760 7.160 7.042    6.647 6.912 7.348
M8x1   7.974 7.794 7.324 7.212    6.917 7.153 7.500
M10    9.968 9.732 8.994 8.862    8.376 8.676 9.206
M10x1.25 9.972 9.760 9.160 9.042  8.647 8.912 9.348
M12    None None None None        10.106 10.441 11.063
M12x1.25 None None None None      10.647 10.912 11.368
M12x1.5 None None None None       10.376 10.676 11.216
M14    None None None None        11.835 12.210 12.913
M16    None None None None        13.835 14.210 14.913
M20    None None None None        17.294 17.744 18.600
M24    None None None None        20.752 21.252 22.316
M30    None None None None        26.211 26.771 28.007
M36    None None None None        31.670 32.270 33.702
M42    None None None None        37.129 37.799 39.392
M48    None None None None        42.587 43.297 45.087
M56    None None None None        50.046 50.796 52.783
M64    None None None None        57.505 58.305 60.478
"""
# Known differences of that table from ISO 965-1: from M11 on its external limits are rounded to
# four figures, so they are not compared; M1 6H has another minor maximum (0.809 for 0.800);
# M5.5x0.5 and M52x5 use the tolerances of the neighbouring band.


@pytest.mark.parametrize("line", METRIC.strip().splitlines())
def test_metric_limits_against_an_open_table(line: str) -> None:
    name, *printed = line.split()
    outer, inner = thread_limits(name, "6g"), thread_limits(name, "6H")
    got = (
        outer.major_max, outer.major_min, outer.pitch_max, outer.pitch_min,
        inner.minor_min, inner.minor_max, inner.pitch_max,
    )  # fmt: skip
    for size, text in zip(got, printed, strict=True):
        assert text == "None" or in_unit(size, "mm") == Decimal(text)


# ISO 965-1, pitch diameter tolerances in micrometres, from memory: bands and pitches with the
# grades 3 to 9 (external) or 4 to 8 (internal) that the tables print.
EXTERNAL = {
    ("1.2", "0.2"): "24 30 38 48", ("2", "0.4"): "34 42 53 67 85",
    ("4", "0.5"): "38 48 60 75 95", ("4", "0.7"): "45 56 71 90 112",
    ("5", "0.8"): "48 60 75 95 118 150 190", ("8", "1"): "56 71 90 112 140 180 224",
    ("10", "1.5"): "67 85 106 132 170 212 265", ("16", "2"): "80 100 125 160 200 250 315",
    ("20", "2.5"): "85 106 132 170 212 265 335", ("30", "3.5"): "106 132 170 212 265 335 425",
    ("48", "5"): "125 160 200 250 315 400 500", ("64", "6"): "140 180 224 280 355 450 560",
}  # fmt: skip
INTERNAL = {
    ("2", "0.45"): "60 75 95", ("4", "0.5"): "63 80 100 125", ("5", "0.8"): "80 100 125 160 200",
    ("8", "1.25"): "100 125 160 200 250", ("10", "1.5"): "112 140 180 224 280",
    ("12", "1.75"): "125 160 200 250 315", ("42", "4.5"): "200 250 315 400 500",
    ("48", "5"): "212 265 335 425 530", ("64", "6"): "236 300 375 475 600",
}  # fmt: skip


@pytest.mark.parametrize(("key", "printed"), EXTERNAL.items())
def test_external_tolerances_of_every_grade(key: tuple[str, str], printed: str) -> None:
    for grade, microns in enumerate(printed.split(), 3):
        limits = metric_limits(mm(key[0]), mm(key[1]), f"{grade}h6h")
        assert _microns(limits.pitch_max - limits.pitch_min) == int(microns)


@pytest.mark.parametrize(("key", "printed"), INTERNAL.items())
def test_internal_tolerances_of_every_grade(key: tuple[str, str], printed: str) -> None:
    for grade, microns in enumerate(printed.split(), 4):
        limits = metric_limits(mm(key[0]), mm(key[1]), f"{grade}H6H")
        assert _microns(limits.pitch_max - limits.pitch_min) == int(microns)


def _microns(size: Quantity) -> Decimal:
    return in_unit(size, "mm") * 1000


def test_metric_limits_are_in_order_and_fit_together() -> None:
    for series in ("coarse", "fine"):
        for thread in threads_of(series):
            bolt, nut = thread_limits(thread.name, "6g"), thread_limits(thread.name, "6H")
            assert bolt.pitch_min < bolt.pitch_max < nut.pitch_min < nut.pitch_max
            assert bolt.major_max is not None
            assert bolt.major_min < bolt.major_max < nut.major_min


@pytest.mark.parametrize("tolerance", ["", "6", "6x", "2g", "6f", "5g6h", "3H", "6H9H"])
def test_what_is_no_metric_class_is_refused(tolerance: str) -> None:
    with pytest.raises(BadInput, match="tolerance"):
        metric_limits(mm(8), mm("1.25"), tolerance)


def test_what_is_no_unified_class_is_refused() -> None:
    with pytest.raises(BadInput, match="class is 2C"):
        unified_limits(inches("0.5"), Decimal(13), "2C")
    with pytest.raises(BadInput, match="is metric"):
        thread_limits("M8", "2A")
    with pytest.raises(ImpossibleInput, match="three diameters"):
        unified_limits(inches("0.5"), Decimal(13), "2A", inches(2))
    assert find_thread("M8").metric

"""Work that stands out far, and slender bars: what is said and what is cut agree, or it's refused.

Case 20 of the mishaps: a half inch bar, twelve inches out, was told "light cuts" and given 0.096.
"""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from assistant.errors import BadFile, ImpossibleInput
from assistant.jobs.steps import Cut
from assistant.units import magnitude
from tests.jobs.walking import changed, plan_of

HALF_INCH = (('stock = "1-1/2 in"', 'stock = "1/2 in"'), ('diameter = "1.2500 in"',
             'diameter = "0.400 in"'))  # fmt: skip


def bar(out: str, tailstock: bool = False, steady: bool = False):
    held = f"tailstock = {str(tailstock).lower()}\nsteady = {str(steady).lower()}"
    swaps = (('stick_out = "4-1/2 in"', f'stick_out = "{out}"'), ("tailstock = true", held))
    return plan_of("turn-shaft", changed("turn-shaft", *HALF_INCH, *swaps))


def cuts(plan) -> list[Decimal]:
    """What each cut along takes on one side; the dial of this lathe counts the diameter."""
    found = [s for s in plan.steps if isinstance(s, Cut) and s.feed_axis == "carriage"]
    return [magnitude(one.taken, "inch") / 2 for one in found]


def told(plan) -> Decimal:
    """The deepest cut that is spoken of, a side."""
    said = " ".join(plan.step("check-slender").say)
    return Decimal(re.search(r"Cuts of ([\d.]+) thou a side at most", said)[1]) / 1000


def test_a_foot_of_half_inch_bar_is_refused_with_what_helps():
    with pytest.raises(ImpossibleInput, match="can whip: bring up the tailstock"):
        bar("12 in")
    with pytest.raises(ImpossibleInput, match=r"least useful cut, 0\.002 in a side: set a steady"):
        bar("20 in", tailstock=True)


@pytest.mark.parametrize(
    ("out", "tailstock", "steady", "words", "most"),
    [
        ("12 in", True, False, "It wants a steady", "0.007"),
        ("3-1/2 in", False, False, "Bring up the tailstock. Without it", "0.005"),
        ("12 in", False, True, "then spring passes", "0.007"),
    ],
)
def test_the_words_and_the_cuts_agree(out, tailstock, steady, words, most):
    plan = bar(out, tailstock, steady)
    assert words in " ".join(plan.step("check-slender").say)
    assert told(plan) == Decimal(most)
    # the finishing cut takes what the last measurement finds, here as foreseen, to half a thou
    assert max(cuts(plan)) <= Decimal(most) + Decimal("0.0005")


def test_with_tailstock_and_steady_it_stands_more():
    plan = bar("12 in", tailstock=True, steady=True)
    assert told(plan) == Decimal("0.030")
    assert max(cuts(plan)) == Decimal("0.018")  # 0.0355 left to rough, in two


def test_a_bore_is_cut_as_its_bar_stands():
    """A 3/8 in bar set out 3 in: (0.375 / 0.625)^4 of the stiffness of the demo's."""
    swap = ('bar = "5/8 in"', 'bar = "3/8 in"')
    plan = plan_of("bore-bush", changed("bore-bush", swap))
    said = re.search(r"([\d.]+) thou a side at most", " ".join(plan.step("check-bar").say))
    most = Decimal(said[1]) / 1000
    assert most < Decimal("0.030")
    assert max(cuts(plan)) <= most + Decimal("0.0005")
    with pytest.raises(ImpossibleInput, match="take a stouter bar"):
        plan_of("bore-bush", changed("bore-bush", ('bar = "5/8 in"', 'bar = "3/16 in"')))


def test_every_other_lathe_job_stands_or_is_refused():
    thin = ('stick_out = "3-1/2 in"', 'stick_out = "9 in"')
    with pytest.raises(ImpossibleInput, match="can whip"):
        plan_of("thread-external", changed("thread-external", thin, ("tailstock = true", "")))
    with pytest.raises(ImpossibleInput, match="can whip"):
        plan_of("taper-morse", changed("taper-morse", thin, ("tailstock = true", "")))
    with pytest.raises(ImpossibleInput, match="presses hard"):
        plan_of("knurl-knob", changed("knurl-knob", ('stick_out = "1 in"', 'stick_out = "3 in"')))
    with pytest.raises(ImpossibleInput, match="springs too far"):
        plan_of("face-length", changed(
            "face-length", ('diameter = "1-1/4 in"', 'diameter = "1/8 in"'), ('bore = "5/8 in"', "")
        ))  # fmt: skip
    thin_collar = ('collar = "32 mm"', 'collar = "6 mm"')
    with pytest.raises(ImpossibleInput, match="springs too far"):
        plan_of("tailstock-line", changed("tailstock-line", thin_collar))
    with pytest.raises(BadFile, match="from_jaws"):
        plan_of("part-ring", changed("part-ring", ('from_jaws = "8 mm"', 'from_jaws = "130 mm"')))


def test_a_slender_thread_is_cut_lighter():
    """1/4-20 on the tailstock, 4-1/2 in out. At 5 in even its lightest cut would spring it."""

    def thread(out: str):
        return plan_of("thread-external", changed(
            "thread-external", ("3/4-10 UNC", "1/4-20 UNC"),
            ('length = "2-1/2 in"', 'length = "1 in"'),
            ('stick_out = "3-1/2 in"', f'stick_out = "{out}"'),
            ('least_cut = "0.003 in"', 'least_cut = "0.001 in"'),
        ))  # fmt: skip

    plan = thread("4-1/2 in")
    taken = [s.taken for s in plan.steps if isinstance(s, Cut) and s.kind == "roughing"]
    # the compound counts along its own way: 1 square is 1.149 there
    assert magnitude(max(taken), "inch") <= told(plan) * Decimal("1.15")
    assert told(plan) == Decimal("0.009")
    with pytest.raises(ImpossibleInput, match="lightest cut of the thread: set a steady"):
        thread("5 in")

"""A size that the cutter or a dial has made: checked, and not cut to."""

from __future__ import annotations

from decimal import Decimal

from assistant.jobs.common import checks
from assistant.jobs.milling import mill
from assistant.jobs.steps import Measure
from assistant.jobs.to_size.sizing import Toleranced
from assistant.spoken import Figure


def measure_made(
    job: mill.Milling,
    fact: str,
    what: str,
    size: Toleranced,
    slack: str,
    too_far: str,
    out: str = "",
) -> Measure:  # fmt: skip
    """A size that the cutter or a dial has made, and that is only checked: cutting makes it larger.

    `what` is the size as it is spoken, `the width of the slot`; `slack` how far outside its limits
    it may be before it is a slip of the tongue, in the job's unit; `out` what is said before it.
    """
    low, high, around = job.q(size.low), job.q(size.high), job.q(Decimal(slack))
    return Measure(
        id="measure-" + fact.rpartition(".")[2],
        title=what[:1].upper() + what[1:],
        spindle_words=f"Spindle off.{out}",
        say=(f"Measure {what}.",),
        cautions=checks.MEASURE_CAUTIONS,
        fact=fact,
        gauge="caliper",
        figure=Figure(job.q(size.nominal), what, mill.size_places(job.unit), source="the drawing"),
        nominal=job.q(size.nominal),
        low=low,
        high=high,
        band_low=low - around,
        band_high=high + around,
        grows=True,
        too_far=too_far,
    )

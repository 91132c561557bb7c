"""Further shoulders on a shaft: each smaller in diameter and shorter than the one before.

The largest diameter is turned first, over its whole length, so that the shaft stays stiff; each
smaller one then starts from the diameter that was measured last and from where the dial stood.
Shoulders are counted on the carriage's dial, all from the one touch on the end face. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.fields import Fields
from assistant.jobs.lathe import shoulder as lengths
from assistant.jobs.lathe.diameter import Diameter, DiameterWork, LengthwiseStroke, diameter_work
from assistant.jobs.lathe.setup import LatheJob
from assistant.jobs.lathe.shoulder import Shoulder
from assistant.jobs.steps import Facts, Step
from assistant.jobs.to_size.sizing import toleranced
from assistant.machine import Machine
from assistant.replacing import replace
from assistant.spoken import Figure
from assistant.units import magnitude, quantity

WHICH = ("second", "third", "fourth", "fifth", "sixth")
FEED_WORDS = "Feed on. Trip it short, the last by hand."


@dataclass(frozen=True)
class FurtherStep:
    """A smaller diameter with its shoulder."""

    one: Diameter
    shoulder: Shoulder


def read_further(
    fields: Fields, unit: str, first: Diameter, shoulder: Shoulder | None
) -> tuple[FurtherStep, ...]:
    """The `[[step]]` tables; every error is a `BadFile` that names table, key and value."""
    want = "wanted [[step]] tables, each with diameter and length"
    entries = fields.take("step", want, [])
    if not isinstance(entries, list) or not all(isinstance(one, Mapping) for one in entries):
        fields.refuse("step", entries, want)
    if not entries:
        return ()
    if first.inner or shoulder is None or shoulder.by != "carriage":
        fields.fail(
            "step", f"{len(entries)} more",
            'wanted a turned shaft with a [shoulder] by = "carriage": every shoulder is counted '
            "on its dial",
        )  # fmt: skip
    if len(entries) > len(WHICH):
        fields.fail("step", f"{len(entries)} more", f"wanted {len(WHICH)} at most")
    found: list[FurtherStep] = []
    before = FurtherStep(first, shoulder)
    for which, entry in zip(WHICH, entries, strict=False):
        table = Fields(fields.path, entry, f"step {len(found) + 1}.")
        before = _read(table, unit, which, before)
        found.append(before)
    return tuple(found)


def _read(table: Fields, unit: str, which: str, before: FurtherStep) -> FurtherStep:
    size, length = toleranced(table, "diameter", unit), toleranced(table, "length", unit)
    usual = quantity(lengths.USUAL[unit], unit)
    left = magnitude(table.length("left_on", unit, usual), unit)
    table.done()
    larger, longer = before.one.size, before.shoulder.size
    if size.high >= larger.low:
        want = f"must be smaller than {larger.nominal:f}, the one before"
        table.fail("diameter", f"{size.nominal:f}", want)
    if length.high >= longer.low - before.shoulder.left:
        want = f"must be shorter than {longer.nominal:f}, the one before"
        table.fail("length", f"{length.nominal:f}", want)
    if left >= length.low:
        table.fail("left_on", f"{left:f}", "must be less than the length")
    return FurtherStep(
        replace(before.one, stock=before.one.size.nominal, size=size, clean_up=Decimal(0),
                prefix=which, what=f"the {which} diameter"),
        Shoulder(size=length, by="carriage", left=left, inner=False, which=which),
    )  # fmt: skip


def further_steps(
    job: LatheJob, machine: Machine, facts: Facts, further: Sequence[FurtherStep],
    work: DiameterWork, *, spring: bool,
) -> tuple[list[Step], list[tuple[str, Figure]]]:  # fmt: skip
    """Steps and results of the smaller diameters, after the first one `work`.

    Raises `ImpossibleInput` where a length can't be held by the carriage's dial.
    """
    steps: list[Step] = []
    results: list[tuple[str, Figure]] = []
    for one in further:
        lengths.check_dial(job, machine, one.shoulder)
        work = diameter_work(job, machine, facts, one.one, after=work, springy=spring)
        stroke = LengthwiseStroke(
            work, one.one, FEED_WORDS, target=lengths.stop(job, machine, one.shoulder),
            begin=lengths.start(job, machine), spring=spring,
        )  # fmt: skip
        steps += stroke.returned(f"{one.one.prefix}-start")
        steps += work.steps(stroke)
        steps += lengths.finishing(job, machine, facts, one.shoulder, work, one.one.stock)
        results.append((work.sizing.what, work.sizing.figure))
    return steps, results

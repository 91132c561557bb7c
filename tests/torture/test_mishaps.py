"""A sample of the trouble scan: of no operation more is flagged than is known.

What is known stands in `tests/torture/mishaps/findings.csv`, and may only fall. After mending:

    python -m tests.torture.test_mishaps          writes down what has fallen, prints what is left
    python -m tests.torture.test_mishaps 30       a larger sample, printed alone
    scripts/torture --only mishaps --minutes 240  the whole of it
"""

from __future__ import annotations

import sys
from decimal import Decimal

import pytest

from assistant.jobs.operations import OPERATIONS
from assistant.jobs.steps import Measure
from tests.torture.mishaps import findings, meant, rules
from tests.torture.mishaps.bench import RESUME, Bench, Forked, Said, UnspokenError
from tests.torture.mishaps.plain import demo_jobs, walk
from tests.torture.mishaps.scan import EACH, Scanned, sample
from tests.torture.mishaps.trial import TROUBLES, Finding, Trial


@pytest.fixture(scope="module")
def sampled() -> Scanned:
    return sample()


def test_nothing_is_flagged_that_is_not_known(sampled: Scanned) -> None:
    assert sampled.jobs == len(OPERATIONS)
    assert sampled.tried > 2 * len(OPERATIONS)
    risen = findings.risen("sample", sampled.by_operation)
    assert not risen, [
        f"{one.kind}: {one.replay}" for one in sampled.findings if one.operation in risen
    ]


def replayed(finding: Finding) -> list[str]:
    """What is said when its words are typed anew, from the beginning of the job."""
    path = demo_jobs()[finding.job]
    bench = Bench(Forked(path.stem, path))
    spoken = []
    for words in finding.words:
        try:
            bench.say(words)
        except UnspokenError as error:
            return [*spoken, str(error)]
        spoken.append(bench.spoken)
    return spoken


def test_a_finding_can_be_replayed(sampled: Scanned) -> None:
    """One of each kind: its words lead to the same again without the fork that they were found
    by. What was asked, and what a yes or a no to it led to, may be the last two."""
    first_of_each = {one.kind: one for one in reversed(sampled.findings)}
    for kind, one in first_of_each.items():
        assert kind in rules.KINDS
        assert one.replay == " ".join((f"wheelcall say {one.job}", *map('"{}"'.format, one.words)))
        assert one.spoken in " ".join(replayed(one)[-2:]), one.replay


def test_a_fork_goes_on_as_the_whole_job_does() -> None:
    """What every replay rests on, though nothing should be flagged any more."""
    plain = walk("keyseat-inch", demo_jobs()["keyseat-inch"])
    for place in (plain.first_touch, len(plain.benches) // 2):
        bench = plain.benches[place].fork()
        typed = (*bench.typed, "lost count", RESUME, "what now", *plain.words[place : place + 2])
        for words in typed[len(bench.typed) :]:
            bench.say(words)
        whole = Bench(Forked("keyseat-inch", plain.path))
        for words in typed:
            whole.say(words)
        assert (whole.typed, whole.spoken, whole.page) == (typed, bench.spoken, bench.page)
        assert (whole.travel, whole.cuts) == (bench.travel, bench.cuts)


@pytest.mark.parametrize("name", ["woodruff-inch", "tslot-metric"])
def test_more_than_there_was_is_more_than_is_uncut(name: str) -> None:
    """Where it isn't known how a size goes with the handwheel, the widest of what can be."""
    plain = walk(name, demo_jobs()[name])
    for line in plain.lines.values():
        bench = next(one for one in plain.benches if rules.made(one.cuts, "size", line.axis))
        first = rules.made(bench.cuts, "size", line.axis)[0]
        uncut = next(step.at_none for step in bench.job.state.plan.steps
                     if isinstance(step, Measure) and step.surface == "size")  # fmt: skip
        assert uncut is not None
        there_was = line.before(first)
        assert there_was <= uncut.magnitude if line.grows else there_was >= uncut.magnitude
        return


def test_a_tap_counted_from_where_it_bites_needs_no_zero() -> None:
    bench = Bench(Forked("tap-blind", demo_jobs()["tap-blind"]))
    counted = "Fifteen turns of the tap, from where it bites."
    page = bench.page
    assert rules.grounds(Said("i'm set", counted, True, page, page))
    assert not rules.grounds(Said("i'm set", "Fifteen turns of the tap.", True, page, page))


def test_nothing_is_nonsense_that_a_gauge_held_askew_tells() -> None:
    """A tenth of a witness skim isn't; ten times as much is."""
    plain = walk("step-inch", demo_jobs()["step-inch"])
    place = next(n for n, bench in enumerate(plain.benches) if bench.cuts)
    bench = plain.benches[place].fork()
    asked = meant.Asked("size", Decimal("0.003"), Decimal("0.184"), Decimal("0.190"), True)
    kinds = dict(Trial(plain, place, TROUBLES[0])._sizes(bench, asked))
    assert {"a tenth", "nothing"}.isdisjoint(kinds)
    assert kinds["ten times"] > Decimal("0.03") - Decimal("0.005")


def test_every_operation_has_its_number() -> None:
    assert set(findings.known("sample")) == set(OPERATIONS)
    assert set(findings.known("whole")) <= set(OPERATIONS)


if __name__ == "__main__":
    each = next((int(word) for word in sys.argv[1:] if word.isdigit()), EACH)
    done = sample(each=each)
    if each == EACH:
        findings.write("sample", done.by_operation, also_risen="--also-risen" in sys.argv)
    for finding in done.findings:
        print(f"{finding.kind} | {finding.trouble} | {finding.told} | {finding.replay}")
        print(f"    said last: {finding.spoken}")
    print(f"{done.tried} ways on, {len(done.findings)} flagged: {dict(done.by_kind)}")

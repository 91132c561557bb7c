"""A sample of the trouble scan: of no operation more is flagged than is known.

What is known stands in `tests/torture/mishaps/findings.csv`, and may only fall. After mending:

    python -m tests.torture.test_mishaps          writes down what has fallen, prints what is left
    python -m tests.torture.test_mishaps 30       a larger sample, printed alone
    scripts/torture --only mishaps --minutes 240  the whole of it
"""

from __future__ import annotations

import sys

import pytest

from assistant.jobs.operations import OPERATIONS
from tests.torture.mishaps import findings, rules
from tests.torture.mishaps.bench import RESUME, Bench, Forked, UnspokenError
from tests.torture.mishaps.plain import demo_jobs, walk
from tests.torture.mishaps.scan import EACH, Scanned, sample
from tests.torture.mishaps.trial import Finding


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

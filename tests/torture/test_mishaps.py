"""A sample of the trouble scan: of no operation more is flagged than is known.

What is known stands in `tests/torture/mishaps/findings.csv`, and may only fall. After mending:

    python -m tests.torture.test_mishaps          writes down what has fallen, prints what is left
    python -m tests.torture.test_mishaps 30       a larger sample, printed alone
    scripts/torture --part mishaps --minutes 240  the whole of it
"""

from __future__ import annotations

import sys

import pytest

from assistant.jobs.planning import OPERATIONS
from tests.torture.mishaps import findings, rules
from tests.torture.mishaps.scan import EACH, Scanned, sample


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


def test_every_finding_can_be_replayed(sampled: Scanned) -> None:
    for one in sampled.findings:
        assert one.kind in rules.KINDS
        assert one.replay.startswith("wheelcall say ")
        assert len(one.words) >= one.place


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
    print(f"{done.tried} ways on, {len(done.findings)} flagged: {dict(done.by_kind)}")

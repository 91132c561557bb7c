"""What every journal must do: the file and the one in memory alike."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from assistant.devices.journal import MemoryJournal, open_journal
from assistant.errors import JournalError
from assistant.ports import Journal
from assistant.session.events import (
    AxisStands,
    Event,
    JobFinished,
    JobStarted,
    Record,
    StopSaid,
    Undone,
)
from assistant.units import ureg
from tests.session.sample_events import EVENTS

NOON = datetime(2026, 1, 5, 12, 0, tzinfo=UTC)


def records(*events: Event, after: int = 0, at: datetime = NOON) -> list[Record]:
    """`events` as one command's records, following event `after`."""
    return [Record(after + n, after + 1, at, event) for n, event in enumerate(events, 1)]


def started(title: str) -> JobStarted:
    return JobStarted(title, "keyseat", "job", "machine", "Mill 2")


@pytest.fixture(params=["memory", "file"])
def journal(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Journal]:
    made: Journal = (
        MemoryJournal() if request.param == "memory" else open_journal(tmp_path / "shop.sqlite")
    )
    yield made
    made.close()


def test_events_come_back_as_they_were_in_their_order(journal: Journal) -> None:
    given = records(*EVENTS)
    journal.append("shaft", given[:3])
    journal.append("shaft", given[3:])
    assert list(journal.read("shaft")) == given


def test_a_new_journal_is_empty(journal: Journal) -> None:
    assert list(journal.jobs()) == []
    assert list(journal.read("shaft")) == []


def test_jobs_are_kept_apart(journal: Journal) -> None:
    journal.append("one", records(started("One")))
    journal.append("two", records(started("Two"), StopSaid()))
    assert [len(journal.read(job)) for job in ("one", "two", "three")] == [1, 2, 0]


def test_nothing_to_append_is_nothing(journal: Journal) -> None:
    journal.append("shaft", [])
    assert list(journal.jobs()) == []


@pytest.mark.parametrize("seqs", [[2], [1, 1], [1, 3], [2, 1], [0], [-1]])
def test_a_gap_or_double_is_refused_whole(journal: Journal, seqs: list[int]) -> None:
    wrong = [Record(seq, 1, NOON, StopSaid()) for seq in seqs]
    with pytest.raises(JournalError, match="can't follow"):
        journal.append("shaft", wrong)
    assert list(journal.read("shaft")) == []
    journal.append("shaft", records(started("Shaft")))
    with pytest.raises(JournalError, match="event 1 of shaft can't follow 1"):
        journal.append("shaft", records(StopSaid()))
    assert len(journal.read("shaft")) == 1


def test_what_cannot_be_written_leaves_no_half(journal: Journal) -> None:
    journal.append("shaft", records(started("Shaft")))
    inexact = AxisStands("knee", ureg.Quantity(0.1, "inch"))
    with pytest.raises(JournalError, match="decimal"):
        journal.append("shaft", records(StopSaid(), inexact, after=1))
    unzoned = Record(2, 2, datetime(2026, 1, 5, 12), StopSaid())
    with pytest.raises(JournalError, match="zone"):
        journal.append("shaft", [unzoned])
    with pytest.raises(JournalError, match="name"):
        journal.append("", records(StopSaid()))
    assert len(journal.read("shaft")) == 1
    journal.append("shaft", records(StopSaid(), after=1))
    assert len(journal.read("shaft")) == 2


def test_the_list_of_jobs_tells_each(journal: Journal) -> None:
    later = NOON + timedelta(hours=1)
    journal.append("one", records(started("First shaft")))
    journal.append("two", records(started("Second shaft"), at=later))
    journal.append("one", records(JobFinished(later.isoformat()), after=1, at=later))
    one, two = journal.jobs()
    assert (one.id, one.title, one.finished, one.events) == ("one", "First shaft", True, 2)
    assert (one.started, one.touched) == (NOON, later)
    assert (two.id, two.title, two.finished, two.events) == ("two", "Second shaft", False, 1)


def test_a_finish_that_was_taken_back_is_none(journal: Journal) -> None:
    journal.append("shaft", records(started("Shaft")))
    journal.append("shaft", records(JobFinished("now"), after=1))
    assert journal.jobs()[0].finished
    journal.append("shaft", records(Undone(2), after=2))
    assert not journal.jobs()[0].finished
    journal.append("shaft", records(JobFinished("now"), after=3))
    assert journal.jobs()[0].finished


def test_a_clock_that_is_set_back_changes_no_order(journal: Journal) -> None:
    journal.append("early", records(started("Early"), at=NOON - timedelta(days=400)))
    journal.append("shaft", records(started("Shaft")))
    journal.append("shaft", records(StopSaid(), after=1, at=NOON - timedelta(days=300)))
    assert [record.seq for record in journal.read("shaft")] == [1, 2]
    journal.append("early", records(StopSaid(), after=1, at=NOON - timedelta(days=500)))
    assert [job.id for job in journal.jobs()] == ["early", "shaft"]  # last touched first


def test_a_job_without_a_start_is_listed_by_its_name(journal: Journal) -> None:
    journal.append("odd", records(StopSaid()))
    assert journal.jobs()[0].title == "odd"

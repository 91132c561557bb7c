"""Documents: the set-up sheet against its plan, the record against what was said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import pytest

from assistant.app.cli.paper import sheet_of
from assistant.app.cli.sheet import planned, walk
from assistant.app.paths import configs_folder
from assistant.jobs.steps import Check
from assistant.phrases.book import load_book
from assistant.present.formatting import dial_text, show_turns
from assistant.present.paper.card import LISTENING_ALONE, TOPICS, phrase_card
from assistant.present.paper.model import NEVER, Cautions, Cell, Document, Table
from assistant.present.paper.plain import plain_text
from assistant.present.paper.record import job_record
from tests.factories import Job, expected_words

JOBS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))


def table_cells(document: Document) -> Iterator[Sequence[Cell]]:
    for block in document.blocks:
        if isinstance(block, Table):
            yield from block.rows


@pytest.mark.parametrize("name", JOBS)
def test_the_sheet_has_every_step_with_its_turns_and_reading(name: str) -> None:
    document, _ = sheet_of(name)
    state = planned(name)
    assert state.plan is not None
    rows = {row[1].text: row for row in table_cells(document) if row[0].box}
    assert set(rows) == {str(number) for number in range(1, len(state.plan.steps) + 1)}
    for number, (step, figure) in enumerate(walk(state), 1):
        texts = [cell.text for cell in rows[str(number)]]
        if figure is None or figure.move is None or isinstance(step, Check):
            continue
        dial = texts[3]
        stop = dial_text(figure.move.reading, figure.move.wheel)
        assert f"at {stop}" in dial
        if figure.move.distance.magnitude:
            assert show_turns(figure.move) in dial


@pytest.mark.parametrize("name", JOBS)
def test_the_sheet_has_every_caution_and_source(name: str) -> None:
    document, _ = sheet_of(name)
    plan = planned(name).plan
    assert plan is not None
    framed = [line for b in document.blocks if isinstance(b, Cautions) for line in b.lines]
    assert framed[0] == NEVER
    assert {c for step in plan.steps for c in step.cautions} <= set(framed)
    text = " ".join(cell.text for row in table_cells(document) for cell in row)
    for _, figure in plan.results:
        assert figure.source in text


def troubled() -> Job:
    """A job with a slip asked back, another depth of cut, a note, and a word taken back."""
    job = Job("keyseat-inch")
    job.say("skip that check")
    job.to_step("measure-shaft")
    job.try_saying("measured one point six")
    job.say("no")
    job.say("measured one point five oh one")
    job.to_step("roughing-2-set")
    job.says("note the arbor squeaks", "cut forty thou this pass", "i'm set", "scratch that")
    job.say("dial reads three")
    job.to_step("measure-size-1")
    job.say("measured one point six eight two")
    job.to_step("measure-size-2")
    job.say("measured one point six six oh")
    while not job.state.finished:
        job.say(expected_words(job.state))
    return job


@pytest.fixture(scope="module")
def record() -> Document:
    job = troubled()
    return job_record(job.journal.read(job.assistant.job_id), job.assistant.job_id)[0]


def section(document: Document, title: str) -> str:
    """A part of the printed record."""
    text = plain_text(document)
    return text.partition(f"\n{title}\n")[2].partition("\n\n")[0]


def test_the_record_tells_what_was_measured_against_which_limits(record: Document) -> None:
    measured = section(record, "Measured")
    assert "1.682 in  1.650 to 1.665 in" in measured
    assert "seventeen over the limit" in measured
    assert "five inside" in measured
    charts = [cell for row in table_cells(record) for cell in row if cell.drawing is not None]
    assert len(charts) == 2


def test_the_record_tells_who_decided_what(record: Document) -> None:
    decided = section(record, "What the operator decided")
    assert "Clothing and eyes" in decided
    assert "skipped" in decided
    assert "Asked back: One six hundred?" in decided
    assert "measured one point six" in decided
    assert "depth of cut chosen, pass 2" in decided
    assert "0.040 in" in decided


def test_the_record_keeps_what_was_taken_back(record: Document) -> None:
    assert "Taken back" in section(record, "Corrections and interruptions")
    assert "the dial was read" in section(record, "Corrections and interruptions")
    struck = [cell for row in table_cells(record) for cell in row if cell.struck]
    assert any("Set pass 2 (taken back)" in cell.text for cell in struck)
    done = section(record, "What was done")
    assert done.count("Set pass 2") == 2  # taken back, and then done


def test_the_record_has_notes_and_all_that_was_done(record: Document) -> None:
    assert "the arbor squeaks" in section(record, "Notes")
    done = section(record, "What was done")
    assert "took 0.040 in, depth 0.043 in" in done
    assert "saddle dial zeroed, paper 0.000 in" in done
    assert "Deburr" in done
    assert "38 of 38 steps" in record.lines[2]


def test_a_job_left_open_is_no_finished_record() -> None:
    job = Job("keyseat-metric")
    job.say("checked")
    document, unit = job_record(job.journal.read(job.assistant.job_id), "some-id")
    assert unit == "mm"
    assert "not finished; 1 of" in document.lines[2]


def test_records_that_begin_no_job_are_refused() -> None:
    with pytest.raises(ValueError, match="no job begins"):
        job_record([], "nothing")


def test_the_card_has_every_phrase_of_the_book() -> None:
    book = load_book()
    text = plain_text(phrase_card(book)).replace("\n", " ")
    known = {name for topic in TOPICS.values() for name in topic}
    for name, phrases in book.intents.items():
        if name in LISTENING_ALONE:
            continue
        first = phrases.examples[0].split()[0]
        assert first in text, name
    assert not known - set(book.intents), "the card tells of what the book has not"

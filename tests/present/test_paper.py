"""Documents: the set-up sheet against its plan, the record against what was said."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta, timezone

import pytest

from assistant.app.cli.paper import sheet_of
from assistant.app.cli.sheet import planned, print_plan, walk
from assistant.app.paths import configs_folder
from assistant.jobs.steps import Check, Index
from assistant.phrases.book import load_book
from assistant.present.formatting import dial_text, show_turns
from assistant.present.paper.card import LISTENING_ALONE, TOPICS, phrase_card
from assistant.present.paper.folding import Row, fold
from assistant.present.paper.model import NEVER, Cautions, Cell, Document, Table
from assistant.present.paper.plain import plain_text
from assistant.present.paper.record import job_record, zone_of
from tests.factories import Job, expected_words

JOBS = sorted(path.stem for path in (configs_folder() / "jobs").glob("*.toml"))


def table_cells(document: Document) -> Iterator[Sequence[Cell]]:
    for block in document.blocks:
        if isinstance(block, Table):
            yield from block.rows


def every_row(document: Document) -> dict[str, Sequence[Cell]]:
    """The row of each step, by its number; a step that is folded has that of its first round."""
    rows: dict[str, Sequence[Cell]] = {}
    for row in table_cells(document):
        if not row[0].box:
            continue
        again = re.fullmatch(r"(\d+) to (\d+)", row[1].text)
        if again is None:
            rows[row[1].text] = row
            continue
        first, last = int(again[1]), int(again[2])
        length = (last - first + 1) // int(row[2].title.split()[1])
        for number in range(first, last + 1):
            rows[str(number)] = rows[str(first - length + (number - first) % length)]
    return rows


@pytest.mark.parametrize("name", JOBS)
def test_the_sheet_has_every_step_with_its_turns_and_reading(name: str) -> None:
    document, _ = sheet_of(name)
    state = planned(name)
    rows = every_row(document)
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
    framed = [line for b in document.blocks if isinstance(b, Cautions) for line in b.lines]
    assert framed[0] == NEVER
    assert {c for step in plan.steps for c in step.cautions} <= set(framed)
    text = " ".join(cell.text for row in table_cells(document) for cell in row)
    for _, figure in plan.results:
        assert figure.source in text


def test_rounds_that_are_alike_are_said_once() -> None:
    document, _ = sheet_of("gear-inch")
    rows = [row for row in table_cells(document) if row[0].box]
    plan = planned("gear-inch").plan
    assert len(rows) < len(plan.steps) / 3
    again = [row for row in rows if row[2].title.startswith("Repeat ")]
    assert len(again) == 2  # roughed all round, then finished
    assert all(re.fullmatch(r"Repeat 2\d times\.", row[2].title) for row in again)
    folded = every_row(document)
    begins = int(again[0][1].text.split()[0]) - 1
    step = next(step for step in plan.steps[begins:] if isinstance(step, Index))
    assert folded[str(plan.index(step.id) + 1)][3].text == "1 turn\n44 holes on the 66"


def test_each_setting_of_a_rotary_table_has_its_own_line() -> None:
    """By a crank the moves are alike, and their turns and holes are what matters. On a table each
    has a reading of its own in its words, and the table's scale stands beside it; zeros passed
    are no turns."""
    document, _ = sheet_of("divide-table")
    boxes = [row for row in table_cells(document) if row[0].box]
    rows = [row for row in boxes if row[2].title.startswith(("Division", "Once"))]
    assert len(rows) == 11
    assert len({row[2].text for row in rows}) == 11
    # 360 / 11 degrees each, from zero, in whole degrees of the table's own scale
    assert [row[3].text for row in rows] == [
        *(f"table past\n{int(360 / 11 * number)} °" for number in range(1, 11)),
        "table at\n0 °",
    ]


def test_the_plan_tells_the_holes_of_a_crank(capsys: pytest.CaptureFixture[str]) -> None:
    """`5.71 turns` is nothing that a crank can be turned by."""
    print_plan("divide-ratchet", as_json=False)
    printed = capsys.readouterr().out
    assert printed.count("of the crank: 5 turns + 35 holes on the 49\n") == 7


def test_what_differs_is_never_folded() -> None:
    """Rows of other depth, dial or with a size to write down keep their own line."""

    def row(number: int, dial: str, depth: str = "") -> Row:
        return (Cell(box=True), Cell(str(number)), Cell("Feed.", title="Cut."), Cell(dial),
                Cell(depth))  # fmt: skip

    alike = [row(n, "stop at 20") for n in range(1, 6)]
    assert [r[2].title for r in fold(alike)] == ["Cut.", "Repeat 4 times."]
    assert fold(alike)[1][1].text == "2 to 5"
    for other in (
        [row(n, f"stop at {n}") for n in range(1, 6)],
        [row(n, "stop at 20", f"{n} mm") for n in range(1, 6)],
        [row(n, "is ____________") for n in range(1, 6)],
        alike[:2],
    ):
        assert fold(other) == other


def test_a_run_back_is_told_in_full_once() -> None:
    document, _ = sheet_of("keyseat-inch")
    backs = [r[2] for r in table_cells(document) if r[0].box and r[2].title == "Run back."]
    assert len(backs) > 3
    assert backs[0].text.startswith("Spindle off")
    assert all(re.fullmatch(r"As at step \d+\.", cell.text) for cell in backs[1:])


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
    assert "seventeen over, before the last cut" in measured
    assert "over the limit" not in measured  # the part is a good one
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
    assert "is to be read" in section(record, "Corrections and interruptions")
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


def test_the_record_is_in_the_shops_time_with_its_zone() -> None:
    job = Job("keyseat-metric")
    job.say("checked")
    records = job.journal.read(job.assistant.job_id)
    summer = timezone(timedelta(hours=5, minutes=30))
    utc, _ = job_record(records, "some-id")
    local, _ = job_record(records, "some-id", lambda at: at.astimezone(summer))
    assert "begun 2026-01-05 09:00" in utc.lines[2]
    assert "all times UTC;" in utc.lines[2]
    assert "begun 2026-01-05 14:30" in local.lines[2]
    assert "all times UTC+05:30;" in local.lines[2]
    assert "14:30:0" in section(local, "What was done")
    assert zone_of(datetime(2026, 1, 5, tzinfo=timezone(timedelta(hours=-8)))) == "UTC-08:00"


def test_a_job_left_open_is_no_finished_record() -> None:
    job = Job("keyseat-metric")
    job.say("checked")
    document, unit = job_record(job.journal.read(job.assistant.job_id), "some-id")
    assert unit == "mm"
    assert "not finished;" in document.lines[2]
    assert " 1 of " in document.lines[2]


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

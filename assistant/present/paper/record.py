"""The job's record: what was planned, what was done and when, how it measured, who decided what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from assistant.present.formatting import show
from assistant.present.paper.history import History, Line, Measured
from assistant.present.paper.model import (
    FILE_TYPE,
    NEVER,
    Block,
    Cell,
    Document,
    Heading,
    Paragraph,
    Table,
    cells,
)
from assistant.present.paper.values import limits_text, source_number, sources_of, sources_table
from assistant.replacing import replace
from assistant.session.events import Record


def job_record(
    records: Sequence[Record],
    job_id: str,
    local: Callable[[datetime], datetime] = lambda at: at,
) -> tuple[Document, str]:
    """The record of one job, and the unit it was worked in (`inch` or `mm`).

    `local` gives the time of the shop for one of the journal, which keeps UTC.

    What was taken back stays in it, struck through and marked so: a record is never tidied.
    """
    history = History([replace(record, at=local(record.at)) for record in records])
    plan = history.plan
    blocks: list[Block] = [
        *_planned(history),
        *_measured(history.measured),
        *_lines("What the operator decided", history.decisions, "Nothing beside the plan."),
        *_lines("Worked out again", history.replanned, "The plan held.", "because of: "),
        *_lines("Corrections and interruptions", history.corrections, "None."),
        *_lines("Notes", history.notes, "None."),
        Heading("What was done"),
        _done(history.done),
        *sources_table(sources_of(history.first_plan, plan)),
        Heading("Signed"),
        Table((), (cells("Made by", "", "Date", ""), cells("Checked by", "", "Date", "")),
              (2, 7, 1, 3)),
        Paragraph(NEVER),
        Paragraph(
            "Times and values are those of the journal, as told by the operator; nothing here was "
            "measured by the program."
        ),
    ]  # fmt: skip
    document = Document(
        "Job record",
        history.title,
        (f"{plan.operation} on {history.machine}", f"record {job_id}", _when(history)),
        tuple(blocks),
        foot=f"{history.title} · {job_id}",
        type_size=FILE_TYPE,
    )
    return document, plan.unit


def _when(history: History) -> str:
    end = "not finished"
    if history.finished is not None:
        same_day = history.finished.date() == history.began.date()
        end = f"finished {history.finished:{'%H:%M' if same_day else '%Y-%m-%d %H:%M'}}"
    return (
        f"begun {history.began:%Y-%m-%d %H:%M}, {end}; all times {zone_of(history.began)}; "
        f"{history.steps_done} of {len(history.plan.steps)} steps, {history.commands} commands"
    )


def zone_of(at: datetime) -> str:
    """The zone that a time is in: `UTC+02:00`; `UTC` for one that names no zone, as in a journal
    of another day."""
    offset = at.utcoffset()
    if not offset:
        return "UTC"
    minutes = round(offset.total_seconds() / 60)
    return f"UTC{'+' if minutes > 0 else '-'}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"


def _planned(history: History) -> list[Block]:
    """What was planned first, and what became of it."""
    unit = history.plan.unit
    last = dict(history.plan.results)
    sources = sources_of(history.first_plan, history.plan)
    rows = []
    for name, figure in history.first_plan.results:
        now = last.get(name)
        first = show(figure, unit)
        then = "" if now is None or show(now, unit) == first else show(now, unit)
        rows.append(
            cells(name, first, limits_text(figure, unit), then, source_number(figure, sources))
        )
    head = ("Planned", "At first", "Limits", "At the end", "From")
    return [Heading("What was planned"), Table(head, tuple(rows), (4, 2.6, 4, 2.6, 1))]


def _measured(measured: Sequence[Measured]) -> list[Block]:
    if not measured:
        return [Heading("Measured"), Paragraph("Nothing was measured.")]
    rows = tuple(
        cells(
            f"{one.at:%H:%M}",
            Cell(one.name + (" (taken back)" if one.taken_back else ""), struck=one.taken_back),
            Cell(one.value, bold=True, struck=one.taken_back),
            one.limits,
            Cell(drawing=one.chart) if one.chart is not None else one.verdict,
            one.verdict if one.chart is not None else "",
        )
        for one in measured
    )
    head = ("Time", "Measured", "Size", "Limits", "Where it lies", "Verdict")
    return [Heading("Measured"), Table(head, rows, (1.4, 3.6, 2.1, 2.6, 4.2, 2.6))]


def _lines(title: str, lines: Sequence[Line], none: str, lead: str = "") -> list[Block]:
    if not lines:
        return [Heading(title), Paragraph(none)]
    rows = tuple(
        cells(
            f"{line.at:%H:%M}", lead + line.what, Cell(line.value, struck=line.taken_back), line.by
        )
        for line in lines
    )
    return [Heading(title), Table((), rows, (1.4, 6.5, 5, 3))]


def _done(lines: Sequence[Line]) -> Table:
    rows = tuple(
        cells(
            f"{line.at:%H:%M:%S}",
            line.step,
            Cell(line.what + (" (taken back)" if line.taken_back else ""), struck=line.taken_back),
            Cell(line.value, struck=line.taken_back),
            line.by,
        )
        for line in lines
    )
    return Table(("Time", "No", "What", "Value", "Said"), rows, (1.9, 1, 6, 4, 3.4))

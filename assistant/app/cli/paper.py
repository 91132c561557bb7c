"""What `wheelcall` puts on paper: set-up sheet, job record, and the card of what may be said."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from assistant.app.cli.kept_jobs import records_of
from assistant.app.cli.sheet import planned, walk
from assistant.devices.paper import PAPERS, write_html, write_pdf
from assistant.jobs.common.not_known import not_known
from assistant.jobs.planning import read_job
from assistant.present.paper.model import Document
from assistant.present.paper.record import job_record
from assistant.present.paper.sheet import setup_sheet
from assistant.textfile import visible


def sheet_of(job: str, printed: datetime | None = None) -> tuple[Document, str]:
    """The set-up sheet of a job and the paper usual where its unit is."""
    state = planned(job)
    head, _ = read_job(state.job_text, state.job_name)
    when = printed or datetime.now()
    document = setup_sheet(
        state.plan,
        walk(state),
        machine=state.machine.name,
        material=head.material,
        notes=(*head.notes, *not_known(state.plan, state.machine)),
        printed=f"{visible(Path(state.job_name).name)}, printed {when:%Y-%m-%d %H:%M}",
    )
    return document, usual_paper(state.plan.unit)


def usual_paper(unit: str) -> str:
    """Letter for an inch job, A4 for a metric one."""
    return PAPERS[unit == "inch"]


def write_plan(job: str, path: Path, paper: str) -> None:
    """Write the set-up sheet; `paper` is a4, letter, or auto for what goes with the unit."""
    document, usual = sheet_of(job)
    pages = write_pdf(document, path, usual if paper == "auto" else paper)
    print(f"{path}: {pages} pages")


def write_report(
    job_id: str, pdf: Path | None, html: Path | None, journal: Path | None, paper: str
) -> None:
    """Write the record of a job of the journal, or print it where no file is named."""
    chosen, records = records_of(job_id, journal)
    # the journal keeps UTC; a record is read in the shop, by its clock
    document, unit = job_record(records, chosen, datetime.astimezone)
    if pdf is not None:
        pages = write_pdf(document, pdf, usual_paper(unit) if paper == "auto" else paper)
        print(f"{pdf}: {pages} pages")
    if html is not None:
        write_html(document, html)
        print(f"{html}: written")
    if pdf is None and html is None:
        from assistant.present.paper.plain import plain_text

        print(plain_text(document))

"""`plan --pdf`, `report`, `screens` and `phrases` as they are typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader
from typer.testing import CliRunner, Result

from assistant.app.cli.every_command import app
from assistant.app.cli.screens import pixels
from assistant.devices.journal import open_journal
from assistant.errors import BadInput
from tests.present.test_paper import troubled


def run(*words: str) -> Result:
    result = CliRunner().invoke(app, list(words))
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


@pytest.fixture(scope="module")
def journal(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A shop's journal with one finished job."""
    path = tmp_path_factory.mktemp("shop") / "journal.sqlite"
    job = troubled()
    kept = open_journal(path)
    kept.append(job.assistant.job_id, job.journal.read(job.assistant.job_id))
    kept.close()
    return path, job.assistant.job_id


def test_plan_writes_a_sheet(tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    assert "pages" in run("plan", "keyseat-metric", "--pdf", str(out)).output
    box = PdfReader(out).pages[0].mediabox
    assert (round(box.width), round(box.height)) == (595, 842)


def test_report_writes_what_the_journal_holds(tmp_path: Path, journal: tuple[Path, str]) -> None:
    path, job_id = journal
    pdf, html = tmp_path / "r.pdf", tmp_path / "r.html"
    run("report", job_id, "--pdf", str(pdf), "--html", str(html), "--journal", str(path))
    text = " ".join(page.extract_text() for page in PdfReader(pdf).pages)
    assert "the arbor squeaks" in text
    assert "seventeen" in text
    assert "the arbor squeaks" in html.read_text(encoding="utf-8")
    printed = run("report", "keyseat-inch", "--journal", str(path)).output
    assert "What the operator decided" in printed


def test_report_of_no_such_job_names_those_there_are(journal: tuple[Path, str]) -> None:
    path, job_id = journal
    with pytest.raises(BadInput, match=job_id):
        run("report", "thimble", "--journal", str(path))
    with pytest.raises(BadInput, match="no job was worked yet"):
        run("report", "thimble", "--journal", str(path.with_name("none.sqlite")))


def test_screens_of_a_whole_job(tmp_path: Path) -> None:
    run("screens", "broach-metric", "--size", "320x480", "--out", str(tmp_path), "--theme", "light")
    pictures = sorted(tmp_path.glob("*.png"))
    assert len(pictures) > 8
    assert pictures[0].name == "0001-check.png"
    assert pictures[-1].name.endswith("-done.png")
    with Image.open(pictures[0]) as picture:
        assert picture.size == (320, 480)
        first = picture.convert("L").getpixel((0, 479))
        assert isinstance(first, int)
        assert first > 200  # light


@pytest.mark.parametrize("size", ["", "800", "800x", "x480", "0x0", "99999x10", "axb", "-5x400"])
def test_a_size_that_cannot_be(size: str) -> None:
    with pytest.raises(BadInput, match="--size"):
        pixels(size)
    assert pixels("800x480") == (800, 480)


def test_phrases_printed_and_for_the_wall(tmp_path: Path) -> None:
    assert "scratch that" in run("phrases").output
    out = tmp_path / "card.pdf"
    run("phrases", "--pdf", str(out))
    assert "scratch that" in " ".join(page.extract_text() for page in PdfReader(out).pages)

"""The writers: what a PDF reader finds in the file, and how large it is on the paper."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from assistant.app.cli.paper import sheet_of
from assistant.app.paths import configs_folder
from assistant.devices.paper import write_html, write_pdf
from assistant.devices.paper.ink import hatching
from assistant.devices.paper.pdf import pdf_bytes
from assistant.devices.paper.typeface import SIGNS, printable
from assistant.errors import BadInput, DeviceFailed
from assistant.phrases.book import load_book
from assistant.present.drawings import draw
from assistant.present.paper.card import phrase_card
from assistant.present.paper.model import (
    ARMS_LENGTH_TYPE,
    Cautions,
    Document,
    Heading,
    Paragraph,
    Picture,
    Table,
    cells,
)
from tests.devices.glances import SECTION

POINTS = {"a4": (595, 842), "letter": (612, 792)}
"""ISO 216 A4 210 x 297 mm, and 8.5 x 11 in, in points."""


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> PdfReader:
    path = tmp_path_factory.mktemp("paper") / "sheet.pdf"
    document, paper = sheet_of("keyseat-inch")
    pages = write_pdf(document, path, paper)
    reader = PdfReader(path)
    assert len(reader.pages) == pages
    return reader


def words(reader: PdfReader) -> str:
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in reader.pages))


def test_an_inch_job_is_on_letter_with_its_numbers(sheet: PdfReader) -> None:
    box = sheet.pages[0].mediabox
    assert (round(box.width), round(box.height)) == POINTS["letter"]
    text = words(sheet)
    for wanted in ("4 turns + 140½", "stop at 140½", "Pond pump layshaft", "1.649 to 1.664 in",
                   "Wheelcall advises", "ASME B17.1"):  # fmt: skip
        assert wanted in text
    assert f"{len(sheet.pages)} of {len(sheet.pages)}" in text
    assert sheet.metadata is not None
    assert sheet.metadata.title == "Set-up sheet: Pond pump layshaft, keyseat for the chain wheel"


def test_no_type_is_too_small_for_arms_length(sheet: PdfReader) -> None:
    sizes = set()

    def see(text: str, _cm: object, _tm: object, _font: object, size: float) -> None:
        if text.strip():
            sizes.add(round(size, 1))

    for page in sheet.pages:
        page.extract_text(visitor_text=see)
    assert min(sizes) == ARMS_LENGTH_TYPE
    assert max(sizes) > 1.3 * ARMS_LENGTH_TYPE
    # 16 minutes of arc at 660 mm: 2 d tan(a / 2) = 3.07 mm (NUREG-0700 Rev. 2, 1.3.1-4)
    assert ARMS_LENGTH_TYPE * 25.4 / 72 * 0.73 > 3.07


def fonts(page: PageObject) -> list[dict[str, object]]:
    resources = page["/Resources"]["/Font"]  # type: ignore[index]
    return [resources[name].get_object() for name in resources]


def test_the_typeface_is_in_the_file(sheet: PdfReader) -> None:
    found = fonts(sheet.pages[0])
    assert {str(font["/BaseFont"]).partition("+")[2] for font in found} == {"B612", "B612Bold"}
    for font in found:
        inner = font["/DescendantFonts"][0].get_object()  # type: ignore[index]
        assert "/FontFile2" in inner["/FontDescriptor"]  # TrueType outlines, embedded


def lowest(page: PageObject) -> float:
    """Where the lowest line of text stands, in points from the foot."""
    found: list[float] = []

    def see(text: str, _cm: object, place: list[float], _font: object, _size: float) -> None:
        if text.strip():
            found.append(place[5])

    page.extract_text(visitor_text=see)
    return min(found)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_long_tables_keep_their_head_and_stay_on_the_page(tmp_path: Path, paper: str) -> None:
    rows = tuple(cells(f"row {n}", "some words " * (n % 9)) for n in range(120))
    document = Document(
        "Test", "Long", (), (Heading("H"), Table(("First", "Second"), rows, (1, 3))), "foot"
    )
    write_pdf(document, tmp_path / "long.pdf", paper)
    reader = PdfReader(tmp_path / "long.pdf")
    assert len(reader.pages) > 2
    for page in reader.pages:
        assert "First" in page.extract_text()
        assert lowest(page) > 20
    text = words(reader)
    assert all(f"row {n}" in text for n in range(120))


@pytest.mark.parametrize("name", ["square-block-inch", "thread-external", "centre-plate"])
def test_a_drawing_leaves_the_type_black_and_of_its_size(name: str, tmp_path: Path) -> None:
    """The fill in force wherever text is set, followed through the page as a viewer does."""
    document, paper = sheet_of(name)
    write_pdf(document, tmp_path / "sheet.pdf", paper)
    reader = PdfReader(tmp_path / "sheet.pdf")
    shown = 0
    for page in reader.pages:
        fill: tuple[float, ...] = (0.0,)
        kept: list[tuple[float, ...]] = []
        stream = page.get_contents()
        assert stream is not None
        for operands, operator in ContentStream(stream, reader).operations:
            match operator:
                case b"q":
                    kept.append(fill)
                case b"Q":
                    fill = kept.pop()
                case b"g" | b"rg":
                    fill = tuple(float(value) for value in operands)
                case b"Tj" | b"TJ":
                    assert max(fill) < 0.2
                    shown += 1
    assert shown > 50


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_card_for_the_wall_is_two_pages_at_most(tmp_path: Path, paper: str) -> None:
    pages = write_pdf(phrase_card(load_book()), tmp_path / "card.pdf", paper)
    assert pages <= 2
    text = words(PdfReader(tmp_path / "card.pdf"))
    assert "that's through" in text
    sizes: set[float] = set()

    def see(text: str, _cm: object, _tm: object, _font: object, size: float) -> None:
        if text.strip():
            sizes.add(round(size, 1))

    for page in PdfReader(tmp_path / "card.pdf").pages:
        page.extract_text(visitor_text=see)
    assert min(sizes) >= ARMS_LENGTH_TYPE


@pytest.mark.parametrize("name", sorted(p.stem for p in (configs_folder() / "jobs").glob("*.toml")))
def test_every_sheet_has_its_drawing_and_is_no_booklet(name: str) -> None:
    document, _ = sheet_of(name)
    pictures = [block for block in document.blocks if isinstance(block, Picture)]
    assert len(pictures) == 1
    data, pages = pdf_bytes(document, "a4")
    assert data.startswith(b"%PDF")
    assert pages <= 12


@pytest.mark.parametrize("paper", ["a5", "", "A4 "])
def test_a_paper_that_is_none(tmp_path: Path, paper: str) -> None:
    with pytest.raises(BadInput, match="a4 or letter"):
        write_pdf(Document("T", "t", (), ()), tmp_path / "x.pdf", paper)


def test_a_folder_that_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(DeviceFailed, match="paper"):
        write_pdf(Document("T", "t", (), ()), tmp_path / "file" / "x.pdf")


def test_signs_the_face_has_not_are_told(tmp_path: Path) -> None:
    assert printable("¼ ½ ¾ ° − “x”\n") == "¼ ½ ¾ ° − “x”\n"
    assert printable("長い") == "??"
    write_pdf(Document("T", "長い " + SIGNS, (), ()), tmp_path / "x.pdf")
    assert "½" in words(PdfReader(tmp_path / "x.pdf"))


def test_html_is_one_page_that_is_well_formed_and_escaped(tmp_path: Path) -> None:
    drawing = draw("keyseat", SECTION)
    assert drawing is not None
    document = Document(
        "Job record", "<b>bold & brave</b>", ("line",),
        (Cautions(("Mind <this>",)), Paragraph("p", bold=True), Picture(drawing),
         Picture(drawing, beside=Table((), (cells("a", "b"),), (1, 1)))),
    )  # fmt: skip
    write_html(document, tmp_path / "x.html")
    text = (tmp_path / "x.html").read_text(encoding="utf-8")
    assert "<b>bold & brave" not in text
    assert "Mind &lt;this&gt;" in text
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")
    ids = re.findall(r'id="(\w+)"', text)
    assert len(ids) == len(set(ids)) == 4
    for svg in re.findall(r"<svg.*?</svg>", text, re.DOTALL):
        ET.fromstring(svg)


@given(st.floats(1, 40), st.floats(1, 40), st.floats(0.5, 3))
def test_hatching_stays_inside_and_covers(width: float, height: float, spacing: float) -> None:
    box = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
    lines = list(hatching(box, spacing))
    for line in lines:
        for x, y in line:
            assert -1e-6 <= x <= width + 1e-6
            assert -1e-6 <= y <= height + 1e-6
    length = sum(((a - c) ** 2 + (b - d) ** 2) ** 0.5 for (a, b), (c, d) in lines)
    # every strip of one spacing has one line through it: area = length x spacing
    assert length * spacing == pytest.approx(width * height, abs=2 * spacing * (width + height))

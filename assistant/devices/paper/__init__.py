"""Writers for documents: PDF and HTML. Loaded only when something is to be written."""

from __future__ import annotations

from pathlib import Path

from assistant.errors import BadInput, DeviceFailed
from assistant.present.paper.model import Document

PAPERS = ("a4", "letter")


def write_pdf(document: Document, path: Path, paper: str = "a4") -> int:
    """Write a PDF; the number of its pages. Raises `DeviceFailed` where the file can't be written,
    `BadInput` for a paper that isn't a4 or letter."""
    if paper not in PAPERS:
        raise BadInput("paper", paper, "wanted a4 or letter")
    from assistant.devices.paper.pdf import pdf_bytes

    made, pages = pdf_bytes(document, paper)
    _write(path, made)
    return pages


def write_html(document: Document, path: Path) -> None:
    """Write one self-contained page. Raises `DeviceFailed` where the file can't be written."""
    from assistant.devices.paper.html import html_page

    _write(path, html_page(document).encode("utf-8"))


def _write(path: Path, made: bytes) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(made)
    except OSError as error:
        raise DeviceFailed("paper", f"{path}: {error.strerror}") from None

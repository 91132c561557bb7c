"""Writers for documents: PDF and HTML. Loaded only when something is to be written."""

from __future__ import annotations

from pathlib import Path

from assistant.errors import BadInput, DeviceFailed
from assistant.present.paper.model import Document

PAPERS = ("a4", "letter")


def write_pdf(document: Document, path: Path, paper: str = "a4") -> int:
    """Write a PDF; the number of its pages. Raises `DeviceFailed` where the file can't be written,
    `BadInput` for a paper that isn't a4 or letter and for a folder that isn't there."""
    if paper not in PAPERS:
        raise BadInput("paper", paper, "wanted a4 or letter")
    _want_folder(path)
    from assistant.devices.paper.pdf import pdf_bytes

    made, pages = pdf_bytes(document, paper)
    _write(path, made)
    return pages


def write_html(document: Document, path: Path) -> None:
    """Write one self-contained page. Raises `DeviceFailed` where the file can't be written,
    `BadInput` where its folder isn't there."""
    _want_folder(path)
    from assistant.devices.paper.html import html_page

    _write(path, html_page(document).encode("utf-8"))


def _want_folder(path: Path) -> None:
    """A slip in a path makes no new folders."""
    if not path.parent.exists():
        raise BadInput("file", path, f"there is no folder {path.parent}: make it, or name another")


def _write(path: Path, made: bytes) -> None:
    try:
        path.write_bytes(made)
    except OSError as error:
        raise DeviceFailed("paper", f"{path}: {error.strerror}") from None

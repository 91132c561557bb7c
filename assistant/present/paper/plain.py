"""A document as plain text, for the terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from assistant.present.paper.model import (
    Cautions,
    Cell,
    Document,
    Heading,
    Paragraph,
    Picture,
    Table,
)

WIDTH = 98


def plain_text(document: Document) -> str:
    """The whole document; drawings are told by their titles."""
    lines = [f"{document.kind}: {document.title}", *(line for line in document.lines if line)]
    for block in document.blocks:
        match block:
            case Heading():
                lines += ["", block.text, "-" * len(block.text)]
            case Paragraph():
                lines += textwrap.wrap(block.text, WIDTH)
            case Cautions():
                lines += [
                    part for line in block.lines for part in textwrap.wrap(f"! {line}", WIDTH)
                ]
            case Table():
                lines += _table(block)
            case Picture():
                lines += [
                    f"({block.drawing.title})",
                    *(_table(block.beside) if block.beside else ()),
                ]
    return "\n".join(lines)


def _table(table: Table) -> Iterator[str]:
    rows = [tuple(Cell(text) for text in table.head)] if table.head else []
    rows += table.rows
    texts = [[_text(cell) for cell in row] for row in rows]
    widths = [
        min(max(len(line) for row in texts for line in row[column].split("\n")), 44)
        for column in range(len(table.shares))
    ]
    for row in texts:
        columns = [
            [part for line in text.split("\n") for part in textwrap.wrap(line, width) or [""]]
            for text, width in zip(row, (max(1, width) for width in widths), strict=True)
        ]
        for number in range(max(len(column) for column in columns)):
            cells = (
                (column[number] if number < len(column) else "").ljust(width)
                for column, width in zip(columns, widths, strict=True)
            )
            yield "  ".join(cells).rstrip()


def _text(cell: Cell) -> str:
    if cell.drawing is not None:
        return ""  # its verdict stands beside it
    return "[ ]" if cell.box else f"{cell.title} {cell.text}".strip()

"""A document as PDF, through fpdf2: plain type, hairlines, drawings to scale."""

from __future__ import annotations

import tempfile
from pathlib import Path

from fpdf import FPDF
from fpdf.enums import MethodReturnValue, XPos, YPos

from assistant.devices.paper.ink import BLACK, Inker, room_of
from assistant.devices.paper.typeface import printable, truetype
from assistant.present.paper.model import (
    Cautions,
    Cell,
    Document,
    Heading,
    Paragraph,
    Picture,
    Table,
)

MARGIN = 15.0
PAD = 1.1
"""Between a cell's text and its lines, in mm."""
LARGE = 1.35
"""Of large type, against the smallest."""
DENSE = 0.35
"""Of it, in a dense table."""
CHART = 14.0
"""Height of a chart in a table, in mm."""
MM = 25.4 / 72
"""A point in mm."""
LINE = 1.3
"""Height of a line, in type sizes."""


def pdf_bytes(document: Document, paper: str) -> tuple[bytes, int]:
    """The PDF and the number of its pages; `paper` is a4 or letter."""
    with tempfile.TemporaryDirectory() as folder:
        page = _Paper(document, paper, Path(folder))
        page.fill()
        return bytes(page.output()), page.page


class _Paper(FPDF):
    def __init__(self, document: Document, paper: str, folder: Path) -> None:
        super().__init__(format=paper)
        self.document = document
        self.type = document.type_size
        self.titled = 0
        self.pad = PAD
        self.add_font("B612", "", truetype("B612-Regular", folder))
        self.add_font("B612", "B", truetype("B612-Bold", folder))
        self.set_margin(MARGIN)
        self.c_margin = 0.0  # running text and tables begin at one line
        self.set_auto_page_break(True, MARGIN + self.type * MM)
        self.set_title(printable(f"{document.kind}: {document.title}"))
        self.set_creator("Wheelcall")
        self.set_lang("en")
        self.alias_nb_pages("{of}")
        self.add_page()

    def footer(self) -> None:
        """The document and the page, at the foot of every page."""
        self.set_y(-MARGIN)
        self.set_font("B612", "", self.type)
        self.set_text_color(BLACK)
        wide = self.epw * 0.22
        foot = printable(self.document.foot)
        while self.get_string_width(foot) > self.epw - wide and " " in foot:
            foot = foot.rstrip(" …").rpartition(" ")[0] + " …"
        self.cell(self.epw - wide, self.type * MM * LINE, foot)
        self.cell(wide, self.type * MM * LINE, f"{self.page_no()} of {{of}}", align="R")

    def fill(self) -> None:
        """The whole document."""
        self.set_text_color(BLACK)
        self.say(self.document.kind, self.type)
        self.say(self.document.title, self.type * 1.7, bold=True)
        for line in self.document.lines:
            if line:
                self.say(line, self.type)
        for block in self.document.blocks:
            self.ln(2)
            match block:
                case Heading():
                    self.heading(block.text)
                case Paragraph():
                    self.say(block.text, self.type, bold=block.bold)
                case Cautions():
                    self.cautions(block)
                case Table():
                    self.table_of(block, self.l_margin, self.epw)
                case Picture():
                    self.picture(block)

    def say(self, text: str, size: float, *, bold: bool = False) -> None:
        """A paragraph over the whole width."""
        self.set_font("B612", "B" if bold else "", size)
        self.multi_cell(
            self.epw, size * MM * LINE, printable(text), new_x=XPos.LMARGIN, new_y=YPos.NEXT,
            align="L",
        )  # fmt: skip

    def heading(self, text: str) -> None:
        """A heading, kept with what follows."""
        size = self.type * 1.25
        if self.will_page_break(size * MM * LINE + self.type * MM * 5):
            self.add_page()
        self.ln(1.5)
        self.say(text, size, bold=True)

    def cautions(self, block: Cautions) -> None:
        """In a heavy frame, with a bar at the left."""
        inner = self.epw - 6
        high = sum(self.high(Cell(line, bold=True), inner) for line in block.lines) + 2 * PAD
        if self.will_page_break(high):
            self.add_page()
        top = self.get_y()
        self.set_draw_color(BLACK)
        self.set_line_width(0.6)
        self.rect(self.l_margin, top, self.epw, high)
        self.set_fill_color(BLACK)
        self.rect(self.l_margin, top, 2, high, style="F")
        y = top + PAD
        for line in block.lines:
            cell = Cell(line, bold=True)
            self.write_cell(cell, self.l_margin + 4, y, inner)
            y += self.high(cell, inner)
        self.set_xy(self.l_margin, top + high)

    # -- tables -----------------------------------------------------------------------------

    def size_of(self, cell: Cell) -> float:
        """Type size of a cell in points."""
        return self.type * (LARGE if cell.large else 1)

    def lines_of(self, cell: Cell, width: float) -> list[str]:
        """The cell's text, broken to fit."""
        self.set_font("B612", "B", self.size_of(cell))
        found = self.broken(cell.title, width) if cell.title else []
        self.titled = len(found)
        self.set_font("B612", "B" if cell.bold else "", self.size_of(cell))
        if cell.title and not cell.text:
            return found
        for text in printable(cell.text).split("\n"):
            found += self.broken(text, width)
        return found

    def broken(self, text: str, width: float) -> list[str]:
        """One line of text, broken to fit in the type that is set."""
        lines = self.multi_cell(
            width, 1, printable(text), align="L", dry_run=True, output=MethodReturnValue.LINES
        )
        assert isinstance(lines, list)
        return lines or [""]

    def high(self, cell: Cell, width: float) -> float:
        """Height of a cell in mm."""
        if cell.drawing is not None:
            return CHART
        return len(self.lines_of(cell, width)) * self.size_of(cell) * MM * LINE + 2 * self.pad

    def write_cell(self, cell: Cell, x: float, y: float, width: float) -> None:
        """One cell, its text at the top."""
        if cell.drawing is not None:
            box = (x, y + PAD, width, CHART - 2 * PAD)
            Inker(self, cell.drawing, box, self.type * 0.8).draw(cell.drawing)
            return
        size = self.size_of(cell)
        if cell.box:
            side = size * MM * 0.9
            self.set_draw_color(BLACK)
            self.set_line_width(0.4)
            self.rect(x + 0.3, y + PAD + size * MM * 0.2, side, side)
            return
        lines = self.lines_of(cell, width)
        base = y + self.pad + size * MM * 1.0
        for number, line in enumerate(lines):
            at = base + number * size * MM * LINE
            bold = cell.bold or number < self.titled
            self.set_font("B612", "B" if bold else "", size)
            self.text(x, at, line)
            if cell.struck and line:
                self.set_line_width(0.3)
                rise = size * MM * 0.3
                self.line(x, at - rise, x + self.get_string_width(line), at - rise)

    def table_of(self, table: Table, left: float, width: float) -> None:
        """A table from the place where the page is; leaves it below."""
        self.pad = PAD * DENSE if table.dense else PAD
        unit = width / sum(table.shares)
        widths = [share * unit for share in table.shares]
        head = tuple(Cell(text, bold=True) for text in table.head)
        begun = not head
        for row in table.rows:
            high = max(self.high(cell, w - 2 * PAD) for cell, w in zip(row, widths, strict=True))
            top = 0 if begun else self.type * MM * LINE + 2 * PAD
            if self.get_y() + top + high > self.page_break_trigger:
                self.add_page()
                begun = not head
            if not begun:
                self.row(head, widths, left, heavy=True)
                begun = True
            self.row(row, widths, left, ruled=not table.dense)
        self.pad = PAD

    def row(
        self,
        row: tuple[Cell, ...],
        widths: list[float],
        left: float,
        *,
        heavy: bool = False,
        ruled: bool = True,
    ) -> None:
        """One row, with a line below where it is `ruled`."""
        y, x = self.get_y(), left
        high = max(self.high(cell, w - 2 * PAD) for cell, w in zip(row, widths, strict=True))
        for cell, wide in zip(row, widths, strict=True):
            self.write_cell(cell, x, y, wide - 2 * PAD)
            x += wide
        self.set_draw_color(BLACK if heavy else 150)
        self.set_line_width(0.5 if heavy else 0.2)
        if ruled:
            self.line(left, y + high, x, y + high)
        self.set_xy(left, y + high)

    # -- drawings ---------------------------------------------------------------------------

    def picture(self, block: Picture) -> None:
        """The drawing at the left, its table beside it."""
        drawing = block.drawing
        most = self.epw * (0.45 if block.beside is not None else 1.0)
        before, under, after, above = room_of(drawing, self.type)
        scale = min(
            (most - before - after) / drawing.width,
            (block.height - under - above) / drawing.height,
        )
        wide = drawing.width * scale + before + after
        high = drawing.height * scale + under + above
        caption = self.type * MM * LINE * 2
        if self.will_page_break(high + caption):
            self.add_page()
        top, page = self.get_y(), self.page
        Inker(self, drawing, (self.l_margin, top, wide, high), self.type).draw(drawing)
        below = top + high
        if block.caption:
            self.write_cell(Cell(block.caption), self.l_margin, below, most)
            below += self.high(Cell(block.caption), most)
        if block.beside is not None:
            left = self.l_margin + most + 5
            self.set_xy(left, top)
            self.table_of(block.beside, left, self.epw - most - 5)
            if self.page != page:
                below = self.get_y()
        self.set_xy(self.l_margin, max(below, self.get_y()))

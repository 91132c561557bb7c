"""A document as one HTML page that needs no other file: tables, and drawings as SVG."""

from __future__ import annotations

import re
from html import escape

from assistant.present.drawings.svg import to_svg
from assistant.present.paper.model import (
    Block,
    Cautions,
    Cell,
    Document,
    Heading,
    Paragraph,
    Picture,
    Table,
)

_STYLE = """
body { font: {size}pt/1.35 B612, "Noto Sans", sans-serif; color: #1a1a1a; background: #fff;
       max-width: 60em; margin: 2em auto; padding: 0 1em; }
h1 { font-size: 1.7em; margin: 0; } h2 { font-size: 1.25em; margin: 1.4em 0 .4em; }
p { margin: .3em 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .25em .6em .25em 0;
         border-bottom: 1px solid #999; white-space: pre-line; }
th { border-bottom: 2px solid #1a1a1a; } thead { display: table-header-group; }
tr { break-inside: avoid; }
.caution { border: 2px solid #1a1a1a; border-left-width: .6em; padding: .4em .8em;
           font-weight: bold; }
.large { font-size: 1.35em; } .box { display: inline-block; width: .8em; height: .8em;
        border: 1.5px solid #1a1a1a; }
figure { margin: .8em 0; } figcaption { font-size: 1em; }
.beside { display: flex; flex-wrap: wrap; gap: 2em; } .beside > * { flex: 1 1 18em; }
""".strip()


def html_page(document: Document) -> str:
    """The whole page."""
    drawings = _Drawings()
    body = "\n".join(drawings.block(block) for block in document.blocks)
    lines = "\n".join(f"<p>{escape(line)}</p>" for line in document.lines if line)
    style = _STYLE.replace("{size}", f"{document.type_size:g}")
    title = f"{document.kind}: {document.title}"
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">\n'
        f"<title>{escape(title)}</title>\n<style>\n{style}\n</style></head><body>\n"
        f"<p>{escape(document.kind)}</p>\n<h1>{escape(document.title)}</h1>\n{lines}\n{body}\n"
        f"<p>{escape(document.foot)}</p>\n</body></html>\n"
    )


class _Drawings:
    """Writes blocks; every drawing's patterns get names of their own on the page."""

    def __init__(self) -> None:
        self.count = 0

    def svg(self, drawing: object, width: float, height: float) -> str:
        self.count += 1
        made = to_svg(drawing, width, height)  # type: ignore[arg-type]
        return re.sub(r'(id="|url\(#)(togo|box)', rf"\g<1>\g<2>{self.count}", made)

    def block(self, block: Block) -> str:
        match block:
            case Heading():
                return f"<h2>{escape(block.text)}</h2>"
            case Paragraph():
                text = escape(block.text)
                return f"<p><b>{text}</b></p>" if block.bold else f"<p>{text}</p>"
            case Cautions():
                lines = "".join(f"<p>{escape(line)}</p>" for line in block.lines)
                return f'<div class="caution">{lines}</div>'
            case Table():
                return self.table(block)
            case Picture():
                drawn = self.svg(block.drawing, 90, block.height)
                caption = f"<figcaption>{escape(block.caption)}</figcaption>"
                figure = f"<figure>{drawn}{caption}</figure>"
                if block.beside is None:
                    return figure
                return f'<div class="beside">{figure}{self.table(block.beside)}</div>'
        raise TypeError(f"no way to write {type(block).__name__}")

    def table(self, table: Table) -> str:
        head = "".join(f"<th>{escape(text)}</th>" for text in table.head)
        rows = "".join(
            f"<tr>{''.join(f'<td>{self.cell(cell)}</td>' for cell in row)}</tr>\n"
            for row in table.rows
        )
        top = f"<thead><tr>{head}</tr></thead>\n" if head else ""
        return f"<table>{top}<tbody>{rows}</tbody></table>"

    def cell(self, cell: Cell) -> str:
        if cell.drawing is not None:
            return self.svg(cell.drawing, 55, 12)
        if cell.box:
            return '<span class="box"></span>'
        text = escape(cell.text)
        if cell.struck:
            text = f"<s>{text}</s>"
        if cell.bold:
            text = f"<b>{text}</b>"
        if cell.title:
            text = f"<b>{escape(cell.title)}</b> {text}"
        return f'<span class="large">{text}</span>' if cell.large else text

"""A document as plain data: headings, tables and drawings, set in type elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.drawing import Drawing


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table."""

    text: str = ""
    """Lines are parted by a line feed."""
    title: str = ""
    """In bold before the text."""
    bold: bool = False
    large: bool = False
    """Set larger: what is looked for from further away."""
    struck: bool = False
    """Taken back: struck through, and said in words beside it too."""
    box: bool = False
    """An empty square to tick by hand."""
    drawing: Drawing | None = None
    """A small chart instead of text."""


@dataclass(frozen=True, slots=True)
class Heading:
    """The heading of a part."""

    text: str


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: str
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Cautions:
    """Lines in a heavy frame."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table; its head is repeated on every page."""

    head: tuple[str, ...]
    """Empty for a table without one."""
    rows: tuple[tuple[Cell, ...], ...]
    shares: tuple[float, ...]
    """Widths of the columns, as parts of their sum."""
    dense: bool = False
    """Set close, without lines between the rows: a list in columns."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing to scale."""

    drawing: Drawing
    height: float = 70.0
    """At most so high, in mm."""
    beside: Table | None = None
    """Stands right of the drawing where there is room."""
    caption: str = ""
    """Below it."""


Block = Heading | Paragraph | Cautions | Table | Picture


@dataclass(frozen=True, slots=True)
class Document:
    """One document."""

    kind: str
    """`Set-up sheet`, `Job record`."""
    title: str
    lines: tuple[str, ...]
    """Below the title: machine, material, date."""
    blocks: tuple[Block, ...]
    foot: str = ""
    """At the foot of every page, before its number."""
    type_size: float = 12.0
    """Smallest type, in points."""


ARMS_LENGTH_TYPE = 12.0
"""Points. B612's capitals are 0.73 of its size, so those of 12 points are 3.1 mm high: 16 minutes
of arc at 66 cm, about an arm's length."""
FILE_TYPE = 10.0
"""Points, for what is read at a desk."""

NEVER = (
    "Wheelcall advises: it never moves a machine and can't see one. The operator decides. "
    "The machine's manual, the shop's rules and qualified people come first."
)


def cells(*texts: str | Cell) -> tuple[Cell, ...]:
    """A row from texts and cells."""
    return tuple(text if isinstance(text, Cell) else Cell(text) for text in texts)

"""B612 with TrueType outlines.

The shipped files have PostScript outlines, which readers of PDF expect in another wrapping than
the library gives them; TrueType outlines are read right by all. Only the signs that a document
may hold are converted, which takes a fraction of a second.
"""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path
from typing import Any

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont, newTable

SIGNS = "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x100)))) + "–—‘’“”…−→✓·"
"""Everything else is written as `?`: a job's title may be in any script."""
FINEST = 0.5
"""Largest distance between the outlines, in units of a thousandth of the type size."""
_LIMITS = (
    "maxTwilightPoints", "maxStorage", "maxFunctionDefs", "maxInstructionDefs",
    "maxStackElements", "maxSizeOfInstructions", "maxComponentElements", "maxPoints",
    "maxContours", "maxCompositePoints", "maxCompositeContours", "maxComponentDepth",
)  # fmt: skip


def truetype(name: str, folder: Path) -> Path:
    """Write the face `B612-Regular` or `B612-Bold` into `folder` with TrueType outlines."""
    source = files("assistant.devices.fonts") / f"{name}.otf"
    with source.open("rb") as opened:
        font: Any = TTFont(opened)
        options = Options(layout_features=["kern"], notdef_outline=True, hinting=False)
        chooser = Subsetter(options)
        chooser.populate(text=SIGNS)
        chooser.subset(font)
        outlines = font.getGlyphSet()
        order = font.getGlyphOrder()
        glyphs = {}
        for glyph in order:
            pen = TTGlyphPen(outlines)
            outlines[glyph].draw(Cu2QuPen(pen, FINEST, reverse_direction=True))
            glyphs[glyph] = pen.glyph()
    font["loca"] = newTable("loca")
    font["glyf"] = table = newTable("glyf")
    table.glyphOrder, table.glyphs = order, glyphs
    top = font["maxp"]
    top.tableVersion, top.maxZones = 0x00010000, 1
    for limit in _LIMITS:
        setattr(top, limit, 0)
    post = font["post"]
    post.formatType, post.extraNames, post.mapping, post.glyphOrder = 2.0, [], {}, order
    del font["CFF "]
    font.sfntVersion = "\x00\x01\x00\x00"
    path = folder / f"{name}.ttf"
    font.save(path)
    return path


def printable(text: str) -> str:
    """The text with every sign that the face has not as `?`."""
    return "".join(sign if sign in SIGNS or sign == "\n" else "?" for sign in text)

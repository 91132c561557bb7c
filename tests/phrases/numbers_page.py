"""Makes `assistant/help/numbers.md` from the tables that the tests hold the program to.

python -m tests.phrases.numbers_page      writes the page
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from tests.phrases import number_table as table
from tests.phrases.number_table import Row

PAGE = Path(__file__).parents[2] / "assistant" / "help" / "numbers.md"

HEAD = """\
# Sizes in words

How a size may be said, and what is made of it. This page is made from the tables that the tests
hold the program to, so that it can't say otherwise than the program does. The wordings are common
practice, no source.

- A **thou** is 0.001 in. A **tenth** is 0.0001 in: never 0.1 of an inch, and never heard so. In a
  metric job it may be a tenth of a millimetre, so there it is always asked back.
- A **mil** is a thou in one country and a millimetre in another: it is always asked back.
- A size with no unit is in the unit of the job. Said with its unit, any size may be said in any
  job: `eight millimetres` at an inch machine, `three thou` at a metric one.
- `oh`, `zero` and `nought` are the same, and so are `millimetre` and `millimeter`.
- Figures may be typed for any of this: `1.109`, `5/8`, `1-3/8`, `8 mm`, `3 thou`. A comma is a
  decimal point in millimetres (`0,05`, and at an inch machine `0,05 mm`) and in nothing else: what
  it may be elsewhere is refused with a word on it.
- **Ten and tenth, thousand and thousandth, hundred and hundredth** differ by their last sound. By
  ear they are never taken unasked where the other is a size as well: "One hundred and ten thou, or
  one tenth? Say it again." Of fifteen and fifty it is asked where one of the two ears heard the
  other. A size in thousands can be typed; said, it is so many thou to the built-in ear, and asked
  about where the second ear heard no plain thou.
- Whatever was said, it is read back in one form that can't be misread.
"""

SETTLING = """\
A size is taken where only one meaning lies in the band that is plausible at the step, or where the
value that the plan foresees settles it. Else both are named, and it has to be said again: "Thirty
thou, or three thou? Say it again." So it is, too, where what the words plainly say is out of the
band and only ten times as much, a tenth, or inches for thou would be in it (`scale`): that is
never taken for it. Outside the band altogether it is asked for with yes or no (`implausible`).
"""


def page() -> str:
    """The whole page."""
    parts = [
        HEAD,
        "## What may mean two things",
        SETTLING,
        _settled(),
        "## How a size is read back",
        _grid(
            ("Size", "Read back as"),
            [
                *((f"{size} in", words) for size, words in table.SAID_IN_INCHES.items()),
                *((f"{size} mm", words) for size, words in table.SAID_IN_MM.items()),
            ],
        ),
        "## Sizes in an inch job",
        _rows(table.INCH_LENGTHS),
        "## Sizes in a metric job",
        _rows(table.MM_LENGTHS),
        "## Over and under",
        _rows(table.INCH_DEVIATIONS, "In an inch job"),
        _rows(table.MM_DEVIATIONS, "In a metric job"),
        "## What a dial reads",
        "Turns that are said are kept apart from the dial's own reading.",
        _rows([row for row in table.READINGS if row.unit == "inch"], "On a dial in inches"),
        _rows([row for row in table.READINGS if row.unit == "mm"], "On a dial in millimetres"),
        "## Turns, speeds, feeds, angles and counts",
        _rows(table.OTHERS),
    ]
    return "\n\n".join(part.strip() for part in parts) + "\n"


def _settled() -> str:
    def line(row: table.Settled) -> tuple[str, ...]:
        unit = _short(row.unit)
        foreseen = f"{row.expected} {unit}" if row.expected else ""
        result = "taken as" if row.outcome == "taken" else f"asked back ({row.outcome}): perhaps"
        band = f"{row.low} to {row.high} {unit}"
        return row.words, band, foreseen, f"{result} {_short(row.value)}"

    return _grid(("Said", "Plausible here", "Foreseen", "Outcome"), map(line, table.SETTLED))


def _rows(rows: Sequence[Row], title: str = "") -> str:
    heard = [(row.words, _meaning(row)) for row in rows if row.readings]
    refused = [row.words for row in rows if not row.readings and row.words]
    text = _grid((title or "Said", "Means"), heard)
    if refused:
        text += "\n\nNot understood here: " + ", ".join(f"`{words}`" for words in refused) + "."
    return text


def _meaning(row: Row) -> str:
    readings = [_short(reading.replace(" ?", "")) for reading in row.readings]
    asked = " (always asked back)" if row.readings[0].endswith(" ?") else ""
    return " or ".join(readings).replace("after 1 turns", "after 1 turn") + asked


def _short(text: str) -> str:
    return text.replace("inch/", "in/").replace("inch", "in")


def _grid(head: tuple[str, ...], lines: Iterable[tuple[str, ...]]) -> str:
    rows = [head, tuple("---" for _ in head), *lines]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in rows)


if __name__ == "__main__":
    PAGE.parent.mkdir(exist_ok=True)
    PAGE.write_text(page(), encoding="utf-8")

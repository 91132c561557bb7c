"""How sizes are said and what they mean, by hand: acceptances and refusals in one table.

Source of the wordings: common practice, no source. `help/numbers.md` is made
from these tables by `python -m tests.phrases.numbers_page`.
"""

from __future__ import annotations

from typing import NamedTuple

from assistant.spoken import SlotKind

LENGTH, DEVIATION, READING = SlotKind.LENGTH, SlotKind.DEVIATION, SlotKind.READING
TURNS, RATE, ANGLE, COUNT = SlotKind.TURNS, SlotKind.RATE, SlotKind.ANGLE, SlotKind.COUNT


class Row(NamedTuple):
    """Words, and every value they may mean, the likeliest first; none where they are refused."""

    words: str
    kind: SlotKind
    unit: str
    readings: tuple[str, ...]
    """`0.625 inch`; with ` ?` behind it where it is always asked back."""


def rows(kind: SlotKind, unit: str, table: dict[str, str]) -> list[Row]:
    """Rows of one kind and unit; readings are parted by commas."""
    return [
        Row(words, kind, unit, tuple(r.strip() for r in readings.split(",") if r.strip()))
        for words, readings in table.items()
    ]


INCH_LENGTHS = rows(LENGTH, "inch", {
    # bare: thou, or inches
    "three": "0.003 inch, 3 inch",
    "forty two": "0.042 inch, 42 inch",
    "one fifty": "0.150 inch, 1.50 inch",
    "six twenty-five": "0.625 inch, 6.25 inch",
    "six two five": "0.625 inch, 6.25 inch",
    "six oh five": "0.605 inch, 6.05 inch",
    "six hundred": "0.6 inch",
    "a hundred and forty two": "0.142 inch",
    "one hundred forty two": "0.142 inch",
    "nine forty and a half": "0.9405 inch",
    "nine forty and two tenths": "0.9402 inch",
    "six twenty-five and a half": "0.6255 inch",
    "sixty-two and a half": "0.0625 inch, 62.5 inch",
    "two and a half": "0.0025 inch, 2.5 inch",
    "nine three seven five": "0.9375 inch, 9.375 inch",
    "nine three seventy-five": "0.9375 inch, 9.375 inch",
    "one one oh nine": "0.1109 inch, 1.109 inch",
    "one six six six": "0.1666 inch, 1.666 inch",
    "sixteen sixty-six": "0.1666 inch, 1.666 inch",
    "eleven oh nine": "0.1109 inch, 1.109 inch",
    "one one forty and a half": "1.1405 inch",
    "one one four oh five": "1.1405 inch",
    "oh four two": "0.042 inch, 0.42 inch",
    "zero": "0 inch",
    "one five hundred": "1.5 inch",
    "one thousand": "1 inch",
    "two thousand thou": "2 inch",
    "oh oh three": "0.003 inch, 0.03 inch",
    # with a point
    "point six two five": "0.625 inch",
    "point six twenty-five": "0.625 inch",
    "point four two": "0.42 inch",
    "point seventy-five": "0.75 inch",
    "point oh forty-two": "0.042 inch",
    "oh point oh oh three": "0.003 inch",
    "nought point six two five": "0.625 inch",
    "zero point six two five": "0.625 inch",
    "one point one four two": "1.142 inch",
    "one point one oh nine": "1.109 inch",
    "one point one zero nine": "1.109 inch",
    "one point six six six": "1.666 inch",
    "one point one forty and a half": "1.1405 inch",
    "one point five": "1.5 inch, 0.0015 inch",
    "forty point five": "40.5 inch, 0.0405 inch",
    # fractions
    "five eighths": "0.625 inch",
    "an eighth": "0.125 inch",
    "a half": "0.5 inch",
    "three quarters": "0.75 inch",
    "eleven sixteenths": "0.6875 inch",
    "thirteen thirty seconds": "0.40625 inch",
    "sixty three sixty fourths": "0.984375 inch",
    "one and three eighths": "1.375 inch",
    "one and a quarter": "0.00125 inch, 1.25 inch",
    "three quarters of an inch": "0.75 inch",
    "half an inch": "0.5 inch",
    "an inch and a half": "1.5 inch",
    "an inch and three eighths": "1.375 inch",
    "inch and three eighths": "1.375 inch",
    # inches and thou
    "one inch": "1 inch",
    "one inch one twenty-five": "1.125 inch",
    "one inch one-forty and a half": "1.1405 inch",
    "two inches forty thou": "2.040 inch",
    "one inch and half a thou": "1.0005 inch",
    # thou and tenths said
    "one thou": "0.001 inch",
    "a thou": "0.001 inch",
    "three thou": "0.003 inch",
    "a hundred thou": "0.100 inch",
    "a hundred and forty two thou": "0.142 inch",
    "forty-one and a half thou": "0.0415 inch",
    "half a thou": "0.0005 inch",
    "a thou and a half": "0.0015 inch",
    "three thou and four tenths": "0.0034 inch",
    "three thou four tenths": "0.0034 inch",
    "two point five thou": "0.0025 inch",
    "forty two thousandths": "0.042 inch",
    "a tenth": "0.0001 inch",
    "one tenth": "0.0001 inch",
    "two tenths": "0.0002 inch",
    "five tenths": "0.0005 inch",
    "half a tenth": "0.00005 inch",
    "minus three thou": "-0.003 inch",
    # millimetres said
    "eight millimetres": "8 mm",
    "eight millimeters": "8 mm",
    "thirty point oh two millimetres": "30.02 mm",
    "two and a half millimetres": "2.5 mm",
    "half a millimetre": "0.5 mm",
    "five hundredths of a millimetre": "0.05 mm",
    # a thou in one country, a millimetre in another
    "two mil": "0.002 inch ?, 2 mm ?",
    "half a mil": "0.0005 inch ?, 0.5 mm ?",
    # refused
    "": "",
    "inch": "",
    "six six": "",
    "twenty forty thou": "",
    "point": "",
    "one point": "",
    "thou": "",
    "two eighths": "",
    "nine eighths": "",
    "one and": "",
    "hundred": "",
    "forty fifty sixty": "",
    "one two three four five six": "",
    "minus": "",
    "minus forty": "",
    "five hundredths": "",
    "three thou three thou": "",
    "two over": "",
    "two turns": "",
})  # fmt: skip

MM_LENGTHS = rows(LENGTH, "mm", {
    "eight": "8 mm",
    "thirty": "30 mm",
    "thirty point oh two": "30.02 mm",
    "thirty oh two": "30.02 mm, 3.002 mm",
    "oh oh five": "0.05 mm, 0.5 mm, 5 mm",
    "oh oh four two": "0.042 mm, 0.42 mm",
    "one thousand": "1000 mm",
    "twelve fifty": "12.50 mm, 1.250 mm",
    "one forty two": "142 mm, 1.42 mm",
    "a hundred and forty two": "142 mm",
    "point four two": "0.42 mm",
    "seven and a half": "7.5 mm",
    "half": "0.5 mm",
    "half a millimetre": "0.5 mm",
    "thirty millimetres": "30 mm",
    "five hundredths": "0.05 mm",
    "a hundredth": "0.01 mm",
    "seven and five hundredths": "7.05 mm",
    "five microns": "0.005 mm",
    "one micron": "0.001 mm",
    "five eighths": "0.625 inch",
    "one and three eighths": "1.375 inch",
    "three thou": "0.003 inch",
    "half an inch": "0.5 inch",
    "two tenths": "0.2 mm ?, 0.0002 inch ?",
    "two tenths of a millimetre": "0.2 mm",
    "two mil": "2 mm ?, 0.002 inch ?",
    "six six": "",
    "microns": "",
    "hundredths": "",
    "seven and": "",
})  # fmt: skip

INCH_DEVIATIONS = rows(DEVIATION, "inch", {
    "two over": "0.002 inch",
    "three under": "-0.003 inch",
    "a thou and a half big": "0.0015 inch",
    "one and a half small": "-0.0015 inch",
    "half a thou over": "0.0005 inch",
    "two tenths under": "-0.0002 inch",
    "plus two": "0.002 inch",
    "minus three thou": "-0.003 inch",
    "twelve shy": "-0.012 inch",
    "point oh oh two over": "0.002 inch",
    "bang on": "0 inch",
    "dead on": "0 inch",
    "on size": "0 inch",
    "five hundredths of a millimetre over": "0.05 mm",
    "two": "",
    "over": "",
    "two over under": "",
    "minus": "",
    "minus two under": "",
})  # fmt: skip

MM_DEVIATIONS = rows(DEVIATION, "mm", {
    "two over": "0.02 mm, 2 mm",
    "five hundredths over": "0.05 mm",
    "five hundredths under": "-0.05 mm",
    "point oh two over": "0.02 mm",
    "half under": "-0.005 mm ?, -0.5 mm",
    "two tenths over": "0.2 mm ?, 0.0002 inch ?",
    "a thou over": "0.001 inch",
    "spot on": "0 mm",
    "hundredths over": "",
})  # fmt: skip

READINGS = [
    *rows(READING, "inch", {
        "eleven": "0.011 inch",
        "one-forty and a half": "0.1405 inch",
        "one forty": "0.140 inch",
        "one four oh five": "0.1405 inch, 1.405 inch",
        "point one four oh five": "0.1405 inch",
        "forty thou": "0.040 inch",
        "forty point five": "0.0405 inch",
        "point five": "0.5 inch, 0.0005 inch",
        "one inch two fifty": "1.250 inch",
        "zero": "0 inch",
        "two turns and eleven": "0.011 inch after 2 turns",
        "four turns and one-forty and a half": "0.1405 inch after 4 turns",
        "two turns eleven": "0.011 inch after 2 turns",
        "two turns": "0 inch after 2 turns",
        "a turn and eleven": "0.011 inch after 1 turns",
        "no turns and eleven": "0.011 inch after 0 turns",
        "turns and eleven": "",
        "eleven turns and": "",
        "five eighths": "",
    }),
    *rows(READING, "mm", {
        "one point four two": "1.42 mm",
        "point oh two": "0.02 mm",
        "two": "2 mm, 0.02 mm",
        "forty": "40 mm, 0.40 mm",
        "two turns and one point four": "1.4 mm after 2 turns",
        "two millimetres": "2 mm",
    }),
]  # fmt: skip

OTHERS = [
    *rows(TURNS, "turn", {
        "ten turns": "10 turn",
        "one turn": "1 turn",
        "two and a quarter turns": "2.25 turn",
        "half a turn": "0.5 turn",
        "three quarters of a turn": "0.75 turn",
        "a turn and a half": "1.5 turn",
        "two turns and a half": "2.5 turn",
        "two point five turns": "2.5 turn",
        "two": "",
        "half": "",
        "turns": "",
    }),
    *rows(RATE, "rpm", {
        "one eighty": "180 rpm",
        "a hundred and eighty": "180 rpm",
        "one eight oh": "180 rpm",
        "sixty": "60 rpm",
        "twelve hundred": "1200 rpm",
        "one thousand two hundred": "1200 rpm",
        "twelve fifty": "1250 rpm",
        "two thousand": "2000 rpm",
        "one eighty revs": "180 rpm",
        "one eighty turns a minute": "180 rpm",
        "one eighty inches": "",
        "three eighths": "",
    }),
    *rows(RATE, "inch/minute", {
        "two and a quarter": "2.25 inch/minute",
        "two point two five": "2.25 inch/minute",
        "two and a quarter inches a minute": "2.25 inch/minute",
        "six": "6 inch/minute",
        "five eighths": "0.625 inch/minute",
    }),
    *rows(RATE, "inch/turn", {
        "three thou a turn": "0.003 inch/turn",
        "three": "0.003 inch/turn",
        "point oh oh three": "0.003 inch/turn",
    }),
    *rows(ANGLE, "degree", {
        "twenty nine and a half degrees": "29.5 degree",
        "twenty-nine and a half": "29.5 degree",
        "thirty degrees": "30 degree",
        "twenty nine degrees thirty minutes": "1770 arcminute",
        "five point seven": "5.7 degree",
        "half a degree": "",
        "a half degree": "0.5 degree",
    }),
    *rows(COUNT, "", {
        "twelve": "12",
        "a hundred and twenty": "120",
        "one twenty": "120",
        "none": "0",
        "zero": "0",
        "twelve point five": "",
        "half": "",
    }),
]  # fmt: skip

TABLE = [
    *INCH_LENGTHS, *MM_LENGTHS, *INCH_DEVIATIONS, *MM_DEVIATIONS, *READINGS, *OTHERS,
]  # fmt: skip


class Settled(NamedTuple):
    """A size that may mean two things, in a slot with a band and perhaps a foreseen value."""

    words: str
    unit: str
    low: str
    high: str
    expected: str | None
    """The value that the plan foresees."""
    outcome: str
    """`taken`, or the reason it is asked back: `ambiguous`, `implausible`, `scale`."""
    value: str
    """The value taken, or offered with the question."""


SETTLED = [
    Settled("one fifty", "inch", "0.1", "0.2", None, "taken", "0.150 inch"),
    Settled("one fifty", "inch", "1.4", "1.6", None, "scale", "1.50 inch"),
    Settled("one fifty", "inch", "0.1", "2", "0.150", "taken", "0.150 inch"),
    Settled("one fifty", "inch", "0.1", "2", "1.5", "taken", "1.50 inch"),
    Settled("one fifty", "inch", "0.1", "2", None, "ambiguous", "0.150 inch"),
    Settled("one fifty", "inch", "3", "4", None, "implausible", "1.50 inch"),
    Settled("forty two", "inch", "0", "0.25", None, "taken", "0.042 inch"),
    Settled("forty two", "inch", "0", "60", None, "ambiguous", "0.042 inch"),
    Settled("three", "inch", "0", "0.03", None, "taken", "0.003 inch"),
    Settled("two and a half", "inch", "2", "3", None, "scale", "2.5 inch"),
    Settled("two and a half inches", "inch", "2", "3", None, "taken", "2.5 inch"),
    Settled("two and a half", "inch", "0", "0.03", None, "taken", "0.0025 inch"),
    Settled("one six six six", "inch", "1.6", "1.7", None, "taken", "1.666 inch"),
    Settled("nine three seven five", "inch", "0.9", "1", None, "taken", "0.9375 inch"),
    Settled("nine three seven five", "inch", "9", "10", None, "taken", "9.375 inch"),
    Settled("three", "inch", "2", "4", None, "scale", "3 inch"),
    Settled("point three", "inch", "0", "0.03", None, "scale", "0.0003 inch"),
    Settled("oh oh three", "inch", "0.004", "0.075", None, "scale", "0.03 inch"),
    Settled("one thousand", "inch", "0.9", "1.1", None, "taken", "1.000 inch"),
    Settled("two tenths", "inch", "0", "0.03", None, "taken", "0.0002 inch"),
    Settled("two tenths", "mm", "0", "1", None, "ambiguous", "0.2 mm"),
    Settled("two mil", "inch", "0", "0.03", None, "ambiguous", "0.002 inch"),
    Settled("two mil", "mm", "1", "3", None, "ambiguous", "2 mm"),
    Settled("thirty oh two", "mm", "20", "40", None, "taken", "30.02 mm"),
    Settled("one forty two", "mm", "100", "200", None, "taken", "142 mm"),
    Settled("one forty two", "mm", "1", "4", None, "scale", "1.42 mm"),
    Settled("half", "mm", "0", "1", None, "taken", "0.5 mm"),
    Settled("oh oh five", "mm", "0", "0.3", None, "taken", "0.05 mm"),
    Settled("oh oh five", "mm", "0.1", "1.3", None, "scale", "0.5 mm"),
]

# Common practice, no source; the rows with * are check values say.number.* of
# tests/reference/check_values.toml (there: common practice, from memory).
SAID_IN_INCHES = {
    "0.9405": "nine forty and a half",
    "1.666": "one six six six",
    "1.109": "one one oh nine",
    "0.003": "three thou",
    "0.001": "one thou",
    "0.0015": "a thou and a half",
    "0.0025": "two and a half thou",
    "0.0005": "half a thou",
    "0.0002": "two tenths",
    "0.0012": "one thou and two tenths",
    "0.750": "seven fifty",
    "0.625": "six twenty-five",  # *
    "0.25": "two fifty",  # *
    "0.375": "three seventy-five",  # *
    "0.0625": "sixty-two and a half thou",  # *
    "0.6255": "six twenty-five and a half",  # *
    "1.125": "one inch one twenty-five",  # *
    "1.1405": "one inch one forty and a half",
    "0.0405": "forty and a half thou",
    "0.1": "one hundred thou",
    "0.105": "one oh five",
    "1.5": "one five hundred",
    "1.75": "one seven fifty",
    "2.25": "two inches two fifty",
    "1.6637": "one six six three seven",
    "1.5625": "one five sixty-two and a half",
    "1.05": "one inch fifty thou",
    "2": "two inches",
    "12.345": "twelve inches three forty-five",
    "1.0005": "one inch and half a thou",
    "-0.003": "minus three thou",
    "0": "zero",
}
SAID_IN_MM = {
    "30.02": "thirty point oh two millimetres",
    "8": "eight millimetres",
    "1": "one millimetre",
    "0.05": "point oh five millimetres",
    "142.5": "one hundred and forty-two point five millimetres",
    "-0.02": "minus point oh two millimetres",
}

"""What a person is asked to begin such a job: taper."""

from __future__ import annotations

from assistant.jobs.field import Kind, number, pick, size, toleranced
from assistant.jobs.lathe.form import CUTS, in_the_lathe, lathe_tool

FIELDS = (
    pick("?taper.by", "taper told by",
         "By a standard, a foot, the angle, or two diameters?", "As the drawing has it.",
         ("standard", "foot", "angle", "diameters")),
    pick("taper.family", "family", "Morse, or Brown and Sharpe?", "The standard it is of.",
         ("morse", "brown-sharpe"), given="?taper.by=standard"),
    pick("taper.size", "number", "Which number?", "The size of the standard taper.",
         tuple(str(one) for one in range(19)), given="?taper.by=standard"),
    number("taper.per_foot", "taper a foot", "How many inches a foot?",
           "On the diameter.", "0.01", "12", given="?taper.by=foot", kind=Kind.NUMBER),
    number("taper.included_angle", "included angle", "What included angle, in degrees?",
           "Of the whole cone.", "0.1", "89", given="?taper.by=angle"),
    size("taper.large", "large end", "What diameter is the large end?", "Of the taper.",
         "0.05", "12", given="?taper.by=diameters"),
    size("taper.small", "small end", "What diameter is the small end?", "Of the taper.",
         "0.03", "12", given="?taper.by=diameters"),
    size("taper.over", "over a length of", "Over what length?",
         "From one diameter to the other.", "0.1", "60", given="?taper.by=diameters"),
    size("taper.length", "length of the taper", "How long is the taper?",
         "As it is to be turned.", "0.1", "60"),
    pick("taper.method", "method", "By the compound, or by the tailstock?",
         "Steep and short by the compound, slight and long by the tailstock.",
         ("compound", "tailstock"), usual="compound"),
    size("work.total_length", "length between centres", "How long is the work, all of it?",
         "The tailstock is set over by its share.", "0.5", "80",
         given="taper.method=tailstock"),
    size("work.stock", "stock", "What diameter is the stock?",
         "What there is before the first cut.", "0.06", "12"),
    pick("work.at", "measured at", "Is the diameter that of the small end, or the large?",
         "Where it is measured.", ("small end", "large end"), usual="large end"),
    *toleranced("work.diameter", "diameter", "What diameter is wanted there?",
                "As on the drawing.", "0.03", "12"),
    size("taper.spacing", "between the diameters", "How far apart are the two diameters?",
         "The two that prove the taper.", "0.1", "60",
         usual="three quarters of the length", aside=True),
    size("taper.within", "within", "Within how much?", "Over that spacing.", "0.0001",
         "0.01", usual="the usual", aside=True),
    *in_the_lathe(),
    *lathe_tool(cuts=CUTS),
)  # fmt: skip

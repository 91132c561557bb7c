"""What a person is asked to begin such a job: flats."""

from __future__ import annotations

from assistant.jobs.common.form import held
from assistant.jobs.field import count, size, toleranced
from assistant.jobs.milling.form import cutter, milled

FIELDS = (
    size("flats.stock", "bar", "What diameter is the bar?",
         "What there is before the first cut.", "0.1", "8"),
    count("flats.sides", "sides", "How many sides?", "A square has four, a hexagon six.", 1,
          60),
    *toleranced("flats.across", "across the flats", "What size across the flats?",
                "As on the drawing.", "0.05", "8", limits_aside=False),
    size("flats.length", "length of the flats", "How long are the flats?",
         "From the end face.", "0.05", "20"),
    *cutter(("end mill",)),
    held("dividing head", "block"),
    *milled(),
)  # fmt: skip

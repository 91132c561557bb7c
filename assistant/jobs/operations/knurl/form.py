"""What a person is asked to begin such a job: knurl."""

from __future__ import annotations

from assistant.jobs.field import count, number, pick, size
from assistant.jobs.lathe.form import in_the_lathe, lathe_tool

FIELDS = (
    pick("knurl.pattern", "pattern", "Straight, or diamond?", "What the wheels roll.",
         ("straight", "diamond"), usual="straight"),
    pick("?knurl.by", "knurl told by", "By diametral pitch, or by pitch?",
         "As it is marked on the wheels.", ("diametral pitch", "pitch")),
    count("knurl.diametral_pitch", "diametral pitch", "What diametral pitch?",
          "As marked on the wheels. The blank goes by it.", 16, 200,
          given="?knurl.by=diametral pitch"),
    size("knurl.pitch", "pitch", "What pitch?", "From tooth to tooth, as marked.", "0.01",
         "0.2", given="?knurl.by=pitch"),
    number("knurl.helix", "helix", "What helix angle, in degrees?",
           "Of the teeth to the axis.", "0", "59", usual="30 for a diamond, else none",
           aside=True),
    size("work.stock", "stock", "What diameter is the stock?",
         "What there is before the first cut.", "0.1", "8"),
    size("work.diameter", "diameter", "About what diameter is wanted?",
         "It is turned to what the teeth divide.", "0.1", "8"),
    size("work.length", "length", "How long is the knurl?", "From the end face.", "0.03",
         "12"),
    *in_the_lathe(),
    *lathe_tool(cuts=("max_cut",)),
)  # fmt: skip

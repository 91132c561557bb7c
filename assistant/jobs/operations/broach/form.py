"""What a person is asked to begin such a job: keyway by broach."""

from __future__ import annotations

from assistant.jobs.field import size
from assistant.jobs.milling.key_form import key_fields, key_width

FIELDS = (
    size("hub.bore", "bore", "What diameter is the bore?",
         "As on the drawing. The key goes by it.", "0.2", "6"),
    size("hub.length", "length of the hub", "How long is the hub?",
         "So many of the broach's teeth are in it at once.", "0.1", "12"),
    *key_fields("hub.bore", "bore"),
    size("broach.width", "width of the broach", "How wide is the broach?",
         "As marked on it.", "0.03", "2", offer=key_width("hub.bore"),
         offered="Broach {offer} wide, as the key. Right?"),
    size("broach.cut_per_pass", "cut a pass", "How much does the broach cut in a pass?",
         "Its last tooth's height less its first, or as its sheet says. The shims go by it.",
         "0.005", "0.3"),
    size("broach.longest", "longest hub", "What is the longest hub for this broach?",
         "As its sheet says: in a longer one its chips have no room.", "0.1", "12",
         usual="not looked at", aside=True),
    size("broach.shortest", "shortest hub", "What is the shortest hub for this broach?",
         "As its sheet says: in a shorter one too few teeth guide it.", "0.1", "12",
         usual="not looked at", aside=True),
)  # fmt: skip

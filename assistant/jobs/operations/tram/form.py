"""What a person is asked to begin such a job: tramming."""

from __future__ import annotations

from assistant.jobs.field import pick, size, yes

FIELDS = (
    pick("tram.what", "what is trammed", "The head, or the vice?",
         "What is brought square or in line.", ("head", "vice")),
    size("tram.sweep", "sweep", "Over what length does the indicator run?",
         "From one end to the other.", "1", "40"),
    size("tram.limit", "within", "Within how much?", "From end to end.", "0.0001", "0.02",
         usual="half a thou, or a hundredth", aside=True),
    yes("tram.nods", "the head nods", "Does the head nod as well?",
        "Then it is swept from front to back, too.", usual="no", given="tram.what=head"),
)  # fmt: skip

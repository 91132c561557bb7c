"""What a person is asked to begin such a job: pieces, and the saw."""

from __future__ import annotations

from assistant.jobs.field import count, size

FIELDS = (
    size("piece.length", "length of a piece", "How long is each piece?",
         "As it is marked, before it is finished.", "0.1", "40"),
    count("piece.count", "pieces", "How many pieces?", "They are counted.", 1, 40),
    size("saw.kerf", "what the saw takes", "How wide does the saw cut?",
         "So much is lost at every cut.", "0.01", "0.25",
         usual="sixty thou, or a millimetre and a half", aside=True),
)  # fmt: skip

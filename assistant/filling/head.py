"""What is asked of every job: material, and what is taken by itself, unit and title."""

from __future__ import annotations

from dataclasses import replace

from assistant.jobs.form.field import Field, Kind, pick

MATERIALS = (
    "mild steel", "medium-carbon steel", "alloy steel", "tool steel", "stainless steel",
    "cast iron", "hard cast iron", "brass", "bronze", "aluminium", "monel", "plastic",
)  # fmt: skip
"""As the tables of speeds have them; another is typed."""

UNIT = pick("unit", "unit", "Inches, or millimetres?", "What is said and shown.", ("inch", "mm"))
"""Asked first, where the machine has no dial that tells."""
AROUND: tuple[Field, ...] = (
    pick("material", "material", "What material is it?",
         "Speed and feed are looked up by it. It may be told at the machine, too.", MATERIALS,
         usual="not told", free=True),
    replace(UNIT, usual="as the machine", aside=True),
    Field("title", "title", "What is it called? Type it.", "A line that says what is made.",
          Kind.TEXT, usual="the work and its size", aside=True),
)  # fmt: skip

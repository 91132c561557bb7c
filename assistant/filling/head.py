"""What is asked of every job: material, and what is taken by itself, unit and title."""

from __future__ import annotations

from dataclasses import replace

from assistant.jobs.field import Field, Kind, pick

MATERIALS = (
    "mild steel", "medium-carbon steel", "alloy steel", "tool steel", "stainless steel",
    "cast iron", "hard cast iron", "brass", "bronze", "aluminium", "monel", "plastic",
)  # fmt: skip
"""As the tables of speeds have them; another is typed."""

UNIT = pick("unit", "unit", "Inches, or millimetres?", "What is said and shown.", ("inch", "mm"))
"""Asked first, where the machine has no dial that tells."""
MATERIAL = pick(
    "material", "material", "What material is it?",
    "Speed and feed are looked up by it. It may be told at the machine, too.", MATERIALS,
    usual="not told", free=True,
)  # fmt: skip
TITLE = Field(
    "title", "title", "What is it called? Type it.", "A line that says what is made.", Kind.TEXT,
    usual="the work and its size", aside=True,
)  # fmt: skip


def around(fields: tuple[Field, ...], *, cuts: bool, dials: bool) -> tuple[Field, ...]:
    """A form's own fields with those of every job: `cuts` where metal is cut, `dials` where the
    machine has some, which are marked in the job's unit."""
    material = MATERIAL if cuts else replace(MATERIAL, aside=True)
    if not dials:
        return (UNIT, *fields, material, TITLE)
    return (*fields, material, replace(UNIT, usual="as the machine", aside=True), TITLE)

"""What a machine is called, and the file that is named after it."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import replace

from assistant.jobs.field import Doubted, Field, Known, pick, yes

WHICH = ("", "big", "small", "old", "new", "red", "green", "blue", "grey")
"""Names that can be said: the kind alone, or one of these before it. Any other is typed."""


def file_name(name: str, kind: str) -> str:
    """The name of the file, which is what the machine is called by in a job: letters, figures and
    hyphens; that of the kind where the name has none."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return "-".join(re.findall(r"[a-z0-9]+", plain))[:60] or kind.replace(" ", "-")


def names(taken: Mapping[str, str]) -> tuple[Field, ...]:
    """What it is called: offered, said, or typed."""

    def free(known: Known) -> tuple[str, ...]:
        kind = known.machine_kind
        return tuple(f"{which} {kind}".strip().capitalize() for which in WHICH)

    def offer(known: Known) -> tuple[str, ...]:
        found = (one for one in free(known) if file_name(one, "") not in taken)
        return tuple(found)[:1]

    name = pick(
        "name", "name", "What is it called? Type it, or say one of these.",
        "A job names its machine by it, and it is said aloud: short, and unlike the others.",
        free, free=True, offer=offer,
    )  # fmt: skip
    return (replace(name, offered="Is it called {offer}? Another name is typed."),)


def over_field(taken: Mapping[str, str]) -> Field:
    """Asked before a file that is there is written over."""

    def doubt(known: Known) -> Doubted | None:
        name = known.value_of("name")
        stem = file_name(name, known.machine_kind) if isinstance(name, str) else ""
        return Doubted(taken[stem], {"no": ("name",)}) if stem in taken else None

    asked = yes(
        "?over", "written over", "Shall it stand in its place?",
        "No file of yours is written over unasked. No has another name asked.", usual="",
    )  # fmt: skip
    return replace(asked, doubt=doubt)

"""The head of a job file, the same for every operation."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from assistant.errors import BadFile
from assistant.fields import Fields, read_file, read_toml
from assistant.units import Quantity, quantity

UNITS = {"in": "inch", "inch": "inch", "mm": "mm"}


@dataclass(frozen=True)
class Head:
    """What every job file begins with."""

    path: str
    title: str
    operation: str
    machine: str
    """Name of the machine's file, without `.toml`."""
    unit: str
    """`inch` or `mm`: what the job is spoken and shown in."""
    material: str = ""
    notes: tuple[str, ...] = ()


def read_head(text: str, path: str) -> tuple[Head, Fields]:
    """The head, and the fields that the operation has still to take."""
    fields = Fields(path, read_toml(text, path))
    machine = fields.text("machine", "wanted the name of a machine file, without .toml")
    if Path(machine).name != machine or machine.startswith("."):
        # a job file from elsewhere must not reach files outside the machines folder
        fields.fail("machine", repr(machine), "wanted a bare name, without folders")
    notes = fields.take("notes", "wanted a list of sentences", [])
    if not isinstance(notes, list) or not all(isinstance(note, str) for note in notes):
        fields.fail("notes", repr(notes), "wanted a list of sentences")
    head = Head(
        path=path,
        title=fields.text("title", "wanted a line that says what is made"),
        operation=fields.text("operation", "wanted an operation, such as keyseat"),
        machine=machine,
        unit=UNITS[fields.choice("unit", ("inch", "mm", "in"))],
        material=fields.text("material", "wanted a material, such as mild steel", ""),
        notes=tuple(notes),
    )
    return head, fields


def machine_path(head: Head, folders: tuple[Path, ...]) -> Path:
    """The machine file that a job names: the first folder that has it.

    Raises `BadFile` that lists the machines there are.
    """
    for folder in folders:
        candidate = folder / f"{head.machine}.toml"
        if candidate.is_file():
            return candidate
    known = sorted({path.stem for folder in folders for path in folder.glob("*.toml")})
    raise BadFile(
        head.path, "machine", repr(head.machine), "wanted one of " + ", ".join(known or ["(none)"])
    )


def read_job_file(path: Path) -> str:
    """The text of a job file."""
    return read_file(path)


def read_surface_speed(fields: Fields, unit: str) -> Quantity | None:
    """The job's own surface speed: feet a minute in an inch job, else metres a minute; None where
    it is left to the tables."""
    if fields.take("surface_speed", "", None) is None:
        return None
    of, per = ("feet", "foot") if unit == "inch" else ("metres", "meter")
    number = fields.number("surface_speed", 1, 3000, of=f"{of} a minute")
    return quantity(number, f"{per}/minute")

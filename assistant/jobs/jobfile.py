"""The head of a job file, the same for every operation."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from assistant.errors import BadFile
from assistant.fields import Fields
from assistant.textfile import as_written, read_file, read_toml
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


def read_head(text: str, path: str, *, strict: bool = True) -> tuple[Head, Fields]:
    """The head, and the fields that the operation has still to take."""
    fields = Fields(path, read_toml(text, path), strict=strict)
    machine = fields.text("machine", "wanted the name of a machine file, without .toml")
    if Path(machine).name != machine or machine.startswith("."):
        # a job file from elsewhere must not reach files outside the machines folder
        fields.refuse("machine", machine, "wanted a bare name, without folders")
    head = Head(
        path=path,
        title=fields.line("title", "wanted a line that says what is made"),
        operation=fields.text("operation", "wanted an operation, such as keyseat"),
        machine=machine,
        unit=UNITS[fields.choice("unit", ("inch", "mm", "in"))],
        material=fields.line("material", "wanted a material, such as mild steel", ""),
        notes=fields.lines("notes"),
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
    files = {path.stem: path for folder in reversed(folders) for path in folder.glob("*.toml")}
    known = sorted(name for name, path in files.items() if _is_machine(path))
    near = get_close_matches(head.machine, known, n=1, cutoff=0.5)
    meant = f"did you mean {near[0]}? " if near else ""
    want = f"no such machine; {meant}known machines: {', '.join(known) or '(none)'}"
    raise BadFile(head.path, "machine", as_written(head.machine), want)


def _is_machine(path: Path) -> bool:
    """Whether a file beside a job is a machine's: jobs lie there as well."""
    try:
        table = read_toml(read_file(path), path)
    except BadFile:
        return False
    return "kind" in table and "operation" not in table


def read_surface_speed(fields: Fields, unit: str) -> Quantity | None:
    """The job's own surface speed: feet a minute in an inch job, else metres a minute; None where
    it is left to the tables."""
    if fields.take("surface_speed", "", None) is None:
        return None
    of, per = ("feet", "foot") if unit == "inch" else ("metres", "meter")
    number = fields.number("surface_speed", 1, 3000, of=f"{of} a minute")
    return quantity(number, f"{per}/minute")

"""What was answered of a job or a machine that isn't a file yet: kept at every answer, so that an
interrupt or a power cut loses none."""

from __future__ import annotations

import json
import os
from dataclasses import replace
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

from assistant.app.paths import data_folder
from assistant.errors import BadFile
from assistant.filling.shop import NEW, NEW_MACHINE, Shop
from assistant.filling.talk import HEAD, Talk
from assistant.filling.values import as_toml
from assistant.jobs.field import Value
from assistant.textfile import read_file, read_toml

FORMAT = 1
OF_A_JOB, OF_A_MACHINE = "new-job.json", "new-machine.json"
LATER = "a later version of the program wrote it, and this one can't go on with it"


class Draft:
    """The file of one unfinished conversation."""

    def __init__(self, path: Path | None = None, *, of: str = OF_A_JOB) -> None:
        self.path = path or data_folder() / of
        self.before = self.path.with_name(f"{self.path.stem}-before.json")
        """What was answered before and isn't gone on with."""
        self._gone_on_with = False

    def save(self, talk: Talk) -> bool:
        """Write it durably, or leave what was there; whether another one lay there, which is kept
        as `before`. Raises `OSError`."""
        another = not self._gone_on_with and self.path.is_file()
        if another:
            os.replace(self.path, self.before)
        write_whole(self.path, json.dumps(as_kept(talk), indent=1, ensure_ascii=False))
        self._gone_on_with = True
        return another

    def remove(self) -> None:
        """It is a file of its own now; one that wasn't gone on with stays."""
        if self._gone_on_with:
            self.path.unlink(missing_ok=True)

    def load(self, shop: Shop) -> Talk | None:
        """The conversation as it was left; None where there is none.

        Raises `BadFile` for one that can't be gone on with: another program's, broken, of a
        machine that is gone.
        """
        if not self.path.is_file():
            return None
        try:
            kept = json.loads(read_file(self.path), parse_float=Decimal)
            if kept["format"] > FORMAT:
                raise BadFile(self.path, "format", kept["format"], LATER)
            talk = taken_up(kept, shop)
        except (ValueError, KeyError, TypeError, AttributeError, InvalidOperation) as error:
            want = f"it can't be gone on with ({type(error).__name__})"
            raise BadFile(self.path, "answers", "not readable", want) from error
        self._gone_on_with = True
        return talk


def write_whole(path: Path, text: str) -> None:
    """Write a file so that it is there whole, or as it was before, whenever the power goes."""
    path.parent.mkdir(parents=True, exist_ok=True)
    new = path.with_name(f"{path.name}.new")
    with new.open("w", encoding="utf-8") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())
    os.replace(new, path)


def as_kept(talk: Talk) -> dict[str, Any]:
    """A conversation as JSON has it."""
    told = {key: _outside(value) for key, value in talk.sheet.told.items()}
    return {
        "format": FORMAT,
        "work": talk.work,
        "machine": talk.machine,
        "told": told,
        "row": [f"{number:f}" for number in talk.sheet.row],
        "order": list(talk.order),
        "declined": sorted(talk.sheet.declined),
        "more": talk.more,
        "only": talk.only,
        "like": as_toml(talk.sheet.base) if talk.sheet.base else "",
    }


def _outside(value: Value | None) -> object:
    if isinstance(value, tuple):
        return {"row": [f"{number:f}" for number in value if isinstance(number, Decimal)]}
    return {"number": f"{value:f}"} if isinstance(value, Decimal) else value


def _inside(value: Any) -> Value | None:
    if isinstance(value, dict) and "row" in value:
        return tuple(Decimal(number) for number in value["row"])
    if isinstance(value, dict):
        return Decimal(value["number"])
    if value is None or isinstance(value, str | int | bool):
        return value
    raise TypeError(value)


def taken_up(kept: dict[str, Any], shop: Shop) -> Talk:
    """The conversation from what `as_kept` gave; a `KeyError`, `TypeError` or `ValueError` for what
    it never gives."""
    if kept["format"] != FORMAT:
        raise ValueError(kept["format"])
    work = kept["work"]
    begun = NEW_MACHINE if work == NEW_MACHINE else NEW
    talk = Talk(shop, begun=begun, work=work, order=tuple(map(str, kept["order"])))
    if work and work != NEW_MACHINE:
        shop.fitting(work)  # a KeyError for a work that there isn't any more
        if not kept["machine"]:
            return talk
    elif not work:
        return talk
    sheet = shop.sheet(work, kept["machine"])
    known = {key: _inside(value) for key, value in kept["told"].items() if key in sheet.fields}
    row = tuple(map(Decimal, kept.get("row", ())))  # one of an earlier version has none
    sheet = replace(
        sheet, told=known, row=row, declined=frozenset(kept["declined"]),
        base=read_toml(kept["like"], "the file it is like"),
    )  # fmt: skip
    order = tuple(key for key in talk.order if key in known or key in HEAD)
    only = kept["only"] if kept["only"] in sheet.fields else ""
    return replace(
        talk, machine=kept["machine"], sheet=sheet, order=order, more=bool(kept["more"]), only=only
    )

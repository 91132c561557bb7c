"""Reading a phrase book's TOML file. The format:

title = "Wheelcall"

[words]                          # word lists, used in templates as <its>
its = "it's|it is"

[slots.size]                     # what {size} holds where the caller doesn't say
kind = "length"                  # length, deviation, turns, reading, count, rate, angle, text
unit = "inch"                    # of a bare number

[slots.axis]                     # a choice: its values, each with the ways to say it
values = { knee = ["knee"], "cross slide" = ["cross slide", "cross"] }

[slots.colour]
values = ["red", "dark red"]     # or a plain list

[intents.paper]
say = ["[the] (paper|feeler) is {size}"]     # [optional], (a|b), {slot}, {slot:list}, <its>
bare = ["{size}"]                # heard only while the step asks for this intent
examples = ["paper is three thou", "three thou"]
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from assistant.errors import BadFile, BadInput
from assistant.phrases.designations import said_as_written
from assistant.phrases.entries import Phrases, SlotValues, Template
from assistant.phrases.expression import Node, blanks
from assistant.phrases.numbers import number_phrase
from assistant.phrases.template import TemplateError, parse_template
from assistant.phrases.words import normal
from assistant.spoken import Slot, SlotKind
from assistant.textfile import read_file, read_toml

_TOP = {"title", "words", "slots", "intents"}
_SLOT = {"kind", "unit", "values"}
_INTENT = {"say", "bare", "examples"}
BookParts = tuple[str, Mapping[str, Phrases], Mapping[str, SlotValues]]


def read_book_file(path: Path) -> BookParts:
    """Title, intents and slots of the file; raises `BadFile` for whatever is wrong in it."""
    return _Reader(path).book()


class _Reader:
    """Reads one file, and knows which key an error is about."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def book(self) -> BookParts:
        data = read_toml(read_file(self.path), self.path)
        self._only(data, _TOP, "")
        words = {
            name: self._template(text, f"words.{name}", {})
            for name, text in self._table(data, "words").items()
        }
        slots = {
            name: self._slot(name, entry) for name, entry in self._table(data, "slots").items()
        }
        intents = {
            name: self._intent(name, entry, words, slots)
            for name, entry in self._table(data, "intents").items()
        }
        if not intents:
            raise self._bad("intents", "empty", "wanted at least one [intents.NAME]")
        return self._text(data.get("title", self.path.stem), "title"), intents, slots

    def _slot(self, name: str, entry: object) -> SlotValues:
        key = f"slots.{name}"
        if not isinstance(entry, dict):
            raise self._bad(key, entry, "wanted a table with kind and unit, or values")
        self._only(entry, _SLOT, key)
        if "values" in entry:
            if entry.get("kind", "choice") != "choice":
                raise self._bad(f"{key}.kind", entry["kind"], "a slot with values is a choice")
            forms = self._forms(entry["values"], f"{key}.values")
            return SlotValues(Slot(name, SlotKind.CHOICE, choices=tuple(forms)), forms)
        kinds = [kind for kind in SlotKind if kind is not SlotKind.CHOICE]
        kind = entry.get("kind")
        if kind not in kinds:
            raise self._bad(f"{key}.kind", kind, f"wanted one of {', '.join(kinds)}, or values")
        unit = self._text(entry.get("unit", ""), f"{key}.unit")
        if kind != SlotKind.TEXT:
            try:
                number_phrase(SlotKind(kind), unit)
            except BadInput as error:
                raise self._bad(f"{key}.unit", unit, error.want) from None
        return SlotValues(Slot(name, SlotKind(kind), unit))

    def _forms(self, values: object, key: str) -> dict[str, Node]:
        if isinstance(values, list):
            for text in (texts := self._texts(values, key)):
                if not normal(text):
                    raise self._bad(key, text, "wanted values in words")
            values = dict.fromkeys(texts)
        if not isinstance(values, dict) or not values:
            raise self._bad(key, values, "wanted a list, or a table value = [ways to say]")
        forms: dict[str, Node] = {}
        for value, ways in values.items():
            if ways is None:
                forms[value] = said_as_written(value)
                continue
            texts = self._texts(ways, f"{key}.{value}")
            if not texts:
                raise self._bad(f"{key}.{value}", "empty", "wanted at least one way to say it")
            forms[value] = self._template("|".join(texts), f"{key}.{value}", {})
        return forms

    def _intent(
        self, name: str, entry: object, words: Mapping[str, Node], slots: Mapping[str, SlotValues]
    ) -> Phrases:
        key = f"intents.{name}"
        if not isinstance(entry, dict):
            raise self._bad(key, entry, "wanted a table with say = [templates]")
        self._only(entry, _INTENT, key)
        templates: list[Template] = []
        used: dict[str, str] = {}
        for part in ("say", "bare"):
            for place, text in enumerate(self._texts(entry.get(part, []), f"{key}.{part}")):
                where = f"{key}.{part}[{place}]"
                node = self._template(text, where, words)
                for slot, values in sorted(blanks(node)):
                    if values not in slots:
                        raise self._bad(where, text, f"there is no [slots.{values}]")
                    if used.setdefault(slot, values) != values:
                        raise self._bad(where, text, f"{{{slot}}} is filled from two lists")
                templates.append(Template(text, node, part == "bare"))
        if not templates:
            raise self._bad(f"{key}.say", "empty", "wanted at least one template")
        examples = list(self._texts(entry.get("examples", []), f"{key}.examples"))
        examples += [t.text for t in templates if _is_sentence(t.text)]
        known = tuple(_renamed(slots[values].slot, slot) for slot, values in used.items())
        return Phrases(name, tuple(templates), tuple(dict.fromkeys(examples)), known)

    def _template(self, text: object, key: str, words: Mapping[str, Node]) -> Node:
        try:
            return parse_template(self._text(text, key), words)
        except TemplateError as error:
            raise self._bad(key, text, str(error)) from None

    def _table(self, data: Mapping[str, Any], key: str) -> Mapping[str, Any]:
        value = data.get(key, {})
        if not isinstance(value, dict):
            raise self._bad(key, value, f"wanted a table [{key}]")
        return value

    def _texts(self, value: object, key: str) -> list[str]:
        if not isinstance(value, list):
            raise self._bad(key, value, 'wanted a list of texts: ["...", "..."]')
        return [self._text(text, f"{key}[{place}]") for place, text in enumerate(value)]

    def _text(self, value: object, key: str) -> str:
        if not isinstance(value, str):
            raise self._bad(key, value, "wanted text in quotes")
        return value

    def _only(self, table: Mapping[str, Any], known: set[str], key: str) -> None:
        for name in table:
            if name not in known:
                where = f"{key}.{name}" if key else name
                raise self._bad(where, table[name], f"unknown key: use {', '.join(sorted(known))}")

    def _bad(self, key: str, value: object, want: str) -> BadFile:
        return BadFile(self.path, key, value, want)


def _is_sentence(template: str) -> bool:
    return template.replace(" ", "").replace("'", "").isalpha()


def _renamed(slot: Slot, name: str) -> Slot:
    return Slot(name, slot.kind, slot.unit, choices=slot.choices)

"""What there is to calculate: one TOML file per group, a table for each calculation.

`topic` of the file holds for all in it that say no other. `function` is `module:name` in `calc`.
`result` has a line for each field, `inputs` one for each input, or the name of one that stands
in the file's `shared`:

    depth length: from the top                   name, kind (see `calculation.Kind`), what it is
    passes count                                 a field of a result may say no more than its kind
    dial diameter|radius: what the dial reads    the only words that may be given
    dia length > 0: the diameter                 more than
    circle count 2..1000: holes in the circle    the least and the most; either may be left out
    ratio count 1.. = 40: turns of the crank     what is taken where it isn't given
    finish? length: left for the last cut        may be left out

`example` is what is given, as text, and what has to come out; "none" is an answer that isn't
there. The rest is as in `calculation.Calculation`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from importlib import resources
from typing import Any

from assistant.calc.calculation import Calculation, Input, Output

_INPUT = re.compile(
    r"(?P<name>\w+)(?P<optional>\?)? (?P<kind>\w[^>=:]*?)(?: > (?P<above>\S+))?"
    r"(?: (?P<low>[^>=: ][^>=:]*?)?\.\.(?P<high>[^=:]+?)?)?(?: = (?P<default>[^:]+))?: (?P<what>.+)"
)
_OUTPUT = re.compile(r"(?P<name>\w+) (?P<unit>[^:]+)(?:: (?P<what>.+))?")


def calculations() -> Iterator[Calculation]:
    """All of them, file by file; `ValueError` names the one that is written wrongly."""
    files = (file for file in resources.files(__name__).iterdir() if file.name.endswith(".toml"))
    for file in sorted(files, key=lambda file: file.name):
        tables = tomllib.loads(file.read_text(encoding="utf-8"))
        topic = tables.pop("topic")
        shared = {line.split(maxsplit=1)[0].strip("?"): line for line in tables.pop("shared", ())}
        for name, told in tables.items():
            try:
                yield _calculation(name, {"topic": topic, **told}, shared)
            except (KeyError, TypeError, ValueError) as error:
                raise ValueError(f"calc/listing/{file.name}, {name}: {error}") from error


def _calculation(name: str, told: dict[str, Any], shared: Mapping[str, str]) -> Calculation:
    given, gives = told.pop("example")
    return Calculation(
        name=name,
        function=f"assistant.calc.{told.pop('function')}",
        inputs=tuple(an_input(shared.get(line, line)) for line in told.pop("inputs", ())),
        result=tuple(Output(**_parts(_OUTPUT, line)) for line in told.pop("result")),
        example=(given, {key: None if value == "none" else value for key, value in gives.items()}),
        **told,
    )


def an_input(line: str) -> Input:
    """An input as its line says."""
    parts: dict[str, Any] = _parts(_INPUT, line)
    kind, optional = parts.pop("kind"), bool(parts.pop("optional", ""))
    if "|" in kind:
        return Input(unit="text", choices=tuple(kind.split("|")), optional=optional, **parts)
    return Input(unit=kind, optional=optional, **parts)


def _parts(written: re.Pattern[str], line: str) -> dict[str, str]:
    found = written.fullmatch(line)
    if not found:
        raise ValueError(f"{line!r} is neither shared nor 'NAME KIND: WHAT'")
    return {part: text for part, text in found.groupdict().items() if text is not None}

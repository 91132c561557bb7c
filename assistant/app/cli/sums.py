"""`wheelcall calc`: the catalogue of calculations from the shell."""

from __future__ import annotations

import json
from pathlib import Path

from assistant.app.cli.exits import EXIT_UNFINISHED
from assistant.calc import catalogue
from assistant.calc.calculation import Calculation, Json
from assistant.errors import BadInput


def run_calc(
    name: str | None, values: list[str], *, list_all: bool, check: Path | None, as_json: bool
) -> int:
    """Run, list or check; the exit status."""
    if check is not None:
        return _check(check, as_json=as_json)
    if list_all or name is None:
        _list(as_json=as_json)
        return 0
    answer = catalogue.run(name, dict(_pair(value) for value in values))
    if as_json:
        print(json.dumps(answer.as_json(), indent=1))
        return 0
    for field, value in answer.result.items():
        print(f"{field.replace('_', ' ')}: {_text(value)} {answer.units.get(field, '')}".rstrip())
    print(f"\n{answer.calculation.formula}\nsource: {answer.calculation.source}")
    return 0


def _pair(text: str) -> tuple[str, str]:
    name, sign, value = text.partition("=")
    if not sign or not name or not value:
        raise BadInput("input", text, "wanted NAME=VALUE, such as shaft=1-1/2in")
    return name, value


def _text(value: Json) -> str:
    if isinstance(value, list):
        return ", ".join(_text(one) for one in value)
    if isinstance(value, dict):
        return "; ".join(f"{key} {_text(one)}" for key, one in value.items())
    if isinstance(value, str) and "." in value and value.replace(".", "").strip("-").isdigit():
        # the exact value is in --json; six places are more than any gauge reads
        rounded = f"{float(value):.6f}".rstrip("0")
        return rounded + "0" if rounded.endswith(".") else rounded
    return "yes" if value is True else "no" if value is False else str(value)


def _list(*, as_json: bool) -> None:
    if as_json:
        print(json.dumps([_entry(entry) for entry in catalogue.entries()], indent=1))
        return
    for topic, entries in catalogue.topics():
        print(topic)
        for entry in entries:
            print(f"  {entry.name:30} {entry.title}")
        print()
    print("Run one: wheelcall calc NAME input=value ...; its inputs: wheelcall help calculations")


def _entry(entry: Calculation) -> dict[str, object]:
    return {
        "name": entry.name,
        "topic": entry.topic,
        "title": entry.title,
        "inputs": [
            {
                "name": one.name,
                "unit": one.unit,
                "what": one.what,
                "low": one.low,
                "high": one.high,
                "above": one.above,
                "choices": list(one.choices),
                "default": one.default,
                "optional": one.optional,
            }
            for one in entry.inputs
        ],
        "result": [{"name": o.name, "unit": o.unit, "what": o.what} for o in entry.result],
        "formula": entry.formula,
        "source": entry.source,
        "example": {"inputs": dict(entry.example[0]), "result": entry.example[1]},
    }


def _check(path: Path, *, as_json: bool) -> int:
    from assistant.calc.checks import check_file, load_map

    report = check_file(path, load_map())
    if as_json:
        print(json.dumps(report.as_json(), indent=1))
    else:
        for line in (*report.failed, *report.not_answered):
            print(line)
        print(report.summary)
    return EXIT_UNFINISHED if report.failed else 0

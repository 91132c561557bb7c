"""The help page of calculations, made from the catalogue: `assistant/help/calculations.md`.

`python -m assistant.calc.handbook > assistant/help/calculations.md` writes it anew; a test
holds it to the catalogue.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.calc.calculation import Calculation, Input
from assistant.calc.catalogue import topics

HEAD = """# Calculations

Every calculation behind the spoken jobs, by topic. Run one with `wheelcall calc NAME
input=value ...`, list them with `wheelcall calc --list`, and check the core against a file of
your own with `wheelcall calc --check FILE.toml`. A length is given with its unit: `1-1/2 in`,
`0.375 in`, `8 mm`, `3 thou`. Results are exact; round them at the machine.

Published tables come from the sources named. Check a size that matters against the drawing and
the standard itself.
"""


def page() -> str:
    """The whole page as Markdown."""
    return "\n".join([HEAD, *_body()])


def _body() -> Iterator[str]:
    for topic, entries in topics():
        yield f"## {topic}\n"
        for entry in entries:
            yield from _entry(entry)


def _entry(entry: Calculation) -> Iterator[str]:
    yield f"### {entry.name}\n"
    yield f"{entry.title}.\n"
    for about in entry.inputs:
        yield f"- `{about.name}`: {about.what} ({_terms(about)})"
    if entry.inputs:
        yield ""
    gives = (f"`{o.name}`" + (f" {o.what}" if o.what else "") for o in entry.result)
    yield f"Gives: {'; '.join(gives)}.\n"
    yield f"Formula: {entry.formula}. Source: {entry.source}.\n"
    inputs, expected = entry.example
    given = "".join(f" {name}={_quoted(value)}" for name, value in inputs.items())
    wanted = ", ".join(f"{name} {value}" for name, value in expected.items())
    yield f"    wheelcall calc {entry.name}{given}"
    yield f"    {wanted}\n"


def _quoted(value: str) -> str:
    return f'"{value}"' if set(value) & set(" '#") else value


def _terms(about: Input) -> str:
    parts = [about.unit]
    if about.choices:
        parts = [" or ".join(about.choices)]
    if about.above is not None:
        parts.append(f"more than {about.above}")
    if about.low is not None:
        parts.append(f"{about.low} or more")
    if about.high is not None:
        parts.append(f"{about.high} at most")
    if about.default is not None:
        parts.append(f"{about.default} if not given")
    elif about.optional:
        parts.append("may be left out")
    return ", ".join(parts)


if __name__ == "__main__":
    print(page(), end="")

"""The help page of operations, made of the operations themselves and their demo jobs.

`python -m assistant.app.cli.operations` writes it anew, and README's list of them.
"""

from __future__ import annotations

import re
from pathlib import Path

from assistant.app.paths import configs_folder
from assistant.jobs.field import Field, Form, Kind
from assistant.jobs.operations import OPERATIONS
from assistant.textfile import read_toml

HEAD = """# Operations and their job files

Made from the operations and their demo jobs (invented parts). Each job file below is complete:
copy one and change it. An unknown key, a missing one or a value that can't be is an error that
names file, key, value and what would be right. `wheelcall new` makes a file by questions
(`wheelcall help beginning`), of the keys that are listed here: what each is, what is plausible
(sizes in inches, whatever the job is in; outside it a question asks back, and only what can't be
is refused), and what it is where it is left out. A size with limits has two more keys, called as
it is with `_minus` and `_plus`: what the drawing allows. Where only one limit is told the other is
nothing; where neither is, five thou either way, or a tenth of a millimetre. `wheelcall help jobs`
explains the head and the keyseat's keys; `wheelcall plan JOB` shows what becomes of a file.
"""


def page() -> str:
    """The whole page."""
    files: dict[str, list[tuple[str, str]]] = {}
    for path in sorted((configs_folder() / "jobs").glob("*.toml")):
        text = path.read_text(encoding="utf-8")
        files.setdefault(read_toml(text, path)["operation"], []).append((path.stem, text))
    parts = [HEAD]
    own = sorted(name for name, one in OPERATIONS.items() if not one.brought_by)
    for name in own:
        operation = OPERATIONS[name]
        parts.append(f"## {name}\n\n{operation.summary}\n")
        parts.append(f"{_keys(operation.form)}\n")
        jobs = files.get(name, [])
        if jobs:
            parts.append("Demo jobs: " + ", ".join(f"`{stem}`" for stem, _ in jobs) + ".\n")
            parts.append(f"```toml\n{jobs[0][1].strip()}\n```\n")
    return "\n".join(parts)


def of_other_packages() -> str:
    """What other packages bring, and what of it can't be used; '' where they bring nothing."""
    brought = [one for one in OPERATIONS.values() if one.brought_by]
    parts = [
        f"## {one.name}\n\n{one.summary} Brought by {one.brought_by}.\n\n{_keys(one.form)}\n"
        for one in brought
    ]
    parts += [f"{why}.\n" for why in OPERATIONS.broken.values()]
    return "\n".join(parts)


def _keys(form: Form) -> str:
    """The keys of its job file, each in a line, as the form declares them."""
    limits = {f"{one.key}{end}" for one in form.fields if _toleranced(one, form) for end in _LIMITS}
    shown = [
        one for one in form.fields
        if not (one.gate or one.key in limits or _REPEATED.search(one.key))
    ]  # fmt: skip
    return "\n".join(f"- {_key(one, form)}" for one in shown)


def _toleranced(one: Field, form: Form) -> bool:
    return all(form.field(f"{one.key}{end}") is not None for end in _LIMITS)


_LIMITS = ("_minus", "_plus")


_REPEATED = re.compile(r"\.[1-9]\d*\.")
"""In the key of a further entry of a list: the first one is shown."""
_TRUTH = {"yes": "true", "no": "false"}
_OF = {Kind.LENGTH: " in", Kind.ANGLE: " degrees", Kind.WHOLE: ", whole"}


def _key(one: Field, form: Form) -> str:
    table, listed, rest = one.key.partition(".0.")
    key = f"[[{table}]] {rest}" if listed else one.key
    usual = _TRUTH.get(one.usual, one.usual) if one.kind is Kind.YES else one.usual
    left_out = f"left out, {usual}" if usual else "needed"
    limits = " with limits" if _toleranced(one, form) else ""
    return f"`{key}`, {one.name}: {_value(one)}{limits}; {left_out}{_only(one, form)}. {one.why}"


def _value(one: Field) -> str:
    """What may stand there."""
    if one.kind is Kind.YES:
        return "true or false"
    if one.kind is Kind.TEXT:
        return "a line"
    if one.kind is not Kind.CHOICE:
        name = ", or a name" if one.choices else ""
        return f"{one.low} to {one.high}{_OF.get(one.kind, '')}{name}"
    return "a name" if callable(one.choices) else " or ".join(f'"{each}"' for each in one.choices)


def _only(one: Field, form: Form) -> str:
    """On what it depends whether it is wanted."""
    found = []
    for key, words in one.when.items():
        gate = form.field(key)
        name = gate.name if gate is not None and gate.gate else f"`{key}`"
        found.append(f"{name}: {' or '.join(words)}")
    return f" (only with {', '.join(found)})" if found else ""


def in_short() -> str:
    """README's list of the program's own, in the order in which they are offered."""
    first, *others = (one.in_short for one in OPERATIONS.values() if not one.brought_by)
    return f"Besides {first}: {', '.join(others)}."


_IN_SHORT = re.compile(r"^Besides .*?\.(?= `wheelcall help operations`)", re.MULTILINE)


def _write(root: Path) -> None:
    (root / "assistant" / "help" / "operations.md").write_text(page(), encoding="utf-8")
    readme = root / "README.md"
    text = readme.read_text(encoding="utf-8")
    readme.write_text(_IN_SHORT.sub(in_short(), text), encoding="utf-8")


if __name__ == "__main__":
    _write(Path(__file__).resolve().parents[3])

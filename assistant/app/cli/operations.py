"""The help page of operations, made from their modules and demo jobs.

`python -m assistant.app.cli.operations > assistant/help/operations.md` writes it anew.
"""

from __future__ import annotations

from importlib import import_module

from assistant.app.paths import configs_folder
from assistant.jobs.form.field import Form
from assistant.jobs.form.forms import FORMS
from assistant.jobs.planning import OPERATIONS
from assistant.textfile import read_toml

HEAD = """# Operations and their job files

Made from the operations and their demo jobs (invented parts). Each job file below is complete:
copy one and change it. An unknown key, a missing one or a value that can't be is an error that
names file, key, value and what would be right. `wheelcall new` makes a file by questions
(`wheelcall help beginning`). `wheelcall help jobs` explains the head and the keyseat's keys;
`wheelcall plan JOB` shows what becomes of a file.
"""


def page() -> str:
    """The whole page."""
    files: dict[str, list[tuple[str, str]]] = {}
    for path in sorted((configs_folder() / "jobs").glob("*.toml")):
        text = path.read_text(encoding="utf-8")
        files.setdefault(read_toml(text, path)["operation"], []).append((path.stem, text))
    parts = [HEAD]
    for name in sorted(OPERATIONS):
        about = (import_module(OPERATIONS[name]).__doc__ or "").strip().split("\n\n")[0]
        parts.append(f"## {name}\n\n{' '.join(about.split())}\n")
        parts.append(f"{_asked(FORMS[name])}\n")
        jobs = files.get(name, [])
        if jobs:
            parts.append("Demo jobs: " + ", ".join(f"`{stem}`" for stem, _ in jobs) + ".\n")
            parts.append(f"```toml\n{jobs[0][1].strip()}\n```\n")
    return "\n".join(parts)


def _asked(form: Form) -> str:
    """What `wheelcall new` asks for this work."""
    plain = [one.name for one in form.fields if not one.aside]
    rest = [one.name for one in form.fields if one.aside]
    more = f"; if more is wanted: {', '.join(dict.fromkeys(rest))}" if rest else ""
    return f"`wheelcall new` asks, as far as it applies: {', '.join(dict.fromkeys(plain))}{more}."


if __name__ == "__main__":
    print(page(), end="")

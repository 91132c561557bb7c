"""`wheelcall jobs` and `wheelcall help`."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

from assistant.app.settings import load_settings
from assistant.devices.journal import default_path, watch_journal
from assistant.errors import BadInput


def print_jobs(journal: Path | None, *, as_json: bool) -> None:
    """Every job of the journal, the last touched first."""
    path = journal or load_settings().journal or default_path()
    entries = []
    if path.is_file():
        kept = watch_journal(path)
        entries = list(kept.jobs())
        kept.close()
    if as_json:
        print(
            json.dumps(
                [
                    {
                        "id": entry.id,
                        "title": entry.title,
                        "started": entry.started.isoformat(),
                        "touched": entry.touched.isoformat(),
                        "finished": entry.finished,
                        "events": entry.events,
                    }
                    for entry in entries
                ],
                indent=1,
            )
        )
        return
    if not entries:
        print(f"No jobs yet in {path}. Begin one: wheelcall run")
        return
    for entry in entries:
        word = "finished" if entry.finished else "open    "
        print(f"{word}  {entry.touched:%Y-%m-%d %H:%M}  {entry.id}  {entry.title}")
    if any(not entry.finished for entry in entries):
        print("\nTake one up again: wheelcall run JOB")


def topics() -> dict[str, str]:
    """Help topics and their first lines."""
    folder = files("assistant") / "help"
    pages = {}
    for page in folder.iterdir():
        if page.name.endswith(".md"):
            first = page.read_text(encoding="utf-8").lstrip().splitlines()[0]
            pages[page.name.removesuffix(".md")] = first.lstrip("# ")
    return dict(sorted(pages.items()))


def print_help(topic: str | None) -> None:
    """Print a page, or the list of them. Raises `BadInput` for a topic that there isn't."""
    known = topics()
    if topic is None:
        print("Help topics (wheelcall help TOPIC):\n")
        for name, title in known.items():
            print(f"  {name:14} {title}")
        return
    if topic not in known:
        raise BadInput("topic", topic, "known topics: " + ", ".join(known))
    print((files("assistant") / "help" / f"{topic}.md").read_text(encoding="utf-8"))

"""`wheelcall jobs` and `wheelcall help`."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

from assistant.app.cli.kept_jobs import has_jobs, journal_file, records_of
from assistant.app.cli.operations import of_other_packages
from assistant.app.transcript import intent_text
from assistant.devices.journal import watch_journal
from assistant.errors import BadInput
from assistant.session.events import Commanded, JobStarted, Undone
from assistant.session.reduce import replay
from assistant.units import unit_name


def print_jobs(journal: Path | None, *, as_json: bool) -> None:
    """Every job of the journal, the last touched first."""
    path = journal_file(journal)
    entries = []
    if has_jobs(path):
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
        print(f"No jobs yet in {path}. Begin one: wheelcall new")
        return
    for entry in entries:
        word = "finished" if entry.finished else "open    "
        print(f"{word}  {entry.touched:%Y-%m-%d %H:%M}  {entry.id}  {entry.title}")
    still_open = next((entry.id for entry in entries if not entry.finished), "")
    if still_open:
        print(f"\nTake one up again: wheelcall run {still_open.rsplit('-', 1)[0]}")


def print_record(job_id: str, journal: Path | None) -> None:
    """The record of a job as JSON: what was told, skipped and commanded, in the order of time."""
    chosen, records = records_of(job_id, journal)
    state = replay(records)
    steps = state.plan.steps
    commands = [
        {
            "seq": record.seq,
            "at": record.at.isoformat(),
            "words": record.event.words,
            "understood": intent_text(record.event.intent),
            "confidence": round(record.event.confidence, 3),
            "engine": record.event.engine,
        }
        for record in records
        if isinstance(record.event, Commanded)
    ]
    taken_back = [record.event.seq for record in records if isinstance(record.event, Undone)]
    done = state.done
    begun = [one.event.program for one in records if isinstance(one.event, JobStarted)]
    print(
        json.dumps(
            {
                "id": chosen,
                "title": state.plan.title,
                "job": state.job_name,
                "program": begun[0] if begun else "",
                "machine": state.machine.name,
                "started": records[0].at.isoformat(),
                "last": records[-1].at.isoformat(),
                "finished": state.finished,
                "steps": len(steps),
                "done": sum(step.id in done for step in steps),
                "skipped": sorted(state.skipped),
                "told": [
                    {
                        "name": told.name,
                        "value": str(told.value if isinstance(told.value, str)
                                     else told.value.magnitude),
                        "unit": "" if isinstance(told.value, str) else unit_name(told.value),
                        "step": told.step,
                        "at": told.at,
                    }
                    for told in state.told
                ],
                "commands": commands,
                "taken_back": taken_back,
            },
            indent=1,
        )
    )  # fmt: skip


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
    if topic == "operations" and (brought := of_other_packages()):
        print(brought)

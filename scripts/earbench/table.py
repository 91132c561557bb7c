"""The report: one JSON file, to which parts are added, and the table that is drawn of it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

from earbench.both import NAME as BOTH
from earbench.both import both
from earbench.measure import Hit, counted
from earbench.score import Count, wilson
from earbench.stretches import fates

HEAD = (
    f"{'':27}{'where':>12}{'of':>6}{'heard right':>13}{'95 %':>16}"
    f"{'taken':>7}{'asked':>7}{'refused':>9}{'wrong':>7}{'number':>8}"
)


def row(name: str, where: str, count: Count, inside: bool = True) -> str:
    """One line of the table."""
    low, high = wilson(count.right, count.of)
    share = f"{100 * count.right / max(1, count.of):.1f} %" if inside else "-"
    interval = f"{100 * low:.1f}-{100 * high:.1f} %" if inside else ""
    return (
        f"{name:27}{where:>12}{count.of:>6}{share:>13}{interval:>16}{count.taken:>7}"
        f"{count.asked:>7}{count.refused:>9}{count.wrong:>7}{count.wrong_number:>8}"
    )


def load(path: Path) -> dict[str, Any]:
    """The report so far."""
    return json.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}


def save(path: Path, report: Mapping[str, Any]) -> None:
    """Write the report."""
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(json.dumps(report, indent=1) + "\n", encoding="utf-8")


def weighed_anew(report: dict[str, Any]) -> dict[str, Any]:
    """The report with every hearing's sureness worked out by today's weights: what was heard
    stays, so that a change of the weights needs no hours of listening."""
    for parts in report.values():
        for part in parts.values():
            for each in (*part.get("rows", []), part):
                if "hits" in each:
                    hits = [Hit(**hit).weighed() for hit in each["hits"]]
                    each["hits"] = [asdict(hit) for hit in hits]
                    each.update(outcome(hits, "corpus" in each))
    return report


def outcome(hits: list[Hit], spoken: bool) -> dict[str, Any]:
    """What became of these hearings, for the report."""
    if not spoken:
        return fates(hits)
    count, lines = counted(hits)
    return {**count.as_json(), "not_taken": lines}


def lines(report: Mapping[str, Any]) -> Iterator[str]:
    """The whole table of a report, and what both ears together would have made of it."""
    together = both(report)
    for part in together.values():
        for each in part["rows"]:
            hits = [Hit(**hit) for hit in each["hits"]]
            each.update(outcome(hits, spoken=True))
    for engine, parts in {**report, **({BOTH: together} if together else {})}.items():
        yield f"== {engine}"
        yield HEAD
        for part in ("real", "phrases", "numbers"):
            rows = parts.get(part, {}).get("rows", [])
            joined: dict[tuple[str, str, bool], Count] = {}
            for each in rows:
                key = each["corpus"], each["where"], each["inside"]
                joined[key] = joined.get(key, Count()) + _count(each)
            for (corpus, where, inside), count in joined.items():
                yield row(corpus, where, count, inside)
            if part == "numbers" and joined:
                total = sum(joined.values(), Count())
                yield row("number sentences", "all", total)
                low, high = wilson(total.wrong_number, total.of)
                yield (f"wrong numbers taken unasked: {total.wrong_number} of {total.of} "
                       f"({100 * low:.2f}-{100 * high:.2f} %)")  # fmt: skip
        for part in ("machines", "talk"):
            if part in parts:
                found = parts[part]
                yield (f"{part}: {found['minutes']} min, {found['utterances']} utterances, "
                       f"{found['taken']} taken, {found['asked']} asked back, "
                       f"{100 * found['cpu_share']:.1f} % of a core")  # fmt: skip
        if "speed" in parts:
            yield json.dumps(parts["speed"])


def _count(found: Mapping[str, Any]) -> Count:
    names = ("right", "taken", "asked", "refused", "wrong", "wrong_number", "asked_right")
    return Count(of=found["of"], **{name: found[name]["count"] for name in names})

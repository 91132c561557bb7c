"""What becomes of sentences that both ears heard: of numbers, the second has its say.

Both engines are measured by themselves, on the same sounds in the same order; here their hearings
are put side by side, as `assistant.phrases.opinion` does in use.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict, replace
from typing import Any

from assistant.phrases.opinion import agrees, objects
from assistant.session.allowed import CONSEQUENT
from assistant.spoken import Opinion
from earbench.measure import Hit
from earbench.score import has_size, right

FIRST, SECOND = "moonshine", "vosk"
NAME = f"{FIRST}, {SECOND} beside it"
PARTS = ("real", "phrases", "numbers")
ASKED = CONSEQUENT - 0.1
"""A confidence at which a number is asked back."""


def both(report: Mapping[str, Any]) -> dict[str, Any]:
    """The parts of `report` that both engines heard whole, as both together would have come out;
    in the form of an engine's own parts, with the hearings alone."""
    found: dict[str, Any] = {}
    for part in PARTS:
        rows = list(_rows(report, part))
        if rows:
            found[part] = {"rows": rows}
    return found


def _rows(report: Mapping[str, Any], part: str) -> Iterator[dict[str, Any]]:
    first, second = (
        report.get(engine, {}).get(part, {}).get("rows", []) for engine in (FIRST, SECOND)
    )
    beside: dict[tuple[str, ...], list[list[Hit]]] = {}
    for row in second:
        beside.setdefault(_key(row), []).append(_hits(row))
    for row in first:
        ones = _hits(row)
        others = next(iter(beside.get(_key(row), [])), [])
        if [(each.said, each.speaker) for each in ones] != [
            (each.said, each.speaker) for each in others
        ]:
            continue  # one of the two was stopped before, or heard fewer
        beside[_key(row)].pop(0)
        hits = [weighed(one, other) for one, other in zip(ones, others, strict=True)]
        yield {
            **{name: row[name] for name in ("corpus", "where", "inside")},
            "hits": [asdict(hit) for hit in hits],
        }


def weighed(one: Hit, other: Hit) -> Hit:
    """`one` where it holds no size; else asked back where the second ear objects with another,
    and taken where it agrees."""
    if not has_size(one.words):
        return one
    heard = replace(one.heard, opinion=Opinion(other.words, other.confidence, SECOND))
    if right(other.words, one.words):
        return replace(one, confidence=max(one.confidence, CONSEQUENT)) if agrees(heard) else one
    return replace(one, confidence=min(one.confidence, ASKED)) if objects(heard) else one


def _key(row: Mapping[str, Any]) -> tuple[str, ...]:
    return row["corpus"], row["where"], str(row["inside"])


def _hits(row: Mapping[str, Any]) -> list[Hit]:
    return [Hit(**hit) for hit in row["hits"]]

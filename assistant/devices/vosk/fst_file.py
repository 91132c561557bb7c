"""Weighted automata in the two file formats of OpenFst that Vosk reads, written without OpenFst.

`const` is a plain automaton. `olabel_lookahead` adds, for every state, which words can come next,
so that a decoder can drop a path as soon as the grammar has no word for it.
"""

from __future__ import annotations

import struct
from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

FST_MAGIC = 2125659606
ADD_ON_MAGIC = 446681434
EXPANDED = 0x1
INPUT_SORTED, INPUT_UNSORTED = 0x10000000, 0x20000000
OUTPUT_SORTED, OUTPUT_UNSORTED = 0x40000000, 0x80000000


class Arc(NamedTuple):
    """One step of an automaton; label 0 is nothing."""

    heard: int
    """Input label: a word, a phone or an HMM transition."""
    word: int
    """Output label."""
    cost: float
    """Natural logarithm, the more the less likely."""
    following: int


@dataclass
class WordGraph:
    """An automaton under construction; state 0 is the start unless said otherwise."""

    arcs: list[list[Arc]] = field(default_factory=list)
    finals: dict[int, float] = field(default_factory=dict)
    start: int = 0

    def state(self) -> int:
        """A new state."""
        self.arcs.append([])
        return len(self.arcs) - 1


def write_const(graph: WordGraph, path: Path) -> None:
    """Write a grammar: a `const` automaton whose arcs are sorted by what is heard."""
    for arcs in graph.arcs:
        arcs.sort()
    path.write_bytes(_const(graph)[0])


def write_look_ahead(graph: WordGraph, path: Path, words: int) -> None:
    """Write an `olabel_lookahead` automaton over words 1 to `words`, with its table."""
    for arcs in graph.arcs:
        arcs.sort(key=lambda arc: (arc.word, arc.heard))
    body, properties = _const(graph)
    end = words + 1
    table = [
        b"\1\0\1\0\0",  # table there; none for input; one for output; not by input; no relabelling
        struct.pack("<iq", end, len(graph.arcs)),
        *(_intervals(labels) for labels in _reachable(graph, end)),
    ]
    header = _header("olabel_lookahead", 1, properties, -1, 0, 0) + struct.pack("<i", ADD_ON_MAGIC)
    path.write_bytes(header + body + b"".join(table))


def _reachable(graph: WordGraph, end: int) -> list[frozenset[int]]:
    """For each state the words that can come next, and `end` where a sentence may end."""
    reach: list[set[int]] = [set() for _ in graph.arcs]
    before: list[list[int]] = [[] for _ in graph.arcs]
    for state, arcs in enumerate(graph.arcs):
        for arc in arcs:
            if arc.word:
                reach[state].add(arc.word)
            elif arc.following != state:
                before[arc.following].append(state)
        if state in graph.finals:
            reach[state].add(end)
    todo = deque(range(len(graph.arcs)))
    waiting = [True] * len(graph.arcs)
    while todo:
        state = todo.popleft()
        waiting[state] = False
        for earlier in before[state]:
            if not reach[state] <= reach[earlier]:
                reach[earlier] |= reach[state]
                if not waiting[earlier]:
                    waiting[earlier] = True
                    todo.append(earlier)
    return [frozenset(labels) for labels in reach]


def _intervals(labels: Iterable[int]) -> bytes:
    ordered = sorted(labels)
    intervals: list[list[int]] = []
    for label in ordered:
        if intervals and intervals[-1][1] == label:
            intervals[-1][1] = label + 1
        else:
            intervals.append([label, label + 1])
    packed = b"".join(struct.pack("<ii", *interval) for interval in intervals)
    return struct.pack("<q", len(intervals)) + packed + struct.pack("<i", len(ordered))


def _header(kind: str, version: int, properties: int, start: int, states: int, arcs: int) -> bytes:
    def text(string: str) -> bytes:
        return struct.pack("<i", len(string)) + string.encode()

    return (
        struct.pack("<i", FST_MAGIC)
        + text(kind)
        + text("standard")
        + struct.pack("<iiQqqq", version, 0, properties, start, states, arcs)
    )


def _const(graph: WordGraph) -> tuple[bytes, int]:
    """The bytes of a `const` automaton and its properties."""
    heard_sorted = all([a.heard for a in arcs] == sorted(a.heard for a in arcs)
                       for arcs in graph.arcs)  # fmt: skip
    words_sorted = all([a.word for a in arcs] == sorted(a.word for a in arcs)
                       for arcs in graph.arcs)  # fmt: skip
    properties = EXPANDED
    properties |= INPUT_SORTED if heard_sorted else INPUT_UNSORTED
    properties |= OUTPUT_SORTED if words_sorted else OUTPUT_UNSORTED
    arc_count = sum(map(len, graph.arcs))
    parts = [_header("const", 2, properties, graph.start, len(graph.arcs), arc_count)]
    position = 0
    for state, arcs in enumerate(graph.arcs):
        silent_in, silent_out = sum(a.heard == 0 for a in arcs), sum(a.word == 0 for a in arcs)
        final = graph.finals.get(state, float("inf"))
        parts.append(struct.pack("<fIIII", final, position, len(arcs), silent_in, silent_out))
        position += len(arcs)
    parts.extend(struct.pack("<iifi", *arc) for arcs in graph.arcs for arc in arcs)
    return b"".join(parts), properties

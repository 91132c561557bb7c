"""The words' half of the decoding graph, built in a process of its own."""

from __future__ import annotations

import importlib.util
import itertools
import json
import os
import subprocess
import sys

import pytest

WALK = """
import json
from vosk_model.phones import SILENCE, PhoneTable
from vosk_model.word_graph import _lexical

LEXICON = {
    "nine": [("N", "AY", "N")], "sixteen": [("S", "IH", "K", "S", "T", "IY", "N")],
    "sixty": [("S", "IH", "K", "S", "T", "IY")], "oh": [("OW",)],
}
table = PhoneTable()
words = {word: number for number, word in enumerate((*LEXICON, "[unk]"), 1)}
graph, symbols = _lexical(table, LEXICON, words, "[unk]", 1.0)
unknown = words["[unk]"]
names = {number: word for word, number in words.items()}
found = []

def go(state, said, heard):
    if state in graph.finals and said:
        found.append((said, heard))
    for arc in graph.arcs[state]:
        if arc.word == unknown or len(said) + bool(arc.word) > 2:
            continue
        sound = [] if not arc.heard or arc.heard in symbols else [
            "-" if arc.heard == SILENCE else table.sound(arc.heard)
        ]
        go(arc.following, said + [names[arc.word]] if arc.word else said, heard + sound)

go(graph.start, [], [])
print(json.dumps(found))
"""


def walked() -> list[tuple[list[str], list[str]]]:
    if importlib.util.find_spec("kaldifst") is None:
        pytest.skip("kaldifst is a package of the training alone")
    # kaldifst and vosk don't get along in one process
    done = subprocess.run(
        [sys.executable, "-c", WALK],
        env=dict(os.environ, PYTHONPATH=os.pathsep.join(filter(None, sys.path))),
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return [(said, heard) for said, heard in json.loads(done.stdout)]


def test_two_equal_sounds_in_a_row_are_two_only_with_something_between_them() -> None:
    """A last sound that lasts must not count as the first of the next word too: "sixty nine" was
    heard as "sixteen nine", and "oh oh" as "oh oh oh"."""
    ways = walked()
    for said, heard in ways:
        for before, sound in itertools.pairwise(heard):
            assert before != sound, f"{said} as {heard}"
    pairs = {tuple(said) for said, _ in ways}
    words = ("nine", "sixteen", "sixty", "oh")
    assert pairs == {(one,) for one in words} | {(one, two) for one in words for two in words}
    # where the sounds differ, no pause is wanted
    together = [heard for said, heard in ways if said == ["sixty", "nine"]]
    assert ["S", "IH", "K", "S", "T", "IY", "N", "AY", "N"] in together
    apart = [heard for said, heard in ways if said == ["sixteen", "nine"]]
    assert ["S", "IH", "K", "S", "T", "IY", "N", "-", "N", "AY", "N"] in apart

"""A Vosk model folder held to one step's grammar: strict, made in milliseconds, kept by content.

A runtime word list makes Vosk expect any word after any other that it ever follows. Here the
model's own grammar file is replaced instead, so that no sentence outside the step can come back.
Only that file is new: the acoustic model and the word graph are links to the shipped ones. It
works with every model whose graph is in two halves (`HCLr.fst`, `Gr.fst`) and whose words have
numbers in `graph/words.txt`.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path

from assistant.devices.vosk.fst_file import Arc, WordGraph, write_const
from assistant.spoken import WordAutomaton

UNKNOWN = "[unk]"
"""The word for speech that is in no sentence of the grammar."""

GRAMMAR = Path("graph") / "Gr.fst"


@dataclass(frozen=True, slots=True)
class Costs:
    """What the decoder pays beside the sound itself, as natural logarithms.

    Tuned on a voice that is in neither training nor test.
    """

    word: float = 0.0
    """For each word of a sentence: more makes strings of short words less likely."""
    unknown: float = 4.0
    """For taking an utterance as speech outside the grammar."""
    nothing: float = 3.0
    """For taking it as no speech at all."""


COSTS = Costs()


def model_words(model: Path) -> dict[str, int]:
    """The words that a model knows, with their numbers."""
    lines = (model / "graph" / "words.txt").read_text(encoding="utf-8").splitlines()
    return {word: int(number) for word, number in (line.split() for line in lines if line)}


def takes_grammars(model: Path) -> bool:
    """Whether a model's graph is in two halves, so that a step's grammar can be put in."""
    return (model / "graph" / "HCLr.fst").is_file() and UNKNOWN in model_words(model)


def missing_words(model: Path, grammar: WordAutomaton) -> tuple[str, ...]:
    """Words of `grammar` that the model can't hear, sorted."""
    return tuple(sorted(grammar.vocabulary - model_words(model).keys()))


def grammar_folder(model: Path, grammar: WordAutomaton, cache: Path, costs: Costs = COSTS) -> Path:
    """A model folder under `cache` that hears the sentences of `grammar`, `[unk]` or nothing.

    Made once for each model, grammar and costs. Words that the model lacks are left out, with
    every sentence that needs them.
    """
    words = model_words(model)
    identity = f"{_identity(model)} {grammar.id} {costs}"
    folder = cache / hashlib.sha256(identity.encode()).hexdigest()[:24]
    if (folder / GRAMMAR).is_file():
        return folder
    cache.mkdir(parents=True, exist_ok=True)
    making = Path(tempfile.mkdtemp(dir=cache))
    _link_tree(model, making)
    write_const(word_grammar(grammar, words, costs), making / GRAMMAR)
    try:
        making.rename(folder)
    except OSError:  # another process was quicker
        shutil.rmtree(making)
    return folder


def word_grammar(grammar: WordAutomaton, words: dict[str, int], costs: Costs) -> WordGraph:
    """`grammar` in a model's word numbers, with `[unk]` and silence beside it."""
    graph = WordGraph()
    for state, arcs in enumerate(grammar.arcs):
        graph.state()
        graph.arcs[state] = [
            Arc(words[word], words[word], costs.word, following)
            for word, following in arcs.items()
            if word in words
        ]
    for state in grammar.finals:
        graph.finals[state] = 0.0
    # The start may be passed again in no sentence, so that these stay outside the grammar.
    unknown = graph.state()
    number = words[UNKNOWN]
    graph.arcs[0].append(Arc(number, number, costs.unknown, unknown))
    graph.arcs[unknown].append(Arc(number, number, costs.unknown, unknown))
    graph.finals[unknown] = 0.0
    # Silence must be allowed, or it would be forced into a word.
    graph.finals.setdefault(0, costs.nothing)
    return graph


def _identity(model: Path) -> str:
    """What tells one model from another: where it is, and how large and old its parts are."""
    parts = [model / "am" / "final.mdl", model / "graph" / "HCLr.fst"]
    stats = [(part.stat().st_size, part.stat().st_mtime_ns) for part in parts]
    return f"{model.resolve()} {stats}"


def _link_tree(model: Path, folder: Path) -> None:
    """The model's files in `folder`, without its grammar; copies where links aren't allowed."""
    for source in sorted(model.resolve().rglob("*")):
        relative = source.relative_to(model.resolve())
        if source.is_dir():
            (folder / relative).mkdir(parents=True, exist_ok=True)
        elif relative != GRAMMAR:
            (folder / relative).parent.mkdir(parents=True, exist_ok=True)
            try:
                os.symlink(source, folder / relative)
            except OSError:
                shutil.copyfile(source, folder / relative)

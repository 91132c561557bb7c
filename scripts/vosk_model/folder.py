"""The other half of the model folder: words, graph, checksums."""

from __future__ import annotations

import hashlib
from pathlib import Path

from assistant.devices.vosk.fst_file import write_const
from assistant.devices.vosk.graph import COSTS, UNKNOWN, word_grammar
from assistant.phrases.book import load_book
from vosk_model.lexicon import lexicon, with_accents
from vosk_model.phones import PhoneTable
from vosk_model.sentences import vocabulary, whole

UNKNOWN_SOUND = 1.0
"""Cost of every sound of speech outside the grammar, beside what the sound itself costs."""

ALSO = ("start", "go", "erase", "enter", "thousand", "fractions", "keyseat", "woodruff", "shaft")
"""Words that no phrase has yet."""


def write_graph(model: Path, unknown_sound: float = UNKNOWN_SOUND) -> None:
    """Write `graph`: every word of the phrase book; and its whole grammar. Needs kaldifst."""
    from vosk_model.word_graph import build_word_graph

    book = load_book()
    spoken = with_accents(lexicon(vocabulary(book) | set(ALSO)))
    names = [*sorted(spoken), UNKNOWN]
    words = {word: number for number, word in enumerate(names, 1)}
    table = PhoneTable()
    (model / "graph" / "phones").mkdir(parents=True, exist_ok=True)
    numbered = {"<eps>": 0, **words}
    (model / "graph" / "words.txt").write_text(
        "".join(f"{word} {number}\n" for word, number in numbered.items())
    )
    (model / "graph" / "phones" / "word_boundary.int").write_text(
        "".join(f"{phone} {place}\n" for phone, place in sorted(table.places.items()))
    )
    ids = build_word_graph(
        model / "graph" / "HCLr.fst", table, spoken, words, UNKNOWN, unknown_sound
    )
    (model / "graph" / "disambig_tid.int").write_text("".join(f"{number}\n" for number in ids))
    write_const(word_grammar(whole(book), words, COSTS), model / "graph" / "Gr.fst")


def write_checksums(model: Path) -> None:
    """Write SHA256SUMS of every file of the model, in the form that `sha256sum -c` reads."""
    lines = [
        f"{hashlib.sha256(path.read_bytes()).hexdigest()}  {path.relative_to(model).as_posix()}\n"
        for path in sorted(model.rglob("*"))
        if path.is_file() and path.suffix != ".md" and path.name != "SHA256SUMS"
    ]
    (model / "SHA256SUMS").write_text("".join(lines))

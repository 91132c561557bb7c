"""The phrase book: its file format, and the rules that the project's own book keeps."""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import pytest

from assistant.errors import BadFile
from assistant.phrases.book import FREE_NUMBER, PhraseBook, load_book
from assistant.phrases.compiler import compile_grammar
from assistant.phrases.expression import Node, Sentence
from assistant.phrases.words import normal
from assistant.spoken import Expected, Slot, SlotKind

ASKED_ONLY = {
    "paper", "measured", "dial_reads", "left_wall", "right_wall", "speed_is", "feed_is", "correct",
}  # fmt: skip
"""Intents that may be answered by a value alone, while the step asks for it."""
AT_ONCE = (
    "touched", "touching", "picked up", "got it", "i'm set", "that's through", "clear", "checked",
    "yes", "stop", "say again", "scratch that", "what now", "why", "where are we", "how much left",
    "louder", "even", "bang on",
)  # fmt: skip
"""Said often, so nothing may go on from them: the ear then needn't wait for more."""


def plain(book: PhraseBook, intent: str) -> set[str]:
    """Every sentence of an intent without slots."""
    grammar = compile_grammar(book, [Expected("stop"), Expected(intent)])
    stop = set(compile_grammar(book, [Expected("stop")]).sentences())
    return {" ".join(words) for words in grammar.sentences() if words not in stop}


def fits(node: Node, example: str) -> bool:
    words = Sentence(normal(example).split())
    return any(end == len(words) for end, _ in node.read(words, 0))


# ------------------------------------------------------------------ the project's own book


def test_every_template_has_an_example_sentence(book: PhraseBook) -> None:
    for name, phrases in book.intents.items():
        (expected,) = book.expected([name])
        for template, node in book.templates(expected, asked=True):
            examples = [example for example in phrases.examples if fits(node, example)]
            assert examples, f"{name}: {template.text!r} has no example sentence"


def test_every_example_is_a_sentence_of_its_intent(book: PhraseBook) -> None:
    for name, phrases in book.intents.items():
        (expected,) = book.expected([name])
        node = book.bound(expected, asked=True)
        for example in phrases.examples:
            assert fits(node, example), f"{name}: {example}"


def test_never_one_word_done(book: PhraseBook) -> None:
    """Those that anybody says are in the book to be answered, and carry nothing on."""
    others = [name for name in book.intents if name != "which_word"]
    words = compile_grammar(book, book.expected(others)).vocabulary
    assert not {"done", "finished", "ready", "ok", "okay", "hey"} & words
    for sentence in plain(book, "ready_set") | plain(book, "through"):
        assert len(sentence.split()) >= 2


def test_no_sentence_means_two_intents(book: PhraseBook) -> None:
    meant: dict[str, list[str]] = defaultdict(list)
    for name in book.intents:
        if name != "stop":
            for sentence in plain(book, name):
                meant[sentence].append(name)
    assert {s: names for s, names in meant.items() if len(names) > 1} == {}


def test_a_bare_value_is_heard_only_where_the_step_asks_for_it(book: PhraseBook) -> None:
    bare = {n for n, p in book.intents.items() if any(t.bare for t in p.templates)}
    assert bare == ASKED_ONLY | {"number"}
    paper, clear = book.expected(["paper", "clear"])
    three = ("three", "thou")
    assert compile_grammar(book, [paper, clear]).accepts(three)
    assert not compile_grammar(book, [clear, paper]).accepts(three)
    assert compile_grammar(book, [clear, paper]).accepts(("paper", "is", *three))


def test_no_waiting_after_the_commonest_commands(book: PhraseBook) -> None:
    names = [n for n in book.intents if not n.startswith(("sum_", "number"))]
    grammar = compile_grammar(book, [Expected("stop"), *book.expected(names)])
    for sentence in AT_ONCE:
        assert grammar.accepts(sentence.split()), sentence
        assert not grammar.can_go_on(sentence.split()), sentence


def test_opposites_are_never_a_sound_apart(book: PhraseBook) -> None:
    # "that's right" and "that's wrong" differ in two sounds; a shop is loud.
    assert not plain(book, "yes") & {"right", "that's right", "yep"}
    assert not plain(book, "no") & {"wrong", "that's wrong"}
    for sentence in plain(book, "bare"):
        assert "with" not in sentence


def test_a_slot_that_is_not_asked_for_drops_out(book: PhraseBook) -> None:
    grammar = compile_grammar(book, [Expected("new_cutter")])
    assert grammar.accepts(("new", "cutter"))
    assert not grammar.accepts(["new", "cutter", "is", "three", "seventy", "four"])
    assert compile_grammar(book, [Expected("measured")]).sentence_count == 0


def test_choices_are_those_of_the_step(book: PhraseBook) -> None:
    reading = Slot("reading", SlotKind.READING, "inch")
    axis = Slot("axis", SlotKind.CHOICE, choices=("knee", "rotary table"))
    grammar = compile_grammar(book, [Expected("dial_reads", (reading, axis))])
    assert grammar.accepts(["knee", "dial", "reads", "eleven"])
    assert grammar.accepts(["the", "rotary", "table", "reads", "eleven"])
    assert not grammar.accepts(["saddle", "dial", "reads", "eleven"])


def test_free_numbers(book: PhraseBook) -> None:
    grammar = compile_grammar(book, FREE_NUMBER)
    for words in ("nine three seven five", "one point one oh nine", "five eighths", "six sixteen"):
        assert grammar.accepts(words.split())
    assert not grammar.accepts(("yes",))


# ------------------------------------------------------------------ the file format

SMALL = """
title = "Lamps"
[words]
please = "please|kindly"
[slots.colour]
values = ["red", "Dark-Blue"]
[slots.room]
values = { kitchen = ["[the] kitchen"], "living room" = ["living room", "lounge"] }
[slots.level]
kind = "count"
[intents.paint]
say = ["[<please>] make {room} {colour}", "swap {from:colour} for {to:colour}"]
examples = ["make the kitchen red"]
[intents.dim]
say = ["dim to {level}"]
[intents.off]
say = ["off"]
"""


@pytest.fixture
def small(tmp_path: Path) -> PhraseBook:
    return load_book(write(tmp_path, SMALL))


def write(folder: Path, text: str) -> Path:
    path = folder / "book.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_any_book_can_be_written_in_the_format(small: PhraseBook) -> None:
    grammar = compile_grammar(small, small.expected())
    assert small.title == "Lamps"
    assert grammar.sentence_count == 3 * 4 * 2 + 2 * 2 + 2903 + 1
    for sentence in (
        "kindly make lounge red",
        "make the kitchen dark blue",
        "swap dark blue for red",
        "dim to forty two",
        "off",
    ):
        assert grammar.accepts(sentence.split()), sentence
    assert not grammar.accepts(["make", "the", "kitchen", "green"])
    (paint,) = small.expected(["paint"])
    assert {slot.name for slot in paint.slots} == {"room", "colour", "from", "to"}


@pytest.mark.parametrize(
    ("text", "key", "want"),
    [
        ("", "intents", "at least one"),
        ("[intents", "line 1", "Expected"),
        ("titel = 'x'\n[intents.a]\nsay = ['a']", "titel", "unknown key: use intents, slots"),
        ("title = 3\n[intents.a]\nsay = ['a']", "title", "text in quotes"),
        ("intents = 3", "intents", "table [intents]"),
        ("[intents]\na = 3", "intents.a", "table with say"),
        ("[intents.a]\nsay = 'a'", "intents.a.say", "list of texts"),
        ("[intents.a]\nsay = []", "intents.a.say", "at least one template"),
        ("[intents.a]\nsay = ['a', 3]", "intents.a.say[1]", "text in quotes"),
        ("[intents.a]\nsay = ['a', '(b']", "intents.a.say[1]", "'(' is not closed"),
        ("[intents.a]\nsay = ['{size}']", "intents.a.say[0]", "no [slots.size]"),
        ("[intents.a]\nsay = ['a']\nsays = []", "intents.a.says", "unknown key"),
        ("[words]\nx = '('\n[intents.a]\nsay = ['a']", "words.x", "has an empty part"),
        ("[slots.x]\nkind = 'size'\n[intents.a]\nsay = ['a']", "slots.x.kind", "one of length"),
        ("[slots.x]\nunit = 'mm'\n[intents.a]\nsay = ['a']", "slots.x.kind", "one of length"),
        ("[slots.x]\nvalues = []\n[intents.a]\nsay = ['a']", "slots.x.values", "list"),
        ("[slots.x]\nvalues = ['!']\n[intents.a]\nsay = ['a']", "slots.x.values", "in words"),
        ("[slots.x]\nvalues = {y = []}\n[intents.a]\nsay = ['a']", "slots.x.values.y", "one way"),
        ("[slots.x]\nvalues = 3\n[intents.a]\nsay = ['a']", "slots.x.values", "list"),
        ("[slots]\nx = 3\n[intents.a]\nsay = ['a']", "slots.x", "table"),
        (
            "[slots.x]\nkind = 'text'\nvalues = ['a']\n[intents.a]\nsay = ['a']",
            "slots.x.kind",
            "a choice",
        ),
        (
            "[slots.x]\nkind = 'length'\nunit = 'hour'\n[intents.a]\nsay = ['a {x}']",
            "slots.x.unit",
            "inch or mm",
        ),
        (
            "[slots.x]\nvalues=['b']\n[slots.y]\nvalues=['c']\n"
            "[intents.a]\nsay=['{z:x}', 'a {z:y}']",
            "intents.a.say[1]",
            "two lists",
        ),
    ],
)
def test_what_is_wrong_is_named(tmp_path: Path, text: str, key: str, want: str) -> None:
    path = write(tmp_path, text)
    with pytest.raises(BadFile) as caught:
        load_book(path)
    assert caught.value.key == key
    assert want in str(caught.value)
    assert str(path) in str(caught.value)


def test_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(BadFile, match="readable TOML file"):
            load_book(path)
    path = tmp_path / "latin.toml"
    path.write_bytes(b"title = '\xff'")
    with pytest.raises(BadFile, match="encoding is not UTF-8"):
        load_book(path)

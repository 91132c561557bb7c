"""The templates of the phrase book: what they say, and what is wrong with bad ones."""

from __future__ import annotations

import pytest

from assistant.phrases.template import TemplateError, parse_template
from tests.phrases.test_expression import automaton

ITS = parse_template("it's|it is")


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ("touched", {"touched"}),
        ("[it's] rubbing", {"rubbing", "it's rubbing"}),
        ("(a|b c) d", {"a d", "b c d"}),
        ("a|b", {"a", "b"}),
        ("[a|b] c", {"c", "a c", "b c"}),
        ("a [b [c]]", {"a", "a b", "a b c"}),
        ("[<its>] even", {"even", "it's even", "it is even"}),
        ("In Millimetres", {"in millimeters"}),
        ("twenty-five", {"twenty five"}),
    ],
)
def test_sentences_of_a_template(template: str, said: set[str]) -> None:
    built = automaton(parse_template(template, {"its": ITS}))
    assert {" ".join(words) for words in built.sentences()} == said


@pytest.mark.parametrize(
    ("template", "reason"),
    [
        ("", "is empty"),
        ("   ", "is empty"),
        ("(a|b", "'(' is not closed"),
        ("[a", "'[' is not closed"),
        ("a)", "')' closes nothing"),
        ("(a]", "'(' is not closed"),
        ("()", "has an empty part"),
        ("a||b", "has an empty part"),
        ("a |", "has an empty part"),
        ("<those> a", "no word list <those>"),
        ("cut 3 thou", "can't read '3 thou'"),
        ("{size", "can't read '{size'"),
        ("a, b", "can't read ', b'"),
    ],
)
def test_bad_templates_say_what_is_wrong(template: str, reason: str) -> None:
    with pytest.raises(TemplateError, match=None) as caught:
        parse_template(template, {"its": ITS})
    assert reason in str(caught.value)

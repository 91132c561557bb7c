"""Reading one template of the phrase book: `[it's] (rubbing|touching)`, `paper is {size}`.

template = choice of runs, written run|run
run      = word, [optional], (one|other), {slot}, {slot:list} or <words>, side by side
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from assistant.phrases.expression import NOTHING, Blank, Choice, Node, Run, Word
from assistant.phrases.words import normal

_TOKEN = re.compile(r"\s*(?:([\[\]()|])|\{([a-z_0-9]+)(?::([a-z_0-9]+))?\}|<([a-z_]+)>|([a-z']+))")
_CLOSING = {"(": ")", "[": "]"}


class TemplateError(ValueError):
    """A template that can't be read; the phrase book adds file and key."""


def parse_template(text: str, words: Mapping[str, Node] | None = None) -> Node:
    """The tree of a template; `words` are the named word lists it may use.

    Raises `TemplateError` with a reason in one line.
    """
    tokens = _tokens(text)
    node, rest = _choice(tokens, words or {})
    if rest:
        raise TemplateError(f"{rest[0][1]!r} closes nothing")
    return node


_Token = tuple[str, str, str]
"""Kind (`mark`, `slot`, `list`, `word`), text, and for a slot the list it is filled from."""


def _tokens(text: str) -> list[_Token]:
    tokens: list[_Token] = []
    at = 0
    text = text.rstrip().lower().replace("’", "'").replace("-", " ")
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            raise TemplateError(
                f"can't read {text[at:].strip()[:20]!r}: use words, [ ], (a|b), {{slot}}"
            )
        mark, slot, values, name, word = match.groups()
        if mark:
            tokens.append(("mark", mark, ""))
        elif slot:
            tokens.append(("slot", slot, values or slot))
        elif name:
            tokens.append(("list", name, ""))
        else:
            tokens.append(("word", word, ""))
        at = match.end()
    if not tokens:
        raise TemplateError("is empty")
    return tokens


def _choice(tokens: list[_Token], words: Mapping[str, Node]) -> tuple[Node, list[_Token]]:
    options: list[Node] = []
    while True:
        option, tokens = _run(tokens, words)
        options.append(option)
        if not tokens or tokens[0][1] != "|":
            break
        tokens = tokens[1:]
    return (options[0] if len(options) == 1 else Choice(tuple(options))), tokens


def _run(tokens: list[_Token], words: Mapping[str, Node]) -> tuple[Node, list[_Token]]:
    parts: list[Node] = []
    while tokens:
        kind, text, values = tokens[0]
        if kind == "mark" and text in "|)]":
            break
        tokens = tokens[1:]
        if kind == "word":
            parts.extend(Word(word) for word in normal(text).split())
        elif kind == "slot":
            parts.append(Blank(text, values))
        elif kind == "list":
            if text not in words:
                raise TemplateError(f"no word list <{text}>")
            parts.append(words[text])
        else:
            inner, tokens = _choice(tokens, words)
            if not tokens or tokens[0][1] != _CLOSING[text]:
                raise TemplateError(f"{text!r} is not closed")
            tokens = tokens[1:]
            parts.append(inner if text == "(" else Choice((inner, NOTHING)))
    if not parts:
        raise TemplateError("has an empty part")
    return (parts[0] if len(parts) == 1 else Run(tuple(parts))), tokens

"""How the designation of a thread or a drill is said: `1/4-20`, `#10-32 UNF`, `M6x1`, `F`.

Common practice, no source: a thread is its size and its threads an inch ("quarter twenty"), a
metric one its diameter, with "by" and the pitch where that is needed ("m six by one").
"""

from __future__ import annotations

import re

from assistant.phrases.expression import Node, either, maybe, run
from assistant.phrases.typed import fraction_words, in_words, integer_words
from assistant.phrases.words import normal

_UNIFIED = re.compile(
    r"(?:#(?P<number>\d+)|(?:(?P<whole>\d+)-)?(?P<num>\d+)/(?P<den>\d+)|(?P<inches>\d+))"
    r"(?:-(?P<pitch>\d+)(?P<half>\.5|-1/2)?)?(?:\s*(?P<series>UNC|UNF|UNEF|UN|UNS))?"
)
_METRIC = re.compile(r"M(?P<size>\d+(?:\.\d+)?)(?:\s*x\s*(?P<pitch>\d+(?:\.\d+)?))?")
_LETTER = re.compile(r"[A-Z]")
_SERIES = {"UNC": "coarse", "UNF": "fine", "UNEF": "extra fine"}


def designation_phrase(text: str) -> Node | None:
    """The tree of what is said for a designation; None where it isn't one."""
    if _LETTER.fullmatch(text):
        return run("letter", text.lower())
    metric = _METRIC.fullmatch(text)
    if metric:
        pitch = metric["pitch"]
        by = [maybe("by", *_decimal(pitch))] if pitch else []
        return run("m", *_decimal(metric["size"]), *by)
    unified = _UNIFIED.fullmatch(text)
    if unified:
        return _unified(unified)
    return None


def said_as_written(text: str) -> Node:
    """The tree of a choice that no phrase book explains: a designation, or its own words."""
    return designation_phrase(text) or run(*normal(in_words(text)).split())


def _unified(match: re.Match[str]) -> Node | None:
    if match["number"]:
        size: Node = run(maybe("number"), *integer_words(match["number"]))
    elif match["num"]:
        fraction = fraction_words(int(match["num"]), int(match["den"]))
        if not fraction:
            return None
        whole = [*integer_words(match["whole"]), "and"] if match["whole"] else []
        full = run(*whole, *fraction)
        # "quarter twenty" as well as "a quarter twenty"
        short = run(*fraction[1:]) if fraction[0] in ("a", "an") and not whole else full
        size = either(short, full) if short is not full else full
    else:
        size = run(*integer_words(match["inches"]), maybe("inch"))
    pitch = integer_words(match["pitch"]) if match["pitch"] else []
    if match["half"]:
        pitch = [*pitch, "and", "a", "half"]
    series = _SERIES.get(match["series"] or "")
    return run(size, *pitch, *([maybe(series)] if series else []))


def _decimal(figures: str) -> list[str]:
    whole, _, places = figures.partition(".")
    words = integer_words(whole)
    if places:
        words += ["point", *(word for figure in places for word in integer_words(figure))]
    return words

"""How a phrase is written for each synthesiser, so that it is said as in the shop.

A phrase is lower case words as in the phrase book. The synthesisers read it better as a
sentence, and all of them read "thou" as the old word for "you": the shop's rhymes with "now"
but begins as in "thousandth".
"""

from __future__ import annotations

import re

QUESTIONS = frozenset({"how", "what", "what's", "where", "which", "why"})

SPELT_FOR_FLITE = {"thou": "thow"}
"""Spellings that flite's letter-to-sound rules read as /th aw/ (checked with `flite -ps`)."""

MISAKI = {"thou": "θˈW"}
"""Sounds in the notation of the Kokoro family, which hibari writes as `[word](/sounds/)`."""

ESPEAK_IPA = {"thou": "ˈθaʊ"}
"""Sounds in IPA as eSpeak NG writes them, which piper reads between double square brackets."""


def sentence(phrase: str) -> str:
    """The phrase with a capital and a full stop or question mark: it sets the melody."""
    end = "?" if phrase.split()[0] in QUESTIONS else "."
    spoken = re.sub(r"\bi\b", "I", phrase)
    return spoken[0].upper() + spoken[1:] + end


def for_flite(phrase: str) -> str:
    """The sentence in flite's spelling."""
    return _replaced(phrase, SPELT_FOR_FLITE, "{sounds}")


def for_hibari(phrase: str) -> str:
    """The sentence with hibari's inline sounds."""
    return _replaced(phrase, MISAKI, "[{word}](/{sounds}/)")


def for_piper(phrase: str) -> str:
    """The sentence with piper's inline sounds."""
    return _replaced(phrase, ESPEAK_IPA, "[[ {sounds} ]]")


def _replaced(phrase: str, sounds: dict[str, str], form: str) -> str:
    def one(match: re.Match[str]) -> str:
        word = match[0]
        known = sounds.get(word.lower())
        return form.format(word=word, sounds=known) if known else word

    return re.sub(r"[A-Za-z']+", one, sentence(phrase))

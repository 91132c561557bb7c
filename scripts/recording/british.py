"""English as it is said in the south of England, from American sounds in hibari's notation.

Only what carries the accent: r is said before a vowel alone, t stays t between vowels, and the
vowels of go, half, stop and trap. By rule, so not every word comes out as a Briton would say it.
"""

from __future__ import annotations

import re

VOWELS = "AIOQWYaæɐɑɒɔəɛɜɪiʊuʌᵊᵻ"

RULES = tuple(
    (re.compile(pattern), new)
    for pattern, new in (
        ("T", "t"),
        ("O", "Q"),
        (r"æ(?=f|s[tks]|s\b|nt\b)", "ɑː"),
        ("æ", "a"),
        ("ɜɹ", "ɜːɹ"),
        ("ɔɹ", "ɔːɹ"),
        ("ɑɹ", "ɑːɹ"),
        ("ʊɹ", "ɔːɹ"),
        ("[ɪi]ɹ", "ɪəɹ"),
        ("ɛɹ", "ɛːɹ"),
        # r that no vowel follows, in this word or the next one, is not said.
        (rf"(?<=[əː])ɹ(?!\s?[ˈˌ]?[{VOWELS}])", ""),
        (r"ɔ(?=[nfsɡ])", "ɒ"),
        (r"ɔ(?!ː)", "ɔː"),
        (r"ɑ(?!ː)", "ɒ"),
        (r"i(?=\w)", "iː"),
        (r"u(?!ː)", "uː"),
    )
)


def british(sounds: str) -> str:
    """`sounds` with the accent of southern England."""
    for pattern, new in RULES:
        sounds = pattern.sub(new, sounds)
    return sounds

"""Figures and fractions that are typed, turned into the words that would be said."""

from __future__ import annotations

import re
import unicodedata

from assistant.phrases.words import ONES, TEENS, TENS

_NUMBER = re.compile(
    r"""(?<![\w.])(?P<sign>-)?
        (?:(?:(?P<units>\d{1,6})[- ])?(?P<num>\d{1,3})/(?P<den>\d{1,3})
          |(?P<whole>\d{0,6})\.(?P<places>\d{1,6})|(?P<int>\d{1,9}))
        (?:\s*(?P<unit>"|''|inches|inch|in|mm|°|deg)(?!\w))?(?![\w.]*\d)""",
    re.VERBOSE,
)
_COMMA = re.compile(r"(?<![\w.,])(\d{0,6}),(\d{1,6})(?![\w,.]*\d)")
"""A decimal comma; with a second comma or a point in the same figures it is none."""
_METRIC_THREAD = re.compile(
    r"(?<![\w.])m(?P<size>\d+(?:\.\d+)?)(?:\s*x\s*(?P<pitch>\d+(?:\.\d+)?))?(?!\w)", re.IGNORECASE
)
_VULGAR = re.compile(r"(?:(?P<whole>\d)[ -]?)?(?P<sign>[\u00bc-\u00be\u2150-\u215e])")
"""A fraction in one character, as the screen shows it."""
_UNITS = {
    '"': "inches", "''": "inches", "in": "inches", "inch": "inches", "inches": "inches",
    "mm": "millimeters", "°": "degrees", "deg": "degrees",
}  # fmt: skip
_DENOMINATORS = {
    2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth",
    32: "thirty second", 64: "sixty fourth",
}  # fmt: skip
_APOSTROPHES = {
    word.replace("'", ""): word
    for word in (
        "that's",
        "what's",
        "it's",
        "i'm",
        "don't",
        "didn't",
        "isn't",
        "mark's",
        "cut's",
        "spindle's",
        "drill's",
        "tap's",
        "wasn't",
    )
}
_WORDS = {value: word for word, value in (ONES | TEENS | TENS).items()} | {0: "zero"}


def in_words(text: str) -> str:
    """`text` with its figures in words: `measured 1.109` -> `measured one point one zero nine`.

    Figures that can't be said so are left as they are, and then match no phrase.
    """
    text = _with_points(text)
    said = _NUMBER.sub(_say, _METRIC_THREAD.sub(_metric_thread, _VULGAR.sub(_written_out, text)))
    return " ".join(_APOSTROPHES.get(word.lower(), word) for word in said.split())


def has_comma(text: str) -> bool:
    """Whether a comma stands before a figure as a decimal point does: `0,05`, `,5`, `1,200`."""
    return re.search(r"(?<![a-z]),\d", text, re.IGNORECASE) is not None


def has_odd_comma(text: str) -> bool:
    """Whether one of these is none: `1.234,5`, `1,2,3`."""
    return has_comma(_with_points(text))


def _with_points(text: str) -> str:
    return _COMMA.sub(r"\1.\2", text)


def _written_out(match: re.Match[str]) -> str:
    """`½` as `1/2`, apart from the whole number before it."""
    fraction = unicodedata.normalize("NFKC", match["sign"]).replace("\N{FRACTION SLASH}", "/")
    return f"{match['whole']} {fraction}" if match["whole"] else fraction


def _metric_thread(match: re.Match[str]) -> str:
    """`M8x1` as it is said: m eight by one."""
    return f"m {match['size']}" + (f" by {match['pitch']}" if match["pitch"] else "")


def _say(match: re.Match[str]) -> str:
    words = _number(match)
    if not words:
        return match[0]
    sign = ["minus"] if match["sign"] else []
    unit = [_UNITS[match["unit"]]] if match["unit"] else []
    return " ".join((*sign, *words, *unit))


def _number(match: re.Match[str]) -> list[str]:
    if match["num"]:
        fraction = fraction_words(int(match["num"]), int(match["den"]))
        units = [*integer_words(match["units"]), "and"] if match["units"] else []
        return [*units, *fraction] if fraction else []
    if match["places"]:
        whole = integer_words(match["whole"]) if match["whole"] else []
        return [*whole, "point", *_figures(match["places"])]
    return integer_words(match["int"])


def integer_words(figures: str) -> list[str]:
    """A whole number in words below 1000, else figure by figure."""
    value = int(figures)
    if value >= 1000 or (figures.startswith("0") and len(figures) > 1):
        return _figures(figures)
    if value < 100:
        return _below_hundred(value)
    rest = value % 100
    return [_WORDS[value // 100], "hundred", *(["and", *_below_hundred(rest)] if rest else [])]


def _below_hundred(value: int) -> list[str]:
    if value in _WORDS:
        return [_WORDS[value]]
    return [_WORDS[value - value % 10], _WORDS[value % 10]]


def _figures(figures: str) -> list[str]:
    return [_WORDS[int(figure)] for figure in figures]


def fraction_words(numerator: int, denominator: int) -> list[str]:
    """A fraction of a rule in words, in lowest terms; empty where it is none."""
    if not 0 < numerator < denominator or denominator not in _DENOMINATORS:
        return []
    while numerator % 2 == 0 and denominator % 2 == 0:
        numerator, denominator = numerator // 2, denominator // 2
    if (numerator, denominator) == (1, 2):
        return ["a", "half"]
    name = _DENOMINATORS.get(denominator)
    if name is None:
        return []
    if numerator == 1:
        return ["an" if name == "eighth" else "a", *name.split()]
    return [*_below_hundred(numerator), *f"{name}s".split()]

